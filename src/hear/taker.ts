import { features } from './features.ts';
import { level } from './level.ts';
import { network } from './network.ts';
import { BLANK } from './phones.ts';
import { transcribe } from './take.ts';
import type { Weights } from './weights.ts';

/** One thing that was said, cut out of the sound around it. */
export interface Take {
  /** The phones that the model heard: outputs, without blanks and repeats. */
  readonly phones: readonly number[];
  /** Mono, -1..1, at the weights' rate, with half a second of the room before it. */
  readonly samples: Float32Array<ArrayBuffer>;
  /** From the first phone to the last, ms. */
  readonly ms: number;
  /** Loudest sample, 0..1, and how many stood at the very end of the scale. */
  readonly peak: number;
  readonly clipped: number;
  /** Over the second before it, dB; null where that is not known. */
  readonly speechToNoise: number | null;
}

export interface Taker {
  /** Mono samples in -1..1 at the weights' rate; answers a take once it is over. */
  feed(block: Float32Array): Take | null;
  /** What is being said now is forgotten. */
  forget(): void;
}

/** Columns (30 ms) without a phone that end a take, and the most columns of one. Our own choice. */
const QUIET_AFTER = 20;
const LONGEST = 150;
/** Columns of the room kept before and after. */
const BEFORE = 17;
const AFTER = 8;
/** A knock makes one phone at the most: that is no try to say something, and nobody is told off for it. */
const LEAST_PHONES = 2;
/** Seconds of sound remembered. */
const KEPT = 8;
const FULL_SCALE = 0.985;

/** Cuts what is said into takes, by the model's own idea of where phones are: that holds in noise, levels do not. */
export function taker(weights: Weights): Taker {
  const { rate, hop, stack } = weights.features;
  const perColumn = hop * stack;
  const front = features(weights.features);
  const model = network(weights);
  const levels = level();
  const sound = new Float32Array(KEPT * rate);
  let fed = 0;
  let column = 0;
  let square = 0;
  let began = -1;
  let last = -1;
  let from = 0;
  let heard: Float32Array[] = [];
  let done: Take | null = null;

  function cut(): Take {
    const start = Math.max(0, (began - BEFORE) * perColumn, fed - sound.length);
    const end = Math.min(fed, (last + AFTER) * perColumn);
    const samples = Float32Array.from(
      { length: Math.max(0, end - start) },
      (_, i) => sound[(start + i) % sound.length] ?? 0,
    );
    let peak = 0;
    let clipped = 0;
    for (const v of samples) {
      peak = Math.max(peak, Math.abs(v));
      if (Math.abs(v) >= FULL_SCALE) clipped += 1;
    }
    return {
      phones: transcribe(heard),
      samples,
      ms: ((last - began + 1) * perColumn * 1000) / rate,
      peak,
      clipped,
      speechToNoise: levels.overFloorDb(began, last + 1),
    };
  }

  function forget(): void {
    began = -1;
    heard = [];
    from = Math.ceil(fed / perColumn);
  }

  function score(scores: Float32Array): void {
    const at = column;
    column += 1;
    if (at < from) return;
    const spoken = scores.every((v, i) => i === BLANK || v <= (scores[BLANK] as number)) === false;
    if (spoken && began < 0) began = at;
    if (began < 0) return;
    if (spoken) last = at;
    heard.push(scores.slice());
    if (at - last < QUIET_AFTER && at - began < LONGEST) return;
    const take = cut();
    if (take.phones.length >= LEAST_PHONES) done ??= take;
    forget();
  }

  return {
    feed(block) {
      done = null;
      for (const v of block) {
        sound[fed % sound.length] = v;
        fed += 1;
        square += v * v;
        if (fed % perColumn === 0) {
          levels.push(square / perColumn);
          square = 0;
        }
      }
      front.push(block, (row) => {
        const scores = model.step(row);
        if (scores) score(scores);
      });
      return done;
    },
    forget,
  };
}

/** The phones of a take that is kept, read anew: after the model has changed. Its own room is its quiet before and after. */
export function retranscribe(weights: Weights, samples: Float32Array): number[] {
  const { rate } = weights.features;
  const room = samples.slice(0, Math.min(samples.length, rate / 2)).reverse();
  const front = features(weights.features);
  const model = network(weights);
  const columns: Float32Array[] = [];
  for (const part of [room, samples, room, room])
    front.push(part, (row) => {
      const scores = model.step(row);
      if (scores) columns.push(scores.slice());
    });
  return transcribe(columns);
}
