import { soundCost, soundDistance, TOO_CLOSE } from './distance.ts';
import type { Phrase } from './ear.ts';
import type { Lexicon } from './lexicon.ts';
import { outputOf, PHONES } from './phones.ts';
import { refusalsOf } from './refusals.ts';
import { wayOfSaying } from './take.ts';
import type { Take } from './taker.ts';

/** A way of saying a phrase: the phones of each of its words. */
export type Way = readonly (readonly number[])[];

/** Why a take is not kept; each says what to do. */
export interface TakeFault {
  readonly code:
    | 'too-quiet'
    | 'clipped'
    | 'too-short'
    | 'too-long'
    | 'unlike-others'
    | 'unlike-hold'
    | 'near-refusal';
  readonly says: string;
}

/** Takes that a phrase is taught with. */
export const TAKES = 3;

/** Least speech over the shop, dB, and least peak, for a take to be clear; our own choice. */
const LEAST_RATIO = 8;
const LEAST_PEAK = 0.01;
/** Samples at the end of the scale: a few are a click, more are a microphone that is turned up too far. */
const MOST_CLIPPED = 12;
const LONGEST_MS = 3500;
/** A word of a person's own, in another language say, has no spelling to be measured by: it must have this many phones. */
const LEAST_OWN = 4;
/** How far apart, 0 to 1, two takes of one word may be. */
const FURTHEST = 0.5;
/** The same for a hold phrase against its own words, all together. */
const HOLD_FURTHEST = 0.45;
/** Cost in phones that one word of it may be off by: a whole or a fifth of its phones. “Broken” for “unbroken” is off by two. */
const holdWordCost = (phones: number): number => Math.max(1.2, 0.2 * phones);
/** Phones by which a hold's take must be nearer to the phrase than to any negated form; a turning word has three. */
const CLEAR_OF_REFUSAL = 1.5;

const named = (phones: readonly number[]): string[] => phones.map((p) => PHONES[p - 1] ?? '');
const apart = (a: readonly number[], b: readonly number[]): number => soundDistance(named(a), named(b));

/** The model's outputs of each word of a text. */
export const wordsOf = (text: string, lexicon: Lexicon): number[][] =>
  text
    .trim()
    .split(/\s+/)
    .map((word) => lexicon.phones(word).flatMap((p) => outputOf(p) ?? []))
    .filter((word) => word.length > 0);

const fault = (code: TakeFault['code'], says: string): TakeFault => ({ code, says });

/** What is wrong with the sound of a take; null where it is clear. */
export function soundFault(take: Omit<Take, 'samples'>): TakeFault | null {
  if (take.clipped > MOST_CLIPPED)
    return fault('clipped', 'Too loud for the microphone: turn it down or step back, then say it again.');
  if (take.peak < LEAST_PEAK || (take.speechToNoise !== null && take.speechToNoise < LEAST_RATIO))
    return fault('too-quiet', 'Too quiet for this shop: speak up or come nearer, then say it again.');
  if (take.ms > LONGEST_MS) return fault('too-long', 'That was more than the word: say it alone.');
  return null;
}

/** What is wrong with what was said, for this phrase; null where the take is kept. */
export function takeFault(
  { text, kind }: Pick<Phrase, 'text' | 'kind'>,
  phones: readonly number[],
  others: readonly (readonly number[])[],
  lexicon: Lexicon,
): TakeFault | null {
  const words = wordsOf(text, lexicon);
  if (kind === 'hold') {
    const wrong = holdFault(text, phones, lexicon);
    if (wrong) return wrong;
  }
  // Own word or the app's: what has less than half of its phones was cut off.
  const own = wayOfSaying(words, phones) === null;
  if (phones.length < (own ? LEAST_OWN : words.flat().length / 2))
    return fault('too-short', 'That was too short: say the whole word, or choose a longer one.');
  if (others.length > 0 && others.every((other) => apart(other, phones) > FURTHEST))
    return fault('unlike-others', 'That was not like the takes before: say it again in the same way.');
  return null;
}

/** A hold phrase keeps its own words, and no take of it may lean towards a form that says the opposite. */
function holdFault(text: string, phones: readonly number[], lexicon: Lexicon): TakeFault | null {
  const said = named(phones);
  const cost = (form: string) => soundCost(said, named(wordsOf(form, lexicon).flat()));
  const own = cost(text);
  const nearest = refusalsOf(text)
    .map((form) => ({ form, by: cost(form) - own }))
    .reduce((a, b) => (b.by < a.by ? b : a));
  if (nearest.by < CLEAR_OF_REFUSAL)
    return fault(
      'near-refusal',
      `That is too near to “${nearest.form}”, which must never open the hold: it is not kept.`,
    );
  const words = wordsOf(text, lexicon);
  const way = wayOfSaying(words, phones, HOLD_FURTHEST);
  const off = (word: readonly number[], own: readonly number[]) => soundCost(named(word), named(own));
  if (way?.every((word, i) => off(word, words[i] ?? []) <= holdWordCost(words[i]?.length ?? 0))) return null;
  return fault('unlike-hold', `A hold point opens for its own words only: say “${text}” as it stands.`);
}

/**
 * The ways of saying a phrase that a person's takes teach. Takes that do not fit the phrase are the person's own word for
 * it, whole; never for a hold. Takes that the rules would refuse today teach nothing.
 */
export function waysOf(
  phrase: Pick<Phrase, 'text' | 'kind'>,
  takes: readonly (readonly number[])[],
  lexicon: Lexicon,
): Way[] {
  const words = wordsOf(phrase.text, lexicon);
  const ways = takes
    .filter((phones) => takeFault(phrase, phones, [], lexicon) === null)
    .flatMap((phones) => {
      const way = wayOfSaying(words, phones);
      return way ? [way] : phrase.kind === 'hold' ? [] : [[[...phones]]];
    });
  return ways.filter((way, i) => ways.findIndex((one) => same(one, way)) === i);
}

const same = (a: Way, b: Way): boolean => JSON.stringify(a) === JSON.stringify(b);

/** Has this person a word of their own for the phrase? */
export const isOwnWord = (text: string, ways: readonly Way[], lexicon: Lexicon): boolean =>
  ways.length > 0 && ways.every((way) => way.length === 1 && wordsOf(text, lexicon).length > 1);

/** “Number one” and “number nine” share a word by design: only what comes nearer than this part of it is told. */
const NEARER_THAN_OWN = 0.75;

export interface Alike {
  readonly one: string;
  readonly other: string;
  /** 0 the same sound, 1 nothing in common. */
  readonly distance: number;
}

/**
 * Phrases, as this person says them, that sound too much alike to be live together, and more so than the app’s own words for
 * them do; the closest first.
 */
export function tooAlike(
  phrases: readonly { readonly text: string; readonly ways: readonly Way[] }[],
  lexicon: Lexicon,
): Alike[] {
  const spelt = phrases.map(({ text, ways }) => ({
    text,
    own: wordsOf(text, lexicon).flat(),
    forms: (ways.length > 0 ? ways : [wordsOf(text, lexicon)]).map((way) => way.flat()),
    taught: ways.length > 0,
  }));
  return spelt
    .flatMap((one, at) =>
      spelt.slice(at + 1).flatMap((other) => {
        if (!one.taught && !other.taught) return [];
        const distance = Math.min(...one.forms.flatMap((a) => other.forms.map((b) => apart(a, b))));
        const untaught = soundDistance(named(one.own), named(other.own));
        return distance < TOO_CLOSE && distance < NEARER_THAN_OWN * untaught
          ? [{ one: one.text, other: other.text, distance }]
          : [];
      }),
    )
    .toSorted((a, b) => a.distance - b.distance);
}

/** What to do about two phrases that sound alike, in a sentence. */
export const remedyFor = ({ one, other }: Alike): string =>
  `“${one}” and “${other}” sound alike as you say them: teach one of them again, slower, or with another word.`;
