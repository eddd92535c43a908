import { performance } from 'node:perf_hooks';
import type { Definition } from '../../src/procedure/definition.ts';
import { checkProcedure } from '../../src/procedure/proof/findings.ts';
import { percentile } from '../../src/trade/percentile.ts';
import { generate, tangle } from '../procedure/generate.ts';

export interface BenchRow {
  what: string;
  p50: number;
  p95: number;
  unit: string;
  budget?: string;
}

const SIZES = [10, 30, 100, 300, 1000];

function timed(what: string, made: readonly Definition[], rounds: number, budget?: string): BenchRow {
  let combinations = 0;
  const samples = Array.from({ length: rounds }).flatMap(() =>
    made.map((definition) => {
      const from = performance.now();
      const { findings, proof } = checkProcedure(definition);
      const took = performance.now() - from;
      if (findings.length > 0 || !proof) throw new Error(`${definition.id} has findings: nothing to time.`);
      combinations = Math.max(combinations, proof.combinations);
      return took;
    }),
  );
  return {
    what: `${what} (${combinations} combinations at most)`,
    p50: percentile(samples, 0.5),
    p95: percentile(samples, 0.95),
    unit: 'ms',
    ...(budget === undefined ? {} : { budget }),
  };
}

function grown(stations: number, facts?: number): BenchRow {
  const made = [1, 2, 3].map((seed) =>
    generate({ stations, seed, ...(facts === undefined ? {} : { facts }) }),
  );
  const forks = facts === undefined ? 'a fact for each fork' : `${facts} facts for all forks`;
  const budget = stations === 100 ? '≤ 1000' : undefined;
  return timed(`check ${stations} stations, ${forks}`, made, stations > 200 ? 3 : 7, budget);
}

/**
 * Rows for the bench table: how long the check takes as procedures grow, and in the hardest case, where a way back to
 * the middle ties all forks together and their combinations multiply.
 */
export async function rows(): Promise<BenchRow[]> {
  timed('warm up', [generate({ stations: 100, seed: 9 })], 10);
  return [
    ...SIZES.map((stations) => grown(stations)),
    ...SIZES.map((stations) => grown(stations, 6)),
    ...[4, 8, 12].map((forks) => timed(`check ${forks} forks that no gate parts`, [tangle(forks)], 3)),
  ];
}
