import { blurred, LIKENESS } from './likeness.ts';
import { BLANK } from './phones.ts';

/** A row of figure words that may have been said. Columns are 30 ms. */
export interface FigureCandidate {
  readonly words: readonly string[];
  /** Mean log ratio a phone, 0 best; and that of the weakest word. */
  readonly score: number;
  readonly weakest: number;
  /** Columns of other speech right before or after it: 0 where the figure stands alone. */
  readonly around: number;
  readonly startColumn: number;
  readonly endColumn: number;
}

export interface FigureSearch {
  /**
   * Takes one column of log probabilities, of phones and of the model's own words where it has any; answers a row of words
   * once it has been quiet after it for long enough.
   */
  step(scores: Float32Array, known?: Float32Array | null): FigureCandidate | null;
  reset(): void;
}

/** A figure word as the model's outputs; `token` is its place among the model's own words, 0 where it has none. */
export interface FigureWord {
  readonly word: string;
  readonly phones: readonly number[];
  readonly token: number;
}

interface Node {
  readonly word: string;
  readonly mean: number;
  readonly total: number;
  readonly phones: number;
  readonly start: number;
  readonly end: number;
  readonly before: Node | null;
}

/** What a phone of a right word earns, so that a longer row of right words beats a shorter one. */
const REWARD = 2.2;
/** What each further word costs: without it a short word hides in a long one. */
const FURTHER = 3;
/** What it earns where the model heard it among its own words for certain; nothing at a chance of e^-DOUBT. */
const KNOWN = 4;
const DOUBT = 6;
/** Columns of the model's own words that are kept: a second, longer than any figure word. */
const SECOND = 33;
const WORST_COLUMN = -7;
/** Quiet columns that end a figure: 600 ms. */
const PAUSE = 20;

/** Searches for any row of `words`, each given as the model's outputs, one after the other with or without pauses. */
export function figureSearch(words: readonly FigureWord[]): FigureSearch {
  const blur = blurred(LIKENESS);
  let relative = new Float32Array(0);
  const lanes = words.map(({ word, phones, token }) => {
    const count = 2 * phones.length - 1;
    return {
      word,
      phones,
      token,
      count,
      score: new Float64Array(count).fill(Number.NEGATIVE_INFINITY),
      start: new Int32Array(count),
      from: new Array<Node | null>(count).fill(null),
    };
  });
  let column = 0;
  let gap: { score: number; node: Node } | null = null;
  let best: { score: number; node: Node } | null = null;
  let quiet = 0; // columns without speech, up to now
  let lastSpeech = -1;
  const spoken = new Float32Array(512);
  const heard: Float32Array[] = [];

  function keep(known: Float32Array): void {
    const kept = heard[column % SECOND] ?? new Float32Array(known.length);
    kept.set(known);
    heard[column % SECOND] = kept;
  }

  /** What a word is given for the model's own opinion of the columns from `from` on. */
  function earned(token: number, from: number): number {
    if (token === 0 || heard.length === 0) return 0;
    let chance = 1e-9;
    for (let c = Math.max(from, column - SECOND + 1); c <= column; c++) {
      chance += Math.exp(heard[c % SECOND]?.[token] ?? Number.NEGATIVE_INFINITY);
    }
    return KNOWN * Math.max(0, Math.min(1, 1 + Math.log(chance) / DOUBT));
  }

  function step(scores: Float32Array, known?: Float32Array | null): FigureCandidate | null {
    if (relative.length !== scores.length) relative = new Float32Array(scores.length);
    blur(scores, relative);
    if (known) keep(known);
    let ended: { score: number; node: Node } | null = null;
    for (const lane of lanes) {
      const { phones, count, score, start, from } = lane;
      for (let j = count - 1; j >= 0; j--) {
        const label = j % 2 === 0 ? (phones[j / 2] ?? BLANK) : BLANK;
        const here = Math.max(WORST_COLUMN, relative[label] as number);
        let value = score[j] as number;
        let k = j;
        const earn = j % 2 === 0 ? REWARD : 0;
        if (j > 0 && (score[j - 1] as number) + earn > value) {
          value = (score[j - 1] as number) + earn;
          k = j - 1;
        }
        if (
          j > 1 &&
          j % 2 === 0 &&
          phones[j / 2] !== phones[j / 2 - 1] &&
          (score[j - 2] as number) + earn > value
        ) {
          value = (score[j - 2] as number) + earn;
          k = j - 2;
        }
        if (j === 0) {
          const entry = Math.max(0, gap ? gap.score - FURTHER : 0);
          if (entry + REWARD > value) {
            score[0] = entry + REWARD + here;
            start[0] = column;
            from[0] = gap && entry > 0 ? gap.node : null;
            continue;
          }
        }
        if (value === Number.NEGATIVE_INFINITY) continue;
        if (k !== j) {
          start[j] = start[k] as number;
          from[j] = from[k] ?? null;
        }
        score[j] = value + here;
      }
      const bare = score[count - 1] as number;
      if (bare <= -KNOWN) continue;
      const total = bare + earned(lane.token, start[count - 1] ?? 0);
      if (total > 0 && (!ended || total > ended.score)) {
        const prev = from[count - 1] ?? null;
        const own = total - (prev ? prev.total - FURTHER : 0) - REWARD * phones.length;
        ended = {
          score: total,
          node: {
            word: lane.word,
            mean: own / phones.length,
            total,
            phones: phones.length,
            start: start[count - 1] ?? 0,
            end: column,
            before: prev,
          },
        };
      }
    }
    if (gap) gap = { score: gap.score + Math.max(WORST_COLUMN, relative[BLANK] as number), node: gap.node };
    if (ended && (!gap || ended.score > gap.score)) gap = ended;
    if (ended && (!best || ended.score >= best.score)) best = ended;
    const speech = 1 - Math.exp(scores[BLANK] as number);
    spoken[column % spoken.length] = speech;
    quiet = speech > 0.5 ? 0 : quiet + 1;
    if (speech > 0.5) lastSpeech = column;
    column += 1;
    if (!best || quiet < PAUSE || column - best.node.end < PAUSE) return null;
    const found = candidate(best.node);
    best = null;
    gap = null;
    for (const lane of lanes) lane.score.fill(Number.NEGATIVE_INFINITY);
    return found;
  }

  function before(start: number): number {
    let sum = 0;
    for (let c = Math.max(0, start - 8, column - spoken.length); c < start - 1; c++)
      sum += spoken[c % spoken.length] as number;
    return sum;
  }

  function candidate(last: Node): FigureCandidate {
    const row: Node[] = [];
    for (let n: Node | null = last; n; n = n.before) row.unshift(n);
    const phones = row.reduce((a, n) => a + n.phones, 0);
    return {
      words: row.map((n) => n.word),
      score: row.reduce((a, n) => a + n.mean * n.phones, 0) / phones,
      weakest: Math.min(...row.map((n) => n.mean)),
      around: lastSpeech - last.end > 3 ? lastSpeech - last.end : before(row[0]?.start ?? 0),
      startColumn: row[0]?.start ?? 0,
      endColumn: last.end,
    };
  }

  return {
    step,
    reset() {
      for (const lane of lanes) lane.score.fill(Number.NEGATIVE_INFINITY);
      best = null;
      gap = null;
      column = 0;
      quiet = 0;
      lastSpeech = -1;
      heard.length = 0;
    },
  };
}
