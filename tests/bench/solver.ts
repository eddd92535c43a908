import { performance } from 'node:perf_hooks';
import { solveCentre } from '../../src/trade/chain-length.ts';
import { percentile } from '../../src/trade/percentile.ts';
import { pitches, teeth } from '../../src/trade/quantity.ts';
import { runWorking } from '../../src/trade/workings.ts';

export interface BenchRow {
  what: string;
  p50: number;
  p95: number;
  unit: string;
  budget?: number;
}

const set = [
  [13, 49, 114],
  [14, 50, 112],
  [9, 60, 120],
  [17, 17, 62],
  [11, 52, 104],
] as const;

/** Times `body` in batches long enough for the clock, microseconds a call. */
function time(batches: number, size: number, body: (at: number) => void): number[] {
  return Array.from({ length: batches }, () => {
    const from = performance.now();
    for (let at = 0; at < size; at += 1) body(at);
    return ((performance.now() - from) * 1000) / size;
  });
}

const row = (what: string, samples: readonly number[], unit: string, budget?: number): BenchRow => ({
  what,
  p50: percentile(samples, 0.5),
  p95: percentile(samples, 0.95),
  unit,
  ...(budget === undefined ? {} : { budget }),
});

/** Rows for the bench table: the centre-distance solver alone, its steps, and a whole chain-cut. */
export async function rows(): Promise<BenchRow[]> {
  const solve = (at: number) => {
    const [front, rear, count] = set[at % set.length] ?? set[0];
    return solveCentre({ front: teeth(front), rear: teeth(rear) }, pitches(count));
  };
  const cut = (at: number) =>
    runWorking('chain-cut', {
      pitch: 15.875,
      old: { front: 13, rear: 49, pitches: 114, centre: 655 },
      new: { front: 13, rear: 44 + (at % 9) },
      adjuster: { min: 640, max: 690 },
      link: 'clip',
    });
  time(20, 200, solve);
  time(5, 20, cut);
  const steps: number[] = [];
  for (let front = 9; front <= 20; front += 1)
    for (let rear = 28; rear <= 60; rear += 1)
      for (let count = 90; count <= 130; count += 2)
        steps.push(solveCentre({ front: teeth(front), rear: teeth(rear) }, pitches(count)).steps);
  return [
    row('centre distance solved', time(200, 200, solve), 'µs'),
    row(`steps of the solver, ${steps.length} drives`, steps, 'steps'),
    row('chain-cut, whole working', time(100, 20, cut), 'µs', 5000),
  ];
}
