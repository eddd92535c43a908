import { execFile } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { JournalRecord } from '../../src/journal/record.ts';
import { Bench, jobOf, journalOf } from './app.ts';
import { type Hands, onShelf } from './hands.ts';
import { Mouth, type Word } from './mouth.ts';
import { type Sight, until } from './screen.ts';
import { ROOT, type Server, serve } from './server.ts';
import { NEXT, REFUSED_AT, STATIONS, startsListening, wordsFrom } from './spoken-job.ts';

// A job by voice alone, in the browser, with a sound file for a microphone; for half of it there is no network.

let server: Server;
let folder: string;
let mouth: Mouth;
beforeAll(async () => {
  server = await serve();
  folder = mkdtempSync(join(tmpdir(), 'holdfast-voice-'));
  mouth = new Mouth();
});
afterAll(async () => {
  mouth.close();
  rmSync(folder, { recursive: true, force: true });
  await server.stop();
});

/** Three timelines of a minute and more, and one spoken again where a busy machine lost a word, ms. */
const LONG = 400_000;
const OFFLINE_FROM = REFUSED_AT;

/** Holds that this job opens by their phrase. */
const BY_PHRASE = STATIONS.flatMap(([station, ...words]) => {
  const phrase = words.at(-1);
  return phrase !== NEXT &&
    phrase !== 'figure correct' &&
    !station.startsWith('look') &&
    typeof phrase === 'string'
    ? [[station, phrase] as const]
    : [];
});

/** Everything that was on the screen while it spoke, once each. */
type Seen = Map<string, Sight>;

/** Looks on while it is spoken, until the timeline is over or what is wanted is on the screen. */
async function watch(
  hands: Hands,
  ms: number,
  seen: Seen,
  done: (sight: Sight) => boolean,
): Promise<boolean> {
  const from = performance.now();
  while (performance.now() - from < ms) {
    const sight = await hands.look();
    // The level meter and the running score are no other screen.
    const { station = '', refused = '', asked } = sight.job ?? {};
    seen.set(JSON.stringify([station, refused, asked, sight.screen]), sight);
    if (done(sight)) return true;
    await hands.page.waitForTimeout(120);
  }
  return done(await hands.look());
}

const speak = async (
  hands: Hands,
  words: readonly Word[],
  seen: Seen,
  done: (sight: Sight) => boolean,
): Promise<boolean> => watch(hands, await mouth.speak(hands, words), seen, done);

/** A timeline that lost a word on a busy machine leaves the job where it was: it is taken up there, as a person does. */
const TRIES = 5;
/** Longer than the words of any one station last, ms: who sees nothing move for so long stops and begins again. */
const STILL = 30_000;

async function work(
  hands: Hands,
  to: string | null,
  seen: Seen,
  done: (sight: Sight) => boolean,
): Promise<void> {
  for (let tries = 0; tries < TRIES; tries++) {
    const { station } = await hands.atStation();
    let stands = station;
    let since = performance.now();
    let reached = false;
    const doneOrStill = (sight: Sight): boolean => {
      const { station: now = stands } = sight.job ?? {};
      if (now !== stands) since = performance.now();
      stands = now;
      reached ||= done(sight);
      return reached || performance.now() - since > STILL;
    };
    await speak(hands, wordsFrom(station, to), seen, doneOrStill);
    if (reached) return;
  }
  throw new Error(`By voice it got no further than: ${(await hands.look()).text}`);
}

const at =
  (station: string) =>
  ({ job }: Sight): boolean =>
    job?.station === station;

const awaitsWitness = (sight: Sight): boolean =>
  at('secondLook')(sight) && (sight.job?.witnesses.length ?? 0) > 0;

/** A voice does not say whose it is: the witness says who they are, shows it by keys, looks, and speaks. Whether that ended it. */
async function witnesses(hands: Hands, seen: Seen): Promise<boolean> {
  const ms = await mouth.speak(hands, ['number one', 6, 'released to the rider', NEXT]);
  let signing: Promise<void> | null = null;
  const ended = await watch(hands, ms, seen, ({ screen, job: now }) => {
    if (now?.over?.title === 'Sign on') signing ??= hands.givePin(now.over.text);
    return screen === 'end';
  });
  await signing;
  return ended;
}

const verify = (file: string): Promise<string> =>
  new Promise((resolve, reject) => {
    const args = ['--import', 'tsx', 'src/cli/verify.ts', file];
    execFile(process.execPath, args, { cwd: ROOT }, (error, out) => (error ? reject(error) : resolve(out)));
  });

const byVoice = (records: readonly JournalRecord[]) => records.filter(({ via }) => via === 'voice');

test('a job is done by voice, half of it without a network, and its record verifies', {
  timeout: LONG,
}, async () => {
  const bench = await Bench.open(server.origin, { width: 1920, height: 1200, flags: mouth.flags });
  const seen: Seen = new Map();
  try {
    const hands = await bench.hands();
    const { page } = hands;
    await startsListening(hands);
    const job = jobOf(page);
    const before = (await journalOf(page, job)).length;

    await work(hands, OFFLINE_FROM, seen, at(OFFLINE_FROM));
    await page.evaluate(async () => void (await navigator.serviceWorker.ready));
    await bench.context.setOffline(true);
    await work(hands, null, seen, awaitsWitness);

    let ended = false;
    for (let tries = 0; tries < TRIES && !ended; tries++) ended = await witnesses(hands, seen);
    expect(ended).toBe(true);
    const { end } = await until(page, 'the seal', (sight) => (sight.end?.code ?? '') !== '');
    expect(end?.outcome).toBe('✓ Complete');

    // The generic word at a hold: refused in words, on the screen and in the journal.
    const refusals = [...seen.values()].filter(at(REFUSED_AT)).map(({ job: now }) => now?.refused ?? '');
    expect(refusals.join('\n')).toMatch(/hold point: check it, then say .every line unbroken. or hold/);
    const records = await journalOf(page, job);
    expect(byVoice(records)).toContainEqual(
      expect.objectContaining({
        station: REFUSED_AT,
        outcome: 'refused',
        event: { type: 'advance' },
        reason: expect.objectContaining({ code: 'hold-needs-evidence' }),
      }),
    );

    // Nothing but the signing on came by keys, and nothing that was said was taken for anything else.
    const others = records.slice(before).filter(({ via }) => via !== 'voice');
    expect([...new Set(others.map(({ event }) => event.type))]).toEqual(['signOn']);
    const moved = byVoice(records).filter(({ outcome }) => outcome === 'accepted');
    expect([...new Set(moved.map(({ event }) => event.type))].sort()).toEqual([
      'advance',
      'callOff',
      'choose',
      'confirm',
      'reading',
      'witness',
    ]);
    for (const [station, phrase] of BY_PHRASE) {
      const opened = moved.find(
        ({ event }) =>
          event.type === 'confirm' && event.evidence.kind === 'phrase' && event.evidence.phrase === phrase,
      );
      expect(opened, station).toBeDefined();
      expect(opened?.event).toMatchObject({
        evidence: { kind: 'phrase', phrase, runnerUp: expect.any(String), runnerUpScore: expect.any(Number) },
      });
      const evidence = opened?.event.type === 'confirm' ? opened.event.evidence : null;
      const { score = 0, runnerUpScore = 1 } = evidence?.kind === 'phrase' ? evidence : {};
      expect(score).toBeGreaterThan(runnerUpScore);
      expect(score).toBeLessThanOrEqual(1);
    }
    const figures = moved.flatMap(({ event }) => (event.type === 'reading' ? [event.value] : []));
    expect(figures).toEqual([32, 90, 0.5, 30]);
    // Read back before it counted.
    const readBack = [...seen.values()]
      .filter(({ job: now }) => now?.asked?.readBack)
      .map(({ job: now }) => now?.asked?.typed);
    expect(new Set(readBack)).toEqual(new Set(['32', '90', '0.5', '30']));

    const downloading = page.waitForEvent('download');
    await hands.tap();
    const download = await downloading;
    const file = join(folder, download.suggestedFilename());
    await download.saveAs(file);
    expect(await verify(file)).toMatch(/: holds \(\d+ records, complete, sealed by /);
    expect(bench.complaints.filter((line) => !line.includes('net::ERR_'))).toEqual([]);
  } finally {
    await bench.close();
  }
});

test('the app’s own voice in the microphone moves nothing, though the app is silent', async () => {
  const bench = await Bench.open(server.origin, { width: 1920, height: 1200, flags: mouth.flags });
  const seen: Seen = new Map();
  try {
    const hands = await bench.hands();
    const { page } = hands;
    await startsListening(hands);
    const job = jobOf(page);
    const count = async () => (await journalOf(page, job)).length;

    const never = () => false;
    let before = await count();
    await speak(hands, ['app-step'], seen, never);
    expect(await count()).toBe(before);

    while (!at(REFUSED_AT)(await hands.look())) await hands.doRight();
    before = await count();
    await speak(hands, ['app-hold', 'app-refusal', 'app-wrong-phrase'], seen, never);
    expect(await count()).toBe(before);
    expect((await hands.atStation()).station).toBe(REFUSED_AT);
    // And it did listen: the phrase alone opens what the sentences around it did not.
    let opened = false;
    for (let tries = 0; tries < TRIES && !opened; tries++)
      opened = await speak(hands, ['every line unbroken'], seen, at('clipStill'));
    expect(opened).toBe(true);

    await hands.tap('Escape');
    await until(page, 'the shelf', onShelf);
  } finally {
    await bench.close();
  }
});
