import { powerSpectrum } from './fourier.ts';
import type { FeatureSettings } from './weights.ts';

/** Streaming log-mel features. */
export interface Features {
  /** Numbers in one column: each window's mels above a fixed level, then above the running background. */
  readonly width: number;
  /**
   * Takes mono samples in -1..1 at the settings' rate, any number of them, and hands each finished column to `done`.
   * The column is overwritten by the next one.
   */
  push(block: Float32Array, done: (column: Float32Array) => void): void;
}

const mel = (hertz: number) => 2595 * Math.log10(1 + hertz / 700);
const hertz = (m: number) => 700 * (10 ** (m / 2595) - 1);

/** Triangular mel filters (O'Shaughnessy's mel scale), row by row over the spectrum's bins. */
export function melFilters(s: FeatureSettings): Float32Array[] {
  const low = mel(s.low);
  const step = (mel(s.high) - low) / (s.mels + 1);
  const edge = (i: number) => hertz(low + step * i);
  return Array.from({ length: s.mels }, (_, m) =>
    Float32Array.from({ length: s.fft / 2 + 1 }, (_, bin) => {
      const f = (bin * s.rate) / s.fft;
      const up = (f - edge(m)) / (edge(m + 1) - edge(m));
      const down = (edge(m + 2) - f) / (edge(m + 2) - edge(m + 1));
      return Math.max(0, Math.min(up, down));
    }),
  );
}

export function features(s: FeatureSettings): Features {
  const spectrum = powerSpectrum(s.fft);
  const filters = melFilters(s).map((row) => {
    const first = row.findIndex((v) => v > 0);
    const last = row.findLastIndex((v) => v > 0);
    return { first, row: row.slice(first, last + 1) };
  });
  const shape = Float32Array.from(
    { length: s.window },
    (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / s.window),
  );
  const held = new Float32Array(s.window);
  const windowed = new Float32Array(s.window);
  const background = new Float64Array(s.mels);
  const width = s.stack * s.mels * 2;
  const column = new Float32Array(width);
  let filled = 0;
  let skip = 0;
  let windows = 0;

  function takeWindow(): void {
    for (let i = 0; i < s.window; i++) windowed[i] = (held[i] as number) * (shape[i] as number);
    const power = spectrum(windowed);
    const at = (windows % s.stack) * s.mels * 2;
    const share = Math.max(1 / (windows + 1), 1 / s.memory);
    for (let m = 0; m < s.mels; m++) {
      const filter = filters[m] as { first: number; row: Float32Array };
      let energy = s.floor;
      for (let i = 0; i < filter.row.length; i++) {
        energy += (filter.row[i] as number) * (power[filter.first + i] as number);
      }
      const log = Math.log(energy);
      const ground = (background[m] as number) + (log - (background[m] as number)) * share;
      background[m] = ground;
      column[at + m] = (log + 6) * 0.25;
      column[at + s.mels + m] = (log - ground) * 0.5;
    }
    windows += 1;
  }

  return {
    width,
    push(block, done) {
      for (let i = 0; i < block.length; i++) {
        if (skip > 0) {
          skip -= 1;
          continue;
        }
        held[filled] = block[i] as number;
        filled += 1;
        if (filled < s.window) continue;
        takeWindow();
        // A hop shorter than the window keeps its tail; a longer one drops samples.
        held.copyWithin(0, s.hop);
        filled = Math.max(0, s.window - s.hop);
        skip = Math.max(0, s.hop - s.window);
        if (windows % s.stack === 0) done(column);
      }
    },
  };
}
