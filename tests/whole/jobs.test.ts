import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { JournalRecord } from '../../src/journal/record.ts';
import { Bench, jobOf, journalOf } from './app.ts';
import type { Hands, Knowledge } from './hands.ts';
import { type JobSight, until } from './screen.ts';
import { ROOT, type Server, serve } from './server.ts';

// A newcomer's whole day: first start, demo workshop, a job from the lists to the last hold point, stopped half-way and
// taken up again, its record saved and verified by the command that anyone else would use.

let server: Server;
let folder: string;

beforeAll(async () => {
  server = await serve();
  folder = mkdtempSync(join(tmpdir(), 'holdfast-records-'));
});
afterAll(async () => {
  await server.stop();
  rmSync(folder, { recursive: true, force: true });
});

interface Script {
  readonly says: string;
  /** How the tablet hangs, pixels. */
  readonly screen: { readonly width: number; readonly height: number };
  readonly machine: RegExp;
  readonly person: RegExp;
  readonly knows: Knowledge;
  /** Hold points that such a job must at least have met. */
  readonly meets: readonly string[];
  readonly witnessed: boolean;
}

const scripts: readonly Script[] = [
  {
    says: 'a clip link, by an apprentice with a witness, on a tablet that stands',
    screen: { width: 800, height: 1280 },
    machine: /^School machine 1/,
    person: /apprentice/,
    knows: {},
    meets: ['clipWay', 'clipSeated', 'plateHome', 'secondLook'],
    witnessed: true,
  },
  {
    says: 'a riveted link on a sealed chain, by a mechanic',
    screen: { width: 1280, height: 800 },
    machine: /^Trail machine 4/,
    person: /Ilse Marrok/,
    knows: {},
    meets: ['sealsPlaced', 'acrossFirst', 'acrossSecond', 'plateHome', 'secondLook'],
    witnessed: false,
  },
];

const named = scripts.map((script) => [script.says, script] as const);

/** What the person at the keys met on the way. */
interface Log {
  readonly holds: Set<string>;
  readonly witnessed: Set<string>;
  steps: number;
}

/** At every hold, once: the key that means "go on" is refused, in words, and the screen stays where it is. */
async function triesToPass(hands: Hands, sight: JobSight): Promise<void> {
  await hands.tap();
  const { job } = await until(hands.page, 'the refusal', (now) => now.job?.refused !== '');
  expect(job?.station).toBe(sight.station);
  expect(job?.refused).toMatch(
    sight.asked
      ? /opens only for a figure: measure .+ and give the reading\./
      : /hold point: check it, then say ".+" or hold the pedal down\./,
  );
}

/** Works on until `done`, doing everything right but for one tap at each hold. */
async function work(hands: Hands, log: Log, done: (sight: JobSight) => boolean): Promise<void> {
  for (;;) {
    if ((await hands.look()).screen === 'end') return;
    const job = await hands.readAll();
    if (done(job)) return;
    expect(job.fault).toBe('');
    if (++log.steps > 400) throw new Error(`Still at ${job.station}.`);
    if (job.hold && job.witnesses.length > 0) log.witnessed.add(job.station);
    if (job.hold && !log.holds.has(job.station)) {
      log.holds.add(job.station);
      await triesToPass(hands, job);
    }
    await hands.doRight();
  }
}

const placeIn = ({ place }: JobSight): number => {
  const [at = 0, of = 1] = (place.match(/\d+/g) ?? []).map(Number);
  return at / of;
};

interface Verified {
  readonly code: number;
  readonly out: string;
}

const verify = (...files: string[]): Promise<Verified> =>
  new Promise((resolve) => {
    const args = ['--import', 'tsx', 'src/cli/verify.ts', ...files];
    execFile(process.execPath, args, { cwd: ROOT }, (error, out) =>
      resolve({ code: error === null ? 0 : Number(error.code), out }),
    );
  });

const refusedHolds = (records: readonly JournalRecord[]): string[] => [
  ...new Set(
    records
      .filter(({ outcome, event, reason }) => {
        const byHold = reason?.code === 'hold-needs-evidence' || reason?.code === 'hold-needs-figure';
        return outcome === 'refused' && event.type === 'advance' && byHold;
      })
      .map(({ station }) => station),
  ),
];

describe.concurrent('from the first start to a record that verifies', () => {
  test.each(named)('%s', async (_, { screen, machine, person, knows, meets, witnessed }) => {
    const bench = await Bench.open(server.origin, screen);
    try {
      let hands = await bench.hands(knows);
      await hands.loadDemo();
      await hands.startJob(/^Renew chain and sprockets/, machine, person);
      const job = jobOf(hands.page);
      const log: Log = { holds: new Set(), witnessed: new Set(), steps: 0 };

      // Half-way the telephone rings.
      await work(hands, log, (sight) => placeIn(sight) >= 0.5);
      const left = await hands.atStation();
      await hands.tap('KeyP');
      await until(hands.page, 'paused', ({ job: now }) => now?.over?.title === 'Paused');
      await hands.page.close();
      hands = await bench.hands(knows, `#job=${job}`);
      const back = await hands.atStation();
      expect(back.station).toBe(left.station);
      expect(back.over?.title).toBe('Paused');

      await work(hands, log, () => false);
      const { end } = await until(hands.page, 'the seal', (sight) => (sight.end?.code ?? '') !== '');
      expect(end?.outcome).toBe('✓ Complete');
      expect(end?.holds).toHaveLength(log.holds.size);
      expect([...log.holds]).toEqual(expect.arrayContaining([...meets]));
      expect(log.witnessed.size > 1).toBe(witnessed);

      const downloading = hands.page.waitForEvent('download');
      await hands.tap();
      const download = await downloading;
      const file = join(folder, download.suggestedFilename());
      await download.saveAs(file);
      await until(
        hands.page,
        'where it was saved',
        (sight) => sight.end?.saved.includes(download.suggestedFilename()) === true,
      );

      const journal = await journalOf(hands.page, job);
      const bytes = readFileSync(file);
      const lines = bytes.toString('utf8').trimEnd().split('\n');
      expect(lines).toHaveLength(journal.length + 1);
      expect(lines.slice(0, -1).map((line) => JSON.parse(line))).toEqual(journal);
      expect(refusedHolds(journal).sort()).toEqual([...log.holds].sort());
      expect(end?.code.replaceAll(' ', '')).toBe(journal.at(-1)?.hash.slice(0, 12));

      expect(await verify(file)).toEqual({
        code: 0,
        out: expect.stringMatching(/: holds \(\d+ records, complete, sealed by /),
      });

      // One bit of one byte, at four places between the first record and the seal.
      const damaged = [0.02, 0.4, 0.8, 0.999].map((part) => {
        const name = `${file}-${part}`;
        const copy = Buffer.from(bytes);
        const at = Math.floor(part * (copy.length - 2));
        copy[at] = (copy[at] ?? 0) ^ 1;
        writeFileSync(name, copy);
        return name;
      });
      const refused = await verify(...damaged);
      expect(refused.code).toBe(1);
      for (const name of damaged) expect(refused.out).toContain(`${name}:`);
      expect(refused.out).not.toContain('holds (');
      expect(bench.complaints).toEqual([]);
    } finally {
      await bench.close();
    }
  });
});
