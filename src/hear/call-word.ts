import type { Heard, Phrase } from './ear.ts';

/**
 * Call words a workshop may choose from: three syllables and more, far from everything else that is said at the bench
 * (`npm run check` refuses a procedure that says one, or something like it).
 */
export const CALL_WORDS: readonly string[] = [
  'attention bench',
  'listen to me now',
  'holdfast listen',
  'good morning bench',
  'hello machinery',
];

/** After the call word an ordinary word may begin within this time, ms. Our own choice. */
export const CALL_MS = 6000;

/** The phrases with the call word among them; none where nothing may be said. */
export const withCall = (word: string | null, phrases: readonly Phrase[]): readonly Phrase[] =>
  word === null || phrases.length === 0 ? phrases : [...phrases, { text: word, kind: 'word' }];

/** Stop words and hold phrases need no call: the one must come at once, the other is long and strict. */
const needsCall = (kind: Phrase['kind']): boolean => kind === 'word' || kind === 'figure';

export type Called =
  /** It was the call word itself: words that begin until `openUntil` count. */
  | { readonly kind: 'call'; readonly openUntil: number }
  | { readonly kind: 'counts' }
  | { readonly kind: 'uncalled'; readonly says: string };

/** Whether what was heard counts, on a bench with this call word; times are ms of the audio clock. One call, one word. */
export function called(
  word: string | null,
  openUntil: number,
  heard: Pick<Heard, 'phrase' | 'startedAt' | 'endedAt'>,
  kind: Phrase['kind'],
): Called {
  if (word === null) return { kind: 'counts' };
  if (heard.phrase === word) return { kind: 'call', openUntil: heard.endedAt + CALL_MS };
  if (!needsCall(kind) || heard.startedAt <= openUntil) return { kind: 'counts' };
  return { kind: 'uncalled', says: `say “${word}” first` };
}
