import { BLANK } from './phones.ts';

/** The cheapest a column may make a state: one bad column must not sink a phrase that is otherwise there. */
const WORST_COLUMN = -7;

/**
 * One phrase searched for in the stream of phone scores, anywhere it may begin. Scores are log ratios against the
 * background, the best phone of every column: 0 where the phrase explains the sound as well as anything could.
 */
export interface Search {
  /** Takes a column; `relative` holds each output's log probability less the column's greatest. */
  step(relative: Float32Array, column: number): void;
  /** Best path that ends in this column: summed log ratio. */
  total(): number;
  /** `total` for each phone of the phrase. */
  mean(): number;
  /** The mean of the phrase's weakest word. */
  weakest(): number;
  /** Column in which that path began. */
  began(): number;
}

/**
 * Columns in which a phrase of so many phones must be over: 120 ms a phone is slow speech. Without an end, a phrase picks up
 * its phones over minutes of noise, each where it fits best.
 */
export const longest = (phones: number): number => 10 + 4 * phones;

/** `words` holds the model's outputs of each word's phones. */
export function search(words: readonly (readonly number[])[]): Search {
  const phones = words.flat();
  const most = longest(phones.length);
  const count = Math.max(0, 2 * phones.length - 1);
  // A state for each phone, and a blank between each two.
  const label = Int32Array.from({ length: count }, (_, j) =>
    j % 2 === 0 ? (phones[j / 2] ?? BLANK) : BLANK,
  );
  const opens = new Float32Array(count); // phones of the word before, on the first phone of each word but the first
  let at = 0;
  for (const [i, word] of words.entries()) {
    if (i > 0) opens[2 * at] = words[i - 1]?.length ?? 1;
    at += word.length;
  }
  const lastWord = words.at(-1)?.length ?? 1;
  const NONE = Number.NEGATIVE_INFINITY;
  const score = new Float64Array(count);
  const start = new Int32Array(count);
  const wordFrom = new Float64Array(count);
  const weak = new Float64Array(count);
  score.fill(NONE);

  return {
    step(relative, column) {
      for (let j = count - 1; j >= 0; j--) {
        let best = score[j] as number;
        let from = j;
        if (j > 0 && (score[j - 1] as number) > best) {
          best = score[j - 1] as number;
          from = j - 1;
        }
        if (j > 1 && j % 2 === 0 && label[j] !== label[j - 2] && (score[j - 2] as number) > best) {
          best = score[j - 2] as number;
          from = j - 2;
        }
        const here = Math.max(WORST_COLUMN, relative[label[j] as number] as number);
        if (j === 0 && best <= 0) {
          score[0] = here;
          start[0] = column;
          wordFrom[0] = 0;
          weak[0] = 0;
          continue;
        }
        if (best === NONE) continue;
        if (column - (start[from] as number) >= most) {
          score[j] = NONE;
          continue;
        }
        if (from !== j) {
          const before = opens[j] as number;
          const ended = before > 0;
          start[j] = start[from] as number;
          weak[j] = ended
            ? Math.min(weak[from] as number, (best - (wordFrom[from] as number)) / before)
            : (weak[from] as number);
          wordFrom[j] = ended ? best : (wordFrom[from] as number);
        }
        score[j] = best + here;
      }
    },
    total: () => score[count - 1] ?? NONE,
    mean: () => (score[count - 1] ?? NONE) / phones.length,
    weakest: () =>
      Math.min(weak[count - 1] ?? NONE, ((score[count - 1] ?? NONE) - (wordFrom[count - 1] ?? 0)) / lastWord),
    began: () => start[count - 1] ?? 0,
  };
}
