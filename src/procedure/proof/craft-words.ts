import type { Station } from '../station.ts';
import type { Advice } from './advice.ts';
import { advise } from './advice.ts';
import { wordsOf } from './phrases.ts';

/**
 * Syllables that one breath carries when reading aloud: 17.95 on average in 3.06 s, eighteen speakers reading Korean
 * (koreascience.kr/article/JAKO200804748556267.page). At 4 to 5 syllables a second (eplifefit.com/how-fast-do-people-talk)
 * English gives 12 to 15 in that time, so this is the generous side.
 */
export const BREATH_SYLLABLES = 18;
/** Our own. */
const MOST_SENTENCES = 3;
/** Our own: shorter than this and a reason names no failure. */
const LEAST_WHY_WORDS = 6;

const JOINING = /\b(and then|after that|afterwards|followed by)\b/i;
const SIGNAL = /\b(danger|warning|caution|notice)\s*[:!]/i;
/** Answers that CR-177549 advises against: they give neither the state nor the value. */
const VAGUE = new Set('checked check set done ok okay fine ready completed complete finished yes'.split(' '));

const SILENT_ENDING = /(?:[^laeiouy]es|ed|[^laeiouy]e)$/;

/** Syllables of an English word by its spelling: groups of vowels, without a silent ending. Right to one or so in a sentence. */
export function syllables(word: string): number {
  const bare = word
    .toLowerCase()
    .replace(/[^a-z]/g, '')
    .replace(/que$/, 'k');
  const spoken = bare.length > 3 ? bare.replace(SILENT_ENDING, '').replace(/^y/, '') : bare;
  return Math.max(1, spoken.match(/[aeiouy]{1,3}/g)?.length ?? 1);
}

const parts = (text: string, end: RegExp): string[] =>
  text
    .split(end)
    .map((part) => part.trim())
    .filter((part) => part !== '');

const sentencesOf = (text: string) => parts(text, /[.!?]+(?:\s+|$)/);
/** What is said in one breath: a colon gives time for the next, a comma does not. */
const breathsOf = (text: string) => parts(text, /[.!?:;]+(?:\s+|$)/);

function longSentences(name: string, text: string): Advice[] {
  return breathsOf(text).flatMap((sentence) => {
    const count = wordsOf(sentence).reduce((sum, word) => sum + syllables(word), 0);
    const details = { text: sentence, syllables: count, most: BREATH_SYLLABLES };
    return count > BREATH_SYLLABLES ? [advise(name, 'sentence-long', details)] : [];
  });
}

/** Advice on what one station says. */
export function wordAdvice(name: string, station: Station): Advice[] {
  const { say, why = '', cautions = [] } = station;
  const joined = JOINING.exec(say)?.[0];
  const sentences = sentencesOf(say).length;
  const late = [
    ['instruction', say],
    ['reason', why],
  ].flatMap(([where = '', text = '']) => {
    const word = SIGNAL.exec(text)?.[1];
    return word === undefined ? [] : [advise(name, 'caution-in-words', { word, where })];
  });
  return [
    ...[say, ...cautions.map(({ text }) => text)].flatMap((text) => longSentences(name, text)),
    ...(joined === undefined ? [] : [advise(name, 'acts-joined', { word: joined })]),
    ...(sentences > MOST_SENTENCES ? [advise(name, 'acts-many', { sentences, most: MOST_SENTENCES })] : []),
    ...late,
    ...(station.kind === 'hold' ? holdAdvice(name, station.phrase, why) : []),
  ];
}

function holdAdvice(name: string, phrase: string, why: string): Advice[] {
  const vague = wordsOf(phrase).find((word) => VAGUE.has(word));
  const words = wordsOf(why).length;
  return [
    ...(vague === undefined ? [] : [advise(name, 'response-vague', { word: vague })]),
    ...(words < LEAST_WHY_WORDS ? [advise(name, 'why-thin', { words })] : []),
  ];
}
