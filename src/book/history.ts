import { type Interval, percentile, wilson } from '../trade/percentile.ts';
import type { Digest } from './digest.ts';
import { firstVerdicts } from './verdicts.ts';

/** What a station usually takes, from finished jobs of the same procedure. Times in ms. */
export interface StationHistory {
  readonly jobs: number;
  readonly median: number;
  readonly p80: number;
}

/** Only jobs that were done to the end say how long a station takes. */
const finished = (digests: readonly Digest[], procedure: string) =>
  digests.filter(({ outcome, definition }) => outcome === 'complete' && definition.id === procedure);

/**
 * Median and 80th percentile (linear interpolation, Hyndman and Fan type 7) of the time at each station over the
 * finished jobs of a procedure, all revisions; `but` leaves out the job that is held against them.
 */
export function stationHistory(
  digests: readonly Digest[],
  procedure: string,
  but?: string,
): ReadonlyMap<string, StationHistory> {
  const times = new Map<string, number[]>();
  for (const digest of finished(digests, procedure)) {
    if (digest.job === but) continue;
    for (const [station, ms] of digest.times.stations) {
      const all = times.get(station);
      if (all) all.push(ms);
      else times.set(station, [ms]);
    }
  }
  return new Map(
    [...times].map(([station, all]) => [
      station,
      { jobs: all.length, median: percentile(all, 0.5), p80: percentile(all, 0.8) },
    ]),
  );
}

/** How often a hold point was passed when it was first looked at. */
export interface FirstPass {
  readonly procedure: string;
  readonly title: string;
  readonly station: string;
  readonly says: string;
  /** Jobs in which it was decided on, and in how many the first verdict was that it is passed. */
  readonly jobs: number;
  readonly passed: number;
  readonly conceded: number;
  /** Wilson score limits of the rate, 95 %. */
  readonly limits: Interval;
}

/** First-pass rates of all hold points in these jobs, open and stopped ones included: a failed hold counts there too. */
export function firstPassRates(digests: readonly Digest[]): FirstPass[] {
  const rates = new Map<string, Omit<FirstPass, 'limits'>>();
  for (const { definition, verdicts } of digests) {
    for (const [station, what] of firstVerdicts(verdicts)) {
      const key = `${definition.id} ${station}`;
      const meta = definition.states[station]?.meta;
      const before = rates.get(key);
      rates.set(key, {
        procedure: definition.id,
        title: definition.meta.title,
        station,
        says: meta?.say ?? station,
        jobs: (before?.jobs ?? 0) + 1,
        passed: (before?.passed ?? 0) + (what === 'passed' ? 1 : 0),
        conceded: (before?.conceded ?? 0) + (what === 'conceded' ? 1 : 0),
      });
    }
  }
  return [...rates.values()].map((rate) => ({ ...rate, limits: wilson(rate.passed, rate.jobs) }));
}
