import { describe, expect, test } from 'vitest';
import { resampler } from '../../src/hear/resample.ts';

const tone = (hz: number, rate: number, seconds: number) =>
  Float32Array.from({ length: rate * seconds }, (_, i) => Math.sin((2 * Math.PI * hz * i) / rate));

function through(from: number, sound: Float32Array, block: number): Float32Array {
  const r = resampler(from, 16000);
  const out: number[] = [];
  for (let i = 0; i < sound.length; i += block) out.push(...r.push(sound.subarray(i, i + block)));
  return Float32Array.from(out);
}

const power = (x: Float32Array) => x.reduce((a, v) => a + v * v, 0) / x.length;

describe('resampling', () => {
  test.each([48000, 44100, 16000])('from %i keeps a tone of 1 kHz and its length', (from) => {
    const out = through(from, tone(1000, from, 1), 384);
    expect(Math.abs(out.length - 16000)).toBeLessThan(60);
    expect(power(out.subarray(200))).toBeCloseTo(0.5, 1);
  });

  test('takes away what 16 kHz cannot hold', () => {
    expect(power(through(48000, tone(11000, 48000, 1), 384).subarray(200))).toBeLessThan(0.0005);
  });

  test('does not care how the sound is cut', () => {
    const sound = tone(700, 44100, 0.5);
    const a = through(44100, sound, 1000);
    const b = through(44100, sound, 129);
    // How the last samples fall depends on the last block.
    for (let i = 0; i < 7990; i++) expect(Math.abs((a[i] ?? 0) - (b[i] ?? 9))).toBeLessThan(0.02);
  });

  test('refuses a block longer than it was made for', () => {
    expect(() => resampler(48000, 16000, 100).push(new Float32Array(101))).toThrow(RangeError);
  });
});
