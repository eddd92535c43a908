import { phoneDistance } from './distance.ts';
import { BLANK, PHONES } from './phones.ts';

/** Reads the phones straight off the model's columns: the likeliest output of each, repeats and blanks dropped. */
export function transcribe(columns: Iterable<Float32Array>): number[] {
  const out: number[] = [];
  let last = BLANK;
  for (const scores of columns) {
    let best = BLANK;
    for (let i = 0; i < scores.length; i++) if ((scores[i] as number) > (scores[best] as number)) best = i;
    if (best !== BLANK && best !== last) out.push(best);
    last = best;
  }
  return out;
}

const cost = (a: number, b: number) => phoneDistance(PHONES[a - 1] ?? '', PHONES[b - 1] ?? '');

/**
 * Turns a person's take of a phrase into that person's way of saying it: the phones heard, shared out among the phrase's
 * words by the cheapest alignment. Null where the take is so unlike the phrase that it was something else or noise.
 */
export function wayOfSaying(
  words: readonly (readonly number[])[],
  heard: readonly number[],
  furthest = 0.55,
): number[][] | null {
  const wanted = words.flat();
  const owner = words.flatMap((w, i) => w.map(() => i));
  const rows: number[][] = [Array.from({ length: heard.length + 1 }, (_, j) => j)];
  for (const [i, p] of wanted.entries()) {
    const row = [i + 1];
    const above = rows[i] ?? [];
    for (const [j, q] of heard.entries()) {
      row.push(Math.min((above[j] ?? 0) + cost(p, q), (above[j + 1] ?? 0) + 1, (row[j] ?? 0) + 1));
    }
    rows.push(row);
  }
  const total = rows[wanted.length]?.[heard.length] ?? Number.POSITIVE_INFINITY;
  if (heard.length === 0 || total / Math.max(wanted.length, heard.length) > furthest) return null;
  const out: number[][] = words.map(() => []);
  let i = wanted.length;
  let j = heard.length;
  while (j > 0) {
    const here = rows[i]?.[j] ?? 0;
    const p = wanted[i - 1];
    const q = heard[j - 1] ?? BLANK;
    if (i > 0 && p !== undefined && Math.abs(here - ((rows[i - 1]?.[j - 1] ?? 0) + cost(p, q))) < 1e-9) {
      out[owner[i - 1] ?? 0]?.unshift(q);
      i -= 1;
      j -= 1;
    } else if (i > 0 && Math.abs(here - ((rows[i - 1]?.[j] ?? 0) + 1)) < 1e-9) {
      i -= 1;
    } else {
      out[owner[Math.max(0, i - 1)] ?? 0]?.unshift(q);
      j -= 1;
    }
  }
  // A word that the take lost altogether makes the take unfit: its absence could never be noticed again.
  return out.every((w) => w.length > 0) ? out : null;
}
