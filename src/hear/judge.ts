import type { Candidate, Kind } from './decode.ts';

/** Why something that was nearly said did not count; each says what to do. */
export type Refusal =
  | { readonly code: 'too-unsure'; readonly says: string }
  | { readonly code: 'word-missing'; readonly says: string }
  | { readonly code: 'too-slow'; readonly says: string }
  | { readonly code: 'in-a-sentence'; readonly says: string }
  | { readonly code: 'sounds-negated'; readonly says: string }
  | { readonly code: 'too-close-to-other'; readonly says: string };

export interface Limits {
  /** Least mean log ratio a phone, and the least of the weakest word. */
  readonly score: number;
  /**
   * Less will do where the model's own words speak for it: a score of at least `score`, and at least `sum` together with
   * `weight` times their log probability. Null where they count for nothing.
   */
  readonly together: { readonly score: number; readonly weight: number; readonly sum: number } | null;
  /** The phones alone will not do where the model's own words think it less likely than this (log probability). */
  readonly doubted: number;
  /** The least score of a person's own way of saying it. */
  readonly taught: number;
  readonly weakest: number;
  /** Most phones heard just before and after; and in either place where the model's own words do not speak for it. */
  readonly before: number;
  readonly after: number;
  readonly around: number;
  /** Least lead over the best negated form. */
  readonly overRefusal: number;
  /** Least lead over the next phrase. */
  readonly overOther: number;
  /** Most columns from its first phone to its last: so many, and so many more for each phone. */
  readonly lasts: readonly [number, number];
}

const ORDINARY: Limits = {
  score: -0.2,
  together: { score: -3, weight: 0.4, sum: -3.2 },
  doubted: -8,
  taught: -1.3,
  weakest: -9,
  before: 1.2,
  after: 1,
  around: 0.8,
  overRefusal: 0,
  overOther: 0,
  lasts: [Number.POSITIVE_INFINITY, 0],
};

/**
 * By consequence: a stop costs little when wrong and needs no quiet before it; a hold opened wrongly can hurt, so its phrase must
 * be there word for word, alone, in one go, and clear of its negations: a word put into it ("nearly", "not yet") makes it
 * last longer. Chosen on the bench's audio: see its report.
 */
export const LIMITS: Readonly<Record<Kind, Limits>> = {
  stop: {
    ...ORDINARY,
    score: -0.15,
    together: { score: -2.4, weight: 0.5, sum: -1.63 },
    doubted: -5,
    overOther: -1,
  },
  word: ORDINARY,
  hold: {
    score: -1.35,
    together: null,
    doubted: Number.NEGATIVE_INFINITY,
    taught: -1.25,
    weakest: -2.7,
    before: 0.8,
    after: 0.6,
    around: 0.8,
    overRefusal: 12.7,
    overOther: -0.3,
    lasts: [8, 3],
  },
};

/** Short phrases have little to be told by, so they must be better: added for each phone under this many. */
const FULL_LENGTH = 9;
const SHORT_COSTS = 0.05;

/** The model's own words are never surer than this that something was not said: for some voices they are wrong. */
const DOUBT = -12;

/** The same as `before`, where another grammar was live just then: what began under it counts for nothing. */
const EARLY = 0.5;

/** The least score that a phrase of so many phones needs, where `score` is that of a long one. */
const least = (score: number, phones: number): number =>
  Math.min(-0.1, score + SHORT_COSTS * Math.max(0, FULL_LENGTH - phones));

/** Whether the phones alone will do. */
function byPhones(c: Candidate, phones: number, limits: Limits): boolean {
  // A phrase of which the model has no words of its own is held to the phones as a taught one is.
  if (c.taught || c.known === null) return c.score >= least(limits.taught, phones);
  return c.score >= least(limits.score, phones) && c.known >= limits.doubted;
}

/** Whether less of them will, together with the model's own words. */
function byBoth(c: Candidate, phones: number, limits: Limits): boolean {
  const both = limits.together;
  if (!both || c.known === null) return false;
  const sum = c.score + both.weight * Math.max(DOUBT, c.known);
  return c.score >= least(both.score, phones) && sum >= least(both.sum, phones);
}

/** Null where the candidate counts. `phones` is how many phones its phrase has. */
export function judge(c: Candidate, phones: number): Refusal | null {
  const limits = LIMITS[c.kind];
  const agreed = byBoth(c, phones, limits);
  if (!agreed && !byPhones(c, phones, limits)) {
    return {
      code: 'too-unsure',
      says: 'Not heard clearly enough. Say it again, nearer or slower, or use the pedal.',
    };
  }
  if (c.weakest < limits.weakest) {
    return { code: 'word-missing', says: 'One of the words was not clear. Say the whole phrase again.' };
  }
  if (c.endColumn - c.startColumn >= limits.lasts[0] + limits.lasts[1] * phones) {
    return {
      code: 'too-slow',
      says: 'There may have been another word in it. Say the phrase in one go, or use the pedal.',
    };
  }
  if (c.overRefusal < limits.overRefusal) {
    return {
      code: 'sounds-negated',
      says: `That sounded like "${c.refusal ?? ''}". Say the phrase again, or use the pedal.`,
    };
  }
  const most = Math.min(c.early ? EARLY : limits.before, agreed ? limits.before : limits.around);
  if (c.before > most || c.after > (agreed ? limits.after : Math.min(limits.after, limits.around))) {
    return {
      code: 'in-a-sentence',
      says: 'It was part of other talk. Say the phrase alone, with a pause before and after.',
    };
  }
  if (c.score - c.runnerUpScore < limits.overOther) {
    return {
      code: 'too-close-to-other',
      says: `It could also have been "${c.runnerUp ?? ''}". Say it again, or use the pedal.`,
    };
  }
  return null;
}

/**
 * Speech must stand this far over the shop, in decibels, before a hold may open by voice alone. On the bench no altered
 * phrase of 720 opened one in the quiet; at 20 dB and at 10 dB one of 720 did, which is one too many.
 */
export const VOICE_ALONE_DB = 25;

/** Whether a hold opened by voice needs the pedal's or a key's press as well; `ratio` is `Ear.speechToNoiseDb()`. */
export const needsPress = (ratio: number | null): boolean => ratio === null || ratio < VOICE_ALONE_DB;
