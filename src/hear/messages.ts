import type { Heard, Nearly, Phrase } from './ear.ts';
import type { Take } from './taker.ts';

/** What the page tells the listening worker. */
export type ToEar =
  | {
      readonly kind: 'open';
      /** assets/voice/ear.bin */
      readonly weights: ArrayBuffer;
      /** word -> phones */
      readonly table: Readonly<Record<string, string>>;
      /** Samples a second of the blocks to come. */
      readonly rate: number;
    }
  /** Comes with the capture's port, on which the batches arrive. */
  | { readonly kind: 'sound' }
  | { readonly kind: 'listen'; readonly phrases: readonly Phrase[] }
  /** While deaf, sound is measured but nothing is heard; what began while deaf counts for nothing after. */
  | { readonly kind: 'deaf'; readonly deaf: boolean }
  /** While teaching, whatever is said comes as a take and no phrase is heard. */
  | { readonly kind: 'teach'; readonly on: boolean }
  /** Reads the phones of a kept take anew; 16 kHz. */
  | { readonly kind: 'transcribe'; readonly id: number; readonly samples: Float32Array };

/** What the worker tells the page. */
export type FromEar =
  | { readonly kind: 'open' }
  /** With its own ratio to the noise: the level's comes up to a quarter of a second later, and a hold asks for it now. */
  | { readonly kind: 'heard'; readonly heard: Heard; readonly speechToNoise: number | null }
  | { readonly kind: 'nearly'; readonly nearly: Nearly }
  | {
      readonly kind: 'level';
      /** dBFS of the last quarter second, and of the quiet under it. */
      readonly now: number;
      readonly floor: number;
      readonly speechToNoise: number | null;
    }
  | { readonly kind: 'take'; readonly take: Take }
  | { readonly kind: 'transcribed'; readonly id: number; readonly phones: readonly number[] }
  | { readonly kind: 'failed'; readonly says: string };

/** From the capture worklet: one batch of samples. Its buffer is sent back to be filled again. */
export interface Batch {
  readonly samples: Float32Array<ArrayBuffer>;
}
