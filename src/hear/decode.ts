import { blurred, LIKENESS } from './likeness.ts';
import { BLANK } from './phones.ts';
import { type Search, search } from './search.ts';

export type Kind = 'stop' | 'word' | 'hold';

/** A phrase to listen for. `words` holds the model's outputs of each word's phones. */
export interface Listened {
  readonly text: string;
  readonly kind: Kind;
  readonly words: readonly (readonly number[])[];
  /** Its words among the model's own, where it knows them all: a second opinion. */
  readonly tokens?: readonly number[];
  /** Other ways of saying it: a person's own takes, another accent. The best of all counts. */
  readonly ways?: readonly (readonly (readonly number[])[])[];
  /** Negated and partial forms, which compete with the phrase and never open anything. */
  readonly refusals: readonly { readonly text: string; readonly words: readonly (readonly number[])[] }[];
}

/** Something that may have been said; whether it counts is for `judge`. Columns are 30 ms. */
export interface Candidate {
  readonly text: string;
  readonly kind: Kind;
  /** Mean log ratio a phone against the background of all phones: 0 is best. */
  readonly score: number;
  /** The same for the weakest word. */
  readonly weakest: number;
  /** Log probability that the model heard the phrase among its own words, of the least likely of them; null where it has none. */
  readonly known: number | null;
  /** Whether a person's own way of saying it fitted best. */
  readonly taught: boolean;
  /** Log ratio by which the phrase beats its best negated or partial form; Infinity where it has none. */
  readonly overRefusal: number;
  /** The refusal that came closest. */
  readonly refusal: string | null;
  readonly runnerUp: string | null;
  readonly runnerUpScore: number;
  /** Phones heard in the columns just before and just after: 0 where the phrase stands alone. */
  readonly before: number;
  readonly after: number;
  /** Whether the time just before reaches back to when another grammar was live: it may be the rest of something older. */
  readonly early: boolean;
  readonly startColumn: number;
  readonly endColumn: number;
}

/**
 * Columns that must be quiet before and after a phrase, by what follows from it. An ordinary word needs few after it, because
 * the model's own words are told apart from talk by the 150 ms that it looks ahead; a hold phrase has no such second opinion. The
 * model may show its word two columns after the last phone: sooner than after five, that would be missed.
 */
export const QUIET: Readonly<Record<Kind, { readonly before: number; readonly after: number }>> = {
  stop: { before: 0, after: 4 },
  word: { before: 8, after: 5 },
  hold: { before: 12, after: 12 },
};

/** Nothing worse than this is a candidate at all. */
const HOPELESS = -3.2;
const MEMORY = 512;

interface Lane {
  readonly phrase: Listened;
  readonly searches: readonly Search[];
  readonly refusals: readonly { readonly text: string; readonly search: Search }[];
  best: {
    score: number;
    weakest: number;
    total: number;
    start: number;
    end: number;
    taught: boolean;
  } | null;
  /** Where the last candidate ended: what overlaps it must be better to count again. */
  done: { end: number; score: number };
  /** The best score of each of the last columns, for the runner-up. */
  readonly recent: Float32Array;
  /** Best refusal total that ended near the best. */
  against: { total: number; text: string } | null;
}

export interface Decoder {
  /** Takes the log probabilities of one column, phones and words; answers the candidates that became certain in it, best first. */
  step(scores: Float32Array, words?: Float32Array | null): Candidate[];
  /** Takes a column in which nothing may begin: it only counts as what went before. */
  overhear(scores: Float32Array): void;
}

export function decoder(phrases: readonly Listened[], likeness = LIKENESS): Decoder {
  const lanes: Lane[] = phrases.map((phrase) => ({
    phrase,
    searches: [phrase.words, ...(phrase.ways ?? [])].map(search),
    refusals: phrase.refusals.map((r) => ({ text: r.text, search: search(r.words) })),
    best: null,
    done: { end: -1, score: 0 },
    recent: new Float32Array(32).fill(Number.NEGATIVE_INFINITY),
    against: null,
  }));
  const lastPhone = phrases.map((p) => p.words.at(-1)?.at(-1) ?? BLANK);
  let relative = new Float32Array(0);
  const blur = blurred(likeness);
  const spoken = new Float32Array(MEMORY);
  const history: Float32Array[] = [];
  const wordHistory: Float32Array[] = [];
  let column = 0;
  let overheard = 0;

  function keepWords(words: Float32Array): void {
    const kept = wordHistory[column % MEMORY] ?? new Float32Array(words.length);
    kept.set(words);
    wordHistory[column % MEMORY] = kept;
  }

  /** A word shows in a few columns near its end, now and then a little after it: the sum of its chances in all of them. */
  function known(tokens: readonly number[] | undefined, from: number, to: number): number | null {
    if (!tokens || tokens.length === 0 || wordHistory.length === 0) return null;
    let least = 0;
    for (const token of tokens) {
      let chance = 0;
      for (let c = Math.max(from, column - MEMORY + 1); c <= to; c++) {
        chance += Math.exp(wordHistory[c % MEMORY]?.[token] ?? Number.NEGATIVE_INFINITY);
      }
      least = Math.min(least, Math.log(chance));
    }
    return least;
  }

  function keep(scores: Float32Array): void {
    const kept = history[column % MEMORY] ?? new Float32Array(scores.length);
    kept.set(scores);
    history[column % MEMORY] = kept;
    spoken[column % MEMORY] = 1 - Math.exp(scores[BLANK] as number);
  }

  const sum = (from: number, to: number, without: number): number => {
    let total = 0;
    for (let c = Math.max(0, from, column - MEMORY + 1); c < to; c++) {
      const row = history[c % MEMORY];
      total +=
        (spoken[c % MEMORY] as number) - (without === BLANK || !row ? 0 : Math.exp(row[without] as number));
    }
    return Math.max(0, total);
  };

  function candidate(lane: Lane, index: number): Candidate | null {
    const best = lane.best;
    const quiet = QUIET[lane.phrase.kind];
    if (!best || column - best.end < quiet.after) return null;
    let runnerUp: string | null = null;
    let runnerUpScore = Number.NEGATIVE_INFINITY;
    for (const other of lanes) {
      if (other === lane) continue;
      for (const s of other.recent) {
        if (s > runnerUpScore) {
          runnerUpScore = s;
          runnerUp = other.phrase.text;
        }
      }
    }
    return {
      text: lane.phrase.text,
      kind: lane.phrase.kind,
      score: best.score,
      weakest: best.weakest,
      taught: best.taught,
      known: known(lane.phrase.tokens, best.start, column - 1),
      overRefusal: lane.against ? best.total - lane.against.total : Number.POSITIVE_INFINITY,
      refusal: lane.against?.text ?? null,
      runnerUp,
      runnerUpScore,
      before: sum(best.start - quiet.before, best.start - 1, BLANK),
      after: sum(best.end + 1, best.end + 1 + quiet.after, lastPhone[index] ?? BLANK),
      early: overheard > 0 && best.start - quiet.before < overheard,
      startColumn: best.start,
      endColumn: best.end,
    };
  }

  return {
    step(scores, words) {
      if (relative.length !== scores.length) relative = new Float32Array(scores.length);
      blur(scores, relative);
      keep(scores);
      if (words) keepWords(words);
      const out: Candidate[] = [];
      for (const lane of lanes) {
        let way: Search | null = null;
        for (const s of lane.searches) {
          s.step(relative, column);
          if (!way || s.mean() > way.mean()) way = s;
        }
        if (!way) continue;
        const score = way.mean();
        lane.recent[column % lane.recent.length] = score;
        for (const r of lane.refusals) r.search.step(relative, column);
        const start = way.began();
        const fresh = start > lane.done.end || score > lane.done.score;
        if (score > HOPELESS && fresh && (!lane.best || score > lane.best.score)) {
          const total = way.total();
          const taught = way !== lane.searches[0];
          lane.best = { score, weakest: way.weakest(), total, start, end: column, taught };
          lane.against = null;
        }
        if (lane.best && column - lane.best.end <= 3) {
          for (const r of lane.refusals) {
            const total = r.search.total();
            if (!lane.against || total > lane.against.total) lane.against = { total, text: r.text };
          }
        }
      }
      column += 1;
      for (const [index, lane] of lanes.entries()) {
        const found = candidate(lane, index);
        if (!found) continue;
        out.push(found);
        lane.done = { end: found.endColumn, score: found.score };
        lane.best = null;
        lane.against = null;
      }
      return out.sort((a, b) => b.score - a.score);
    },
    overhear(scores) {
      keep(scores);
      column += 1;
      overheard = column;
    },
  };
}
