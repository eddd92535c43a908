import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { JournalRecord } from '../../src/journal/record.ts';
import { Bench, jobOf, journalOf } from './app.ts';
import { notInJournal, type Shown, watchShown } from './shown.ts';

/** What came of killing the browser again and again in one job. */
export interface Kills {
  readonly kills: number;
  /** States of the job that had been painted, over all runs. */
  readonly shown: number;
  /** Those of them whose record was not there after the restart. */
  readonly lost: readonly Shown[];
  /** Records written that the screen had not shown yet when the browser died. */
  readonly ahead: number;
  /** Restarts after which the bench did not stand where the journal ends, or told of a fault. */
  readonly astray: readonly string[];
  /** Restarts after which records that were there before had gone or changed. */
  readonly changed: readonly number[];
  readonly records: readonly JournalRecord[];
  readonly complaints: readonly string[];
}

/** Park and Miller's generator, 0 to 1: the same seed kills at the same instants. */
export function seeded(seed: number): () => number {
  let state = seed % 2147483647 || 1;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

const exited = async (pid: number): Promise<void> => {
  for (let tries = 0; tries < 500; tries++) {
    try {
      process.kill(pid, 0);
    } catch {
      return;
    }
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
  throw new Error(`Process ${pid} lives on after SIGKILL.`);
};

/** Where in the work it dies: anywhere in some three seconds; about when a record is written; just after it was shown. */
const AT = ['any time', 'release', 'shown'] as const;

/** Does a job by keys, and kills the browser (SIGKILL of its own process) `times` times on the way. */
export async function killRun(origin: string, times: number, seed: number): Promise<Kills> {
  const profile = mkdtempSync(join(tmpdir(), 'holdfast-kill-'));
  const random = seeded(seed);
  const lost: Shown[] = [];
  const astray: string[] = [];
  const changed: number[] = [];
  const complaints: string[] = [];
  let records: readonly JournalRecord[] = [];
  let shown: Shown[] = [];
  let shownInAll = 0;
  let ahead = 0;
  let last = -1;
  let hash = '';
  let living: Bench | null = null;
  let onShown: () => void = () => undefined;

  /** Opens the browser again and holds what it finds against what was seen before it died. */
  async function open(kills: number): Promise<{ bench: Bench; hands: Awaited<ReturnType<Bench['hands']>> }> {
    const bench = await Bench.open(origin, { profile });
    living = bench;
    const before = shown;
    shown = [];
    await watchShown(bench.context, (one) => {
      shown.push(one);
      onShown();
    });
    const hands = await bench.hands({}, hash);
    if (hash === '') {
      await hands.loadDemo();
      await hands.startJob(/^Renew chain and sprockets/, /^Trail machine 4/, /Tomas Reedle/);
      hash = `#job=${jobOf(hands.page)}`;
    }
    const sight = await hands.atStation();
    const now = await journalOf(hands.page, jobOf(hands.page));
    if (JSON.stringify(now.slice(0, records.length)) !== JSON.stringify(records)) changed.push(kills);
    const checked = notInJournal(before, now, last);
    lost.push(...checked.missing);
    shownInAll += before.length;
    const accepted = now.filter(({ outcome }) => outcome === 'accepted');
    if (kills > 0) ahead += accepted.filter(({ seq }) => seq > checked.last).length;
    last = accepted.at(-1)?.seq ?? 0;
    records = now;
    if (sight.fault !== '' || sight.station !== now.at(-1)?.station)
      astray.push(`${sight.station} instead of ${now.at(-1)?.station}. ${sight.fault}`);
    return { bench, hands };
  }

  try {
    for (let kills = 0; kills < times; kills++) {
      const { bench, hands } = await open(kills);
      const pid = await bench.pid();
      const gone = bench.context.waitForEvent('close', { timeout: 30_000 });
      let killed = false;
      const kill = () => {
        if (killed) return;
        killed = true;
        process.kill(pid, 'SIGKILL');
      };
      const steps = 1 + Math.floor(random() * 3);
      const part = random();
      const at = AT[kills % AT.length];
      if (at === 'any time') setTimeout(kill, part * 3000);
      const work = async () => {
        for (let step = 1; !killed; step++) {
          if (step > steps && at === 'release') hands.onRelease = () => setTimeout(kill, part * 15);
          if (step > steps && at === 'shown') onShown = () => setTimeout(kill, part * 10);
          await hands.doRight();
        }
      };
      await work().catch((error: unknown) => {
        if (!killed) throw error;
      });
      await gone;
      await exited(pid);
      living = null;
      onShown = () => undefined;
      complaints.push(...bench.complaints);
    }
    const { bench, hands } = await open(times);
    await hands.doRight();
    records = await journalOf(hands.page, jobOf(hands.page));
    complaints.push(...bench.complaints);
  } finally {
    await (living as Bench | null)?.close();
    rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
  }
  return { kills: times, shown: shownInAll, lost, ahead, astray, changed, records, complaints };
}
