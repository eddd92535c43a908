/** Words that turn a confirmation into its opposite or into half of it. */
export const TURNS = ['not', 'never', 'nearly', 'almost', 'partly', 'half'];

/**
 * The forms of a hold phrase that must never open it: each turning word put in at each gap and in front. The phrase
 * with a word left out or exchanged needs no form of its own; the weakest word's score refuses it.
 */
export function refusalsOf(phrase: string): string[] {
  const words = phrase.trim().toLowerCase().split(/\s+/);
  return TURNS.flatMap((turn) =>
    words.map((_, i) => [...words.slice(0, i), turn, ...words.slice(i)].join(' ')),
  );
}

/** The same for a way of saying it in phones: each turning word put in at each gap and in front. */
export function turned(
  way: readonly (readonly number[])[],
  outputs: (word: string) => number[],
): { readonly turn: string; readonly words: readonly (readonly number[])[] }[] {
  return TURNS.flatMap((turn) =>
    way.map((_, i) => ({ turn, words: [...way.slice(0, i), outputs(turn), ...way.slice(i)] })),
  );
}
