import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type BrowserContext, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import recheck from '../../procedures/final-drive-recheck/index.ts';
import { demoWorkshopAt } from '../../seeds/demo.ts';
import { OfficeProcess } from '../office/office-process.ts';
import { chromiumArgs, chromiumPath } from '../tools/chromium.ts';
import { Bench, jobOf, journalOf } from './app.ts';
import type { Hands } from './hands.ts';
import { until } from './screen.ts';
import { BUILT } from './server.ts';

// Two benches and the office, each in a browser of its own, the office as anybody would start it.

let folder: string;
let office: OfficeProcess;
let desk: Page;
let first: { bench: Bench; hands: Hands };
let second: { bench: Bench; hands: Hands };
const closing: (() => Promise<unknown>)[] = [];

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'holdfast-office-'));
  office = await OfficeProcess.start({ folder, build: BUILT.length === 0 });
  desk = await deskPage();
  await desk.goto(await office.deskLink());
  await desk.getByLabel('Name of this desk').fill('Desk 1');
  await desk.getByRole('button', { name: 'Let this desk in' }).click();
  await desk.getByText('Nobody is at work').waitFor();
  expect(desk.url()).not.toContain('code=');
  first = await joinedBench(desk, 'Bench 1');
  second = await joinedBench(desk, 'Bench 2');
});
afterAll(async () => {
  for (const close of closing.reverse()) await close();
  await office.end('SIGTERM');
  rmSync(folder, { recursive: true, force: true });
});

async function deskPage(): Promise<Page> {
  const browser = await chromium.launch({ executablePath: chromiumPath(), args: [...chromiumArgs] });
  closing.push(() => browser.close());
  const context: BrowserContext = await browser.newContext({ acceptDownloads: true });
  // The browser's own dialog for a place on the disk cannot be driven: without it the page takes the way of downloads.
  await context.addInitScript(() => {
    Reflect.deleteProperty(window, 'showSaveFilePicker');
  });
  return context.newPage();
}

/** The link that enrols a new bench, from the desk's page. */
async function invitation(desk: Page, name: string): Promise<string> {
  await desk.getByRole('button', { name: 'Devices' }).click();
  await desk.getByLabel('Name of the new bench').fill(name);
  await desk.locator('#new-bench').click();
  const shown = desk.locator('.code');
  await shown.filter({ hasText: encodeURIComponent(name) }).waitFor();
  return new URL((await shown.textContent())?.trim() ?? '').hash;
}

async function joinedBench(desk: Page, name: string): Promise<{ bench: Bench; hands: Hands }> {
  // Chromium's own made-up camera: the stream, the picture and its bytes are real.
  const flags = ['--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream'];
  const bench = await Bench.open(office.origin, { flags });
  closing.push(() => bench.close());
  const hands = await bench.hands({}, await invitation(desk, name));
  await hands.loadDemo();
  expect(hands.page.url()).not.toContain('office=');
  await hands.take(/^The office/);
  await until(
    hands.page,
    'who this bench is',
    ({ heading, text }) => heading === 'The office' && text.includes(name),
  );
  await hands.tap('Escape');
  await until(hands.page, 'the shelf', ({ heading }) => heading === 'Low Fold Riding School');
  return { bench, hands };
}

/** The office is away for a while, and both benches bring the same jobs of the demo. */
const expected = /ERR_CONNECTION_REFUSED|409 \(Conflict\)/;
const row = (desk: Page, job: string) => desk.locator(`tr[data-job="${job}"]`);

test('a job begun at one bench, paused and taken over at another, is followed at the desk to its record', async () => {
  await first.hands.startJob(/^Renew chain and sprockets/, /^School machine 1/, /mechanic/);
  await first.hands.doRight();
  const job = jobOf(first.hands.page);
  await desk.getByRole('button', { name: 'At the benches' }).click();
  await row(desk, job).getByText('At work').waitFor({ timeout: 30_000 });
  expect(await row(desk, job).textContent()).toContain('Bench 1');

  // The office is away for a while: the bench works on.
  await office.end('SIGKILL');
  await first.hands.doRight();
  await first.hands.tap('KeyP');
  await until(first.hands.page, 'the pause', (sight) => sight.job?.over?.title === 'Paused');
  await office.begin();
  await row(desk, job).getByText('Paused').waitFor({ timeout: 60_000 });
  const before = await journalOf(first.hands.page, job);

  await second.hands.take(/^The office/);
  await second.hands.take(/Renew chain and sprockets, School machine 1/);
  const there = await second.hands.atStation();
  expect(there.over?.title).toBe('Paused');
  expect(await journalOf(second.hands.page, job)).toEqual(before);
  await second.hands.tap();
  await row(desk, job).getByText('Bench 2').waitFor({ timeout: 30_000 });

  // The old bench hears of it, and does not go on.
  await first.hands.tap('Escape');
  await until(
    first.hands.page,
    'the job at another bench',
    ({ options }) => options.some(({ text }) => /School machine 1/.test(text)),
    30_000,
  );
  // A machine that is slow may open the job before the office has answered, and learns of it in the next round.
  for (let tries = 0; tries < 5; tries++) {
    await first.hands.take(/School machine 1/);
    const { screen } = await until(
      first.hands.page,
      'the job, or why not',
      (sight) => sight.screen === 'job' || /Another bench goes on/.test(sight.text),
    );
    if (screen !== 'job') break;
    await first.hands.tap('Escape');
    await until(first.hands.page, 'the shelf', ({ heading }) => heading === 'Low Fold Riding School');
  }
  expect((await first.hands.look()).text).toContain('Another bench goes on');

  await desk.getByRole('button', { name: 'Record book' }).click();
  await row(desk, job).getByText('Open').waitFor();
  const downloading = desk.waitForEvent('download');
  await desk.getByRole('button', { name: 'Save as a table' }).click();
  const table = join(folder, 'jobs.csv');
  await (await downloading).saveAs(table);
  expect(readFileSync(table, 'utf8')).toContain(job);
  await desk.getByRole('button', { name: 'Figures' }).click();
  await desk.getByText('Time at each station').waitFor();

  for (const { bench } of [first, second])
    expect(bench.complaints.splice(0).filter((one) => !expected.test(one))).toEqual([]);
});

const titled = (hands: Hands, title: RegExp) =>
  until(hands.page, String(title), ({ job }) => title.test(job?.over?.title ?? ''));

async function answer(hands: Hands, question: RegExp, wanted: RegExp): Promise<void> {
  const { job } = await titled(hands, question);
  const line = job?.over?.options.find(({ text }) => wanted.test(text));
  if (!line) throw new Error(`No ${wanted} in: ${job?.over?.options.map(({ text }) => text).join(' | ')}`);
  await hands.tap(`Digit${line.number}`);
}

/** The PIN that was set at the desk: a published workshop has no hint that tells it. */
const PIN = '2468';
async function givePin(hands: Hands): Promise<void> {
  await hands.type(PIN);
  await hands.tap('Enter');
}

/** Has the bench ask its office now, and waits until the list says so. */
async function heardOfOffice(hands: Hands): Promise<void> {
  await hands.take(/^The office/);
  await hands.take(/^Try now/);
  await hands.tap('Escape');
  await until(hands.page, 'the shelf', ({ heading }) => heading === 'Low Fold Riding School');
}

/** Publishes a file at the desk, as the supervisor chooses it. */
async function publish(field: RegExp, name: string, value: unknown): Promise<void> {
  const file = join(folder, name);
  writeFileSync(file, JSON.stringify(value));
  await desk.getByLabel(field).setInputFiles(file);
  await desk.getByText(`${name} is published`).waitFor();
}

test('a photo is seen at the desk, a published procedure is begun at a bench, and who is shut out is refused', async () => {
  const { hands } = first;
  await hands.tap('Escape');
  await until(hands.page, 'the shelf', ({ heading }) => heading === 'Low Fold Riding School');
  await desk.getByRole('button', { name: 'Devices' }).click();
  const { hint: _, ...workshop } = demoWorkshopAt(Date.now());
  await publish(/^Workshop/, 'workshop.json', workshop);
  const title = 'Look again at the final drive, as the office has it';
  const published = { ...recheck, meta: { ...recheck.meta, title, revision: recheck.meta.revision + 40 } };
  await publish(/^Procedure/, 'procedure.json', published);

  // A photo of what is wrong, taken at the bench.
  await hands.startJob(/^Renew chain/, /^School machine 1/, /Tomas/);
  const job = jobOf(hands.page);
  await hands.tap('KeyT');
  await answer(hands, /^What is wrong/, /^A part is damaged/);
  await answer(hands, /What is decided/, /photo/i);
  await until(hands.page, 'the photo', ({ job: sight }) => /1 file kept/.test(sight?.over?.title ?? ''));
  await desk.getByRole('button', { name: 'Record book' }).click();
  const show = row(desk, job).getByRole('button', { name: 'Show 1' });
  // Records come first, the photo a moment later.
  for (let tries = 0; tries < 60 && !(await show.isVisible()); tries++) {
    await desk.getByRole('button', { name: 'Look', exact: true }).click();
    await desk.waitForTimeout(500);
  }
  await show.click();
  const photo = desk.locator('hf-office-files img');
  await photo.waitFor();
  expect(
    await photo.evaluate((image: HTMLImageElement) => image.decode().then(() => image.naturalWidth)),
  ).toBeGreaterThan(100);

  // Whoever is shut out goes on with nothing; the job waits for somebody else.
  await desk.getByRole('button', { name: 'Devices' }).click();
  const ilse = desk.locator('tr[data-person="w-ilse"]');
  await ilse.getByRole('button', { name: 'Set a PIN' }).click();
  await ilse.getByLabel(/^PIN of Ilse/).fill(PIN);
  await ilse.getByRole('button', { name: 'Set it' }).click();
  await ilse.getByRole('button', { name: 'Set another PIN' }).waitFor();
  const tomas = desk.locator('tr[data-person="w-tomas"]');
  await tomas.getByRole('button', { name: 'Shut out' }).click();
  await tomas.getByLabel('Why').fill('Left the workshop');
  await tomas.getByRole('button', { name: 'Shut out' }).click();
  await tomas.getByText('shut out').waitFor();
  await until(hands.page, 'the pause', ({ job: sight }) => sight?.over?.title === 'Paused', 40_000);
  await hands.tap();
  await until(hands.page, 'why not', ({ text }) => text.includes('Tomas Reedle was shut out'));
  await hands.tap('Digit1');
  await answer(hands, /^Who goes on/, /Ilse/);
  await titled(hands, /^Sign on/);
  await givePin(hands);
  await titled(hands, /^Paused/);
  await hands.tap();
  await until(hands.page, 'the job again', ({ job: sight }) => sight?.over?.title !== 'Paused');
  expect((await journalOf(hands.page, job)).filter(({ by }) => by === 'w-tomas').at(-1)).toMatchObject({
    event: { type: 'pause' },
    via: 'clock',
  });

  // The other bench begins a job by what was published; the person is refused there too.
  const other = second.hands;
  await other.tap('KeyP');
  await other.tap('Escape');
  await until(other.page, 'the shelf', ({ heading }) => heading === 'Low Fold Riding School');
  await heardOfOffice(other);
  await other.take(/^Start a job/);
  await other.take(/as the office has it/);
  await other.take(/^Trail machine 4/);
  await other.take(/Tomas/);
  await until(other.page, 'why not', ({ text }) => text.includes('Tomas Reedle was shut out'));
  await other.take(/Ilse/);
  await until(other.page, 'the PIN', ({ screen }) => screen === 'pin');
  await givePin(other);
  await other.atStation();
  const [opened] = await journalOf(other.page, jobOf(other.page));
  expect(opened?.event).toMatchObject({
    type: 'job.opened',
    procedure: { id: recheck.id, meta: { title, revision: recheck.meta.revision + 40 } },
  });
  for (const { bench } of [first, second])
    expect(bench.complaints.filter((one) => !expected.test(one))).toEqual([]);
});
