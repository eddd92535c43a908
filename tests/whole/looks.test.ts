import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import pixelmatch from 'pixelmatch';
import { PNG } from 'pngjs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { Bench } from './app.ts';
import { axeFinds } from './axe.ts';
import type { Hands } from './hands.ts';
import { painted, until } from './screen.ts';
import { ROOT, type Server, serve } from './server.ts';

/*
 * What the key screens look like, on a ten-inch tablet lying and standing, by day and by night, held against pictures
 * that are kept. `LOOKS=keep` takes the pictures anew: look at them before they are committed. A browser of another main
 * version draws letters a little otherwise; then the pictures are not compared, and the test says so.
 */

const FOLDER = join(ROOT, 'assets/looks');
const KEEP = process.env.LOOKS === 'keep';
/** Part of the pixels that may differ: a few edges of letters, no word. */
const TOLERANCE = 0.002;
const MOST_BYTES = 1_500_000;

const SIZES = [
  { name: 'lying', width: 1280, height: 800 },
  { name: 'standing', width: 800, height: 1280 },
] as const;

let server: Server;
let bench: Bench;
let hands: Hands;
let comparable = true;

beforeAll(async () => {
  server = await serve();
  bench = await Bench.open(server.origin);
  hands = await bench.hands();
  const version = bench.context.browser()?.version().split('.')[0] ?? '';
  const kept = join(FOLDER, 'chromium');
  if (KEEP) {
    mkdirSync(FOLDER, { recursive: true });
    writeFileSync(kept, `${version}\n`);
  }
  comparable = existsSync(kept) && readFileSync(kept, 'utf8').trim() === version;
  if (!comparable)
    process.stderr.write(
      `The pictures were taken with another Chromium than ${version}: they are not compared.\n`,
    );
}, 240_000);
afterAll(async () => {
  await bench.close();
  await server.stop();
});

/** Screens of which pictures are kept: one of each kind of page. The others are only looked over by axe. */
const PICTURES: readonly string[] = ['kit', 'fork', 'round', 'refused', 'figure'];

/** Takes one screen in both sizes and themes: axe finds nothing, and it looks as it did. */
async function looksAsKept(name: string): Promise<void> {
  const { page } = hands;
  const faults: string[] = [];
  for (const { name: size, width, height } of SIZES) {
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.setViewportSize({ width, height });
      await page.emulateMedia({ colorScheme });
      await painted(page);
      faults.push(...(await axeFinds(page)).map((fault) => `${name} ${size} ${colorScheme}: ${fault}`));
      if (!PICTURES.includes(name)) continue;
      // Times of day and days differ from run to run.
      const mask = [page.locator('time'), page.locator('.options small'), page.locator('.code')];
      const shot = await page.screenshot({ mask, maskColor: '#808080' });
      faults.push(...compared(`${name}-${size}-${colorScheme}`, shot));
    }
  }
  const [{ width, height }] = SIZES;
  await page.setViewportSize({ width, height });
  await page.emulateMedia({ colorScheme: 'light' });
  await painted(page);
  expect(faults).toEqual([]);
}

/** Half as wide and high: four pixels make one. A quarter of the size, and edges of letters that differ weigh less. */
function halved(picture: PNG): PNG {
  const half = new PNG({ width: picture.width >> 1, height: picture.height >> 1 });
  for (let y = 0; y < half.height; y++) {
    for (let x = 0; x < half.width; x++) {
      for (let channel = 0; channel < 4; channel++) {
        const at = (dx: number, dy: number) =>
          picture.data[((2 * y + dy) * picture.width + 2 * x + dx) * 4 + channel] ?? 0;
        half.data[(y * half.width + x) * 4 + channel] = (at(0, 0) + at(1, 0) + at(0, 1) + at(1, 1)) >> 2;
      }
    }
  }
  return half;
}

function compared(name: string, shot: Buffer): string[] {
  const file = join(FOLDER, `${name}.png`);
  const now = halved(PNG.sync.read(shot));
  if (KEEP) {
    writeFileSync(file, PNG.sync.write(now, { colorType: 2, deflateLevel: 9 }));
    return [];
  }
  if (!comparable) return [];
  if (!existsSync(file)) return [`${name}: no picture is kept`];
  const kept = PNG.sync.read(readFileSync(file));
  if (kept.width !== now.width || kept.height !== now.height) return [`${name}: another size`];
  const differ = pixelmatch(kept.data, now.data, undefined, now.width, now.height, { threshold: 0.15 });
  const part = differ / (now.width * now.height);
  return part > TOLERANCE ? [`${name}: ${(part * 100).toFixed(2)} % of the picture differ`] : [];
}

/** Works on, doing everything right, until a station of this kind is on the screen. */
async function workTo(kind: string, wanted: { hold?: boolean; asked?: boolean } = {}): Promise<void> {
  for (let turn = 0; turn < 80; turn++) {
    const sight = await hands.atStation();
    const right =
      sight.kind === kind &&
      (wanted.asked === undefined || (sight.asked !== null) === wanted.asked) &&
      !sight.over;
    if (right) return;
    await hands.doRight();
  }
  throw new Error(`No ${kind} was met.`);
}

describe('looks', () => {
  test('the first start', () => looksAsKept('welcome'));

  test('the shelf', async () => {
    await hands.loadDemo();
    await looksAsKept('shelf');
  });

  test('the card held to the screen', async () => {
    await hands.take(/^Set the reading distance/);
    await until(hands.page, 'the card', ({ text }) => /outline as wide/.test(text));
    await looksAsKept('card');
    await hands.tap('Escape');
  });

  test('the kit', async () => {
    await hands.startJob(/^Renew/, /^Road machine 7/, /Nora/);
    await workTo('kit');
    await looksAsKept('kit');
  });

  test('a fork', async () => {
    await workTo('fork');
    await looksAsKept('fork');
  });

  test('a round', async () => {
    await workTo('round');
    await looksAsKept('round');
  });

  test('a hold point, its refusal, its why', async () => {
    await workTo('hold');
    await looksAsKept('hold');
    await hands.tap();
    await until(hands.page, 'the refusal', (now) => now.job?.refused !== '');
    await looksAsKept('refused');
    await hands.tap('w');
    await looksAsKept('why');
    await hands.tap('w');
  });

  test('a hold point that opens for a figure', async () => {
    await workTo('hold', { asked: true });
    await looksAsKept('figure');
  });

  test('the drawing, shown large', async () => {
    for (let turn = 0; turn < 60; turn++) {
      const { offers } = await hands.atStation();
      if (offers.some(({ press }) => press === 'G')) break;
      await hands.doRight();
    }
    await hands.tap('g');
    await looksAsKept('drawing');
    await hands.tap('g');
  });

  test('the pictures stay small', () => {
    const bytes = readdirSync(FOLDER).map((name) => statSync(join(FOLDER, name)).size);
    expect(bytes.reduce((sum, size) => sum + size, 0)).toBeLessThan(MOST_BYTES);
  });
});
