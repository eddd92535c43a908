import type { Heard, Nearly, Phrase } from './ear.ts';

/** Which engine turns sound into phrases: our own, the browser's on this device, or the browser's on somebody's server. */
export type EngineKind = 'own' | 'device' | 'server';

/** Why nothing is heard any more, or at all; each says what to do. */
export type HearFault =
  | { readonly code: 'mic-refused'; readonly says: string }
  | { readonly code: 'mic-missing'; readonly says: string }
  | { readonly code: 'mic-lost'; readonly says: string }
  | { readonly code: 'mic-stalled'; readonly says: string }
  | { readonly code: 'ear-failed'; readonly says: string }
  | { readonly code: 'engine-missing'; readonly says: string }
  | { readonly code: 'engine-failed'; readonly says: string };

export interface RecogniserEvents {
  /** `speechToNoise` is this phrase's own, in dB; null where the engine cannot tell, and then no hold opens by voice alone. */
  heard(heard: Heard, speechToNoise: number | null): void;
  nearly(nearly: Nearly): void;
  /** Four times a second, dBFS; the ratio is of the last phrase heard, in dB. */
  level(now: number, floor: number, speechToNoise: number | null): void;
  lost(fault: HearFault): void;
}

/** What hears the live phrases, whatever engine is behind it. */
export interface Recogniser {
  /** The sound as it comes from the microphone, for a voice note. */
  readonly stream: MediaStreamLike;
  /** The live phrases from now on; what was said before counts for nothing. */
  listen(phrases: readonly Phrase[]): void;
  /** True while the app itself speaks or sounds: half duplex. */
  deaf(deaf: boolean): void;
  close(): void;
}

/** The port knows nothing of a browser; its edges give and take a MediaStream here. */
export interface MediaStreamLike {
  readonly id: string;
}
