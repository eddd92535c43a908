/** Turns sound of one rate into another, block by block. */
export interface Resampler {
  /** The new samples that the block brings; overwritten by the next call. */
  push(block: Float32Array): Float32Array;
}

const ZEROS = 12; // zero crossings of the sinc on each side
const PHASES = 64;

/**
 * Windowed-sinc resampling from `from` to `to` samples a second, cutting off below half the lower rate. Everything is
 * allocated once for blocks up to `most` samples; a longer block is a RangeError.
 */
export function resampler(from: number, to: number, most = 8192): Resampler {
  const step = from / to;
  const cut = Math.min(1, to / from) * 0.94;
  const half = Math.ceil(ZEROS / cut);
  const taps = 2 * half;
  const table = new Float32Array((PHASES + 1) * taps);
  for (let p = 0; p <= PHASES; p++) {
    for (let k = 0; k < taps; k++) {
      const t = k - half + 1 - p / PHASES;
      const x = Math.PI * t * cut;
      const window = Math.abs(t) < half ? 0.5 + 0.5 * Math.cos((Math.PI * t) / half) : 0;
      table[p * taps + k] = cut * (x === 0 ? 1 : Math.sin(x) / x) * window;
    }
  }
  const held = new Float32Array(most + taps);
  const out = new Float32Array(Math.ceil(most / step) + 2);
  let filled = taps - 1; // silence before the beginning
  let position = half - 1;

  return {
    push(block) {
      if (block.length > most) throw new RangeError(`A block of more than ${most} samples.`);
      held.set(block, filled);
      filled += block.length;
      let count = 0;
      while (Math.floor(position) + half < filled) {
        const whole = Math.floor(position);
        const phase = Math.round((position - whole) * PHASES);
        let sum = 0;
        for (let k = 0, at = whole - half + 1; k < taps; k++, at++) {
          sum += (held[at] as number) * (table[phase * taps + k] as number);
        }
        out[count] = sum;
        count += 1;
        position += step;
      }
      const drop = Math.max(0, Math.min(Math.floor(position) - half + 1, filled));
      held.copyWithin(0, drop, filled);
      filled -= drop;
      position -= drop;
      return out.subarray(0, count);
    },
  };
}
