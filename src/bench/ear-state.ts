import type { EngineKind } from '../hear/recogniser.ts';

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
  /** Which engine listens, and what a person ought to know of that. */
  readonly engine: EngineKind;
  readonly notice: string | null;
  /** The bench's call word, and whether it was just said. */
  readonly call: { readonly word: string; readonly open: boolean } | null;
  /** Seconds of the voice note that is being spoken; null while none is. */
  readonly note: number | null;
}

export const SILENT: EarState = {
  on: false,
  level: null,
  speechToNoise: null,
  last: null,
  fault: null,
  engine: 'own',
  notice: null,
  call: null,
  note: null,
};

/** A mean log ratio (0 is best) as a number between 0 and 1. */
export const sureness = (score: number): number => Math.exp(Math.min(0, score));

/** How a bench listens; kept on it. */
export interface VoiceSetUp {
  readonly engine: EngineKind;
  readonly callWord: string | null;
}

export const AS_DELIVERED: VoiceSetUp = { engine: 'own', callWord: null };

/** Where the sound goes with an engine that sends it away: shown as long as it listens. */
export const GOES_AWAY = 'The sound goes over the network to the maker of this browser.';
