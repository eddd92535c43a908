import type { Heard, Nearly, Phrase } from './ear.ts';
import type { Refusal } from './judge.ts';
import { FIGURE_WORDS, figureOf } from './numbers.ts';
import { TURNS } from './refusals.ts';

/** One guess of an engine that writes what it hears. */
export interface Guess {
  readonly text: string;
  /** 0 to 1; many engines give 0 for "not told". */
  readonly confidence: number;
}

export type Matched =
  | { readonly heard: Omit<Heard, 'startedAt' | 'endedAt'> }
  | { readonly nearly: Omit<Nearly, 'heard'> & { readonly heard: Omit<Heard, 'startedAt' | 'endedAt'> } }
  | null;

/** Least confidence by consequence, where one is told. A hold that is not told one stays shut. Our own choice. */
const LEAST = { stop: 0, word: 0.4, hold: 0.7, figure: 0.7 } as const;
/** What stands for a confidence that was not told. */
const UNTOLD = 0.5;

const plain = (text: string): string =>
  text
    .toLowerCase()
    .replace(/[’]/g, "'")
    .replace(/[^\p{L}\p{N}.,' ]/gu, ' ')
    .replace(/[.,](?!\d)/g, ' ')
    .replace(/\s+/g, ' ')
    .trim();

const DIGITS = ['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'];

/** What was written as the words of a figure, digits said one by one; null where it holds anything else. */
export function figureWords(text: string): string[] | null {
  const words = plain(text)
    .split(' ')
    .flatMap((word): (string | null)[] => {
      if (FIGURE_WORDS.includes(word)) return [word];
      if (!/^\d+([.,]\d+)?$/.test(word)) return [null];
      return [...word].map((sign) => (/\d/.test(sign) ? (DIGITS[Number(sign)] ?? null) : 'decimal'));
    });
  const known = words.filter((word) => word !== null);
  return known.length === words.length && 'value' in figureOf(known) ? known : null;
}

const contains = (text: string, phrase: string): boolean => ` ${text} `.includes(` ${phrase} `);
const turns = (text: string): boolean =>
  TURNS.some((turn) => contains(text, turn)) || /\b(no|nt|n't|isn't)\b/.test(text);

/**
 * What an engine wrote, as one of the live phrases, exactly or not at all: a phrase counts only alone, word for word, and in
 * the engine's best guess; a stop alone may come from any guess. Nothing is repaired. A hold also needs a confidence that
 * is told and high, and no guess that turns its sense.
 */
export function matchWritten(guesses: readonly Guess[], phrases: readonly Phrase[]): Matched {
  const [best, second] = guesses;
  if (!best) return null;
  const said = plain(best.text);
  const told = best.confidence > 0;
  const confidence = told ? best.confidence : UNTOLD;
  const runnerUp = {
    runnerUp: second ? plain(second.text) : null,
    runnerUpScore: second
      ? Math.log(second.confidence > 0 ? second.confidence : UNTOLD)
      : Number.NEGATIVE_INFINITY,
  };
  const as = (phrase: string) => ({ phrase, score: Math.log(confidence), ...runnerUp });
  const nearly = (phrase: string, code: Refusal['code'], says: string): Matched => ({
    nearly: { heard: as(phrase), refusal: { code, says } },
  });

  const exact = phrases.filter(({ kind }) => kind !== 'figure').find(({ text }) => plain(text) === said);
  const stop = phrases.find(
    ({ text, kind }) => kind === 'stop' && guesses.some((guess) => plain(guess.text) === plain(text)),
  );
  if (exact) {
    const { text, kind } = exact;
    if (kind === 'hold' && !told)
      return nearly(text, 'too-unsure', 'This engine does not say how sure it is: use the pedal or a key.');
    if (told && confidence < LEAST[kind])
      return nearly(
        text,
        'too-unsure',
        'Not heard clearly enough. Say it again, nearer or slower, or use the pedal.',
      );
    if (kind === 'hold' && guesses.slice(1).some(({ text }) => turns(plain(text))))
      return nearly(
        text,
        'sounds-negated',
        'That could have been its opposite. Say the phrase again, or use the pedal.',
      );
    return { heard: as(text) };
  }
  if (stop) return { heard: as(stop.text) };
  if (phrases.some(({ kind }) => kind === 'figure')) {
    const figure = figureWords(best.text);
    if (figure && (!told || confidence >= LEAST.figure)) return { heard: as(figure.join(' ')) };
    if (figure)
      return nearly(figure.join(' '), 'too-unsure', 'The figure was not clear. Say it again digit by digit.');
  }
  const within = phrases.find(
    ({ text, kind }) => kind !== 'figure' && text !== '' && contains(said, plain(text)),
  );
  if (!within) return null;
  return nearly(
    within.text,
    'in-a-sentence',
    'It was part of other talk. Say the phrase alone, with a pause before and after.',
  );
}
