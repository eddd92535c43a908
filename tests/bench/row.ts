import { percentile } from '../../src/trade/percentile.ts';

/** One line of the table. `budget` says what the 95th percentile must not exceed, in the same unit. */
export interface BenchRow {
  readonly what: string;
  readonly p50: number;
  readonly p95: number;
  readonly unit: string;
  readonly budget?: string | number;
}

/** A line made of samples. */
export function rowOf(what: string, samples: readonly number[], unit: string, budget?: string): BenchRow {
  return {
    what,
    p50: percentile(samples, 0.5),
    p95: percentile(samples, 0.95),
    unit,
    ...(budget === undefined ? {} : { budget }),
  };
}

/** Does the line keep its budget? null where it has none. */
export function keeps({ p95, budget }: BenchRow): boolean | null {
  if (budget === undefined) return null;
  const most = typeof budget === 'number' ? budget : Number(/[\d.]+/.exec(budget.replaceAll(',', ''))?.[0]);
  return Number.isFinite(most) ? p95 <= most : null;
}
