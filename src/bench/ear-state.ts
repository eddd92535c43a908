/** What the screen shows of the ear. */
export interface EarState {
  readonly on: boolean;
  /** Level now and of the quiet under it, dBFS; null before the first sound. */
  readonly level: { readonly now: number; readonly floor: number } | null;
  /** Of the last phrase heard over the noise, dB. */
  readonly speechToNoise: number | null;
  /** What was heard last, or nearly heard and why it did not count. */
  readonly last: { readonly text: string; readonly score: number; readonly refused: string | null } | null;
  /** Why it does not listen, in a sentence that says what to do. */
  readonly fault: string | null;
}

export const SILENT: EarState = { on: false, level: null, speechToNoise: null, last: null, fault: null };

/** A mean log ratio (0 is best) as a number between 0 and 1. */
export const sureness = (score: number): number => Math.exp(Math.min(0, score));
