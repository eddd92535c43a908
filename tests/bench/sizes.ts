import { SHELL_BUDGET, sizesOfShell, sum } from '../whole/shell.ts';
import type { BenchRow } from './row.ts';

const kB = (bytes: number) => bytes / 1000;

const one = (what: string, bytes: number, budget?: string): BenchRow => ({
  what,
  p50: kB(bytes),
  p95: kB(bytes),
  unit: 'kB',
  ...(budget === undefined ? {} : { budget }),
});

/** What the browser has to fetch, gzipped, fonts and pictures apart. */
export async function rows(): Promise<BenchRow[]> {
  const { shell, later } = sizesOfShell();
  return [
    one('app shell: what the first screen needs', sum(shell), `≤ ${kB(SHELL_BUDGET)} kB`),
    one(`fetched in the background: ${Object.keys(later).length} files`, sum(later)),
  ];
}
