import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { features } from '../../src/hear/features.ts';
import { network } from '../../src/hear/network.ts';
import { readWeights, type Weights } from '../../src/hear/weights.ts';

const bytes = (url: string): ArrayBuffer => {
  const b = readFileSync(new URL(url, import.meta.url));
  return b.buffer.slice(b.byteOffset, b.byteOffset + b.byteLength) as ArrayBuffer;
};

const file = bytes('../../assets/voice/ear.bin');
const fixture = JSON.parse(readFileSync(new URL('./fixtures/network.json', import.meta.url), 'utf8')) as {
  pcm: string;
  columns: number;
  logp: number[];
};
const pcm = new Int16Array(new Uint8Array(Buffer.from(fixture.pcm, 'base64')).buffer);
const audio = Float32Array.from(pcm, (v) => v / 32768);

function weights(): Weights {
  const read = readWeights(file);
  if ('code' in read) throw new Error(read.says);
  return read;
}

function columns(block: number): number[][] {
  const w = weights();
  const front = features(w.features);
  const model = network(w);
  const out: number[][] = [];
  for (let i = 0; i < audio.length; i += block) {
    front.push(audio.subarray(i, i + block), (row) => {
      const scores = model.step(row);
      if (scores) out.push([...scores, ...(model.words() ?? [])]);
    });
  }
  return out;
}

describe('the acoustic model', () => {
  test('gives what the trained model gave for the same sound', () => {
    const mine = columns(480);
    expect(mine.length).toBe(fixture.columns - 5);
    let worst = 0;
    for (const [t, row] of mine.entries()) {
      // The last columns of the stored run saw silence that a stream has not met yet.
      if (t > mine.length - 45) break;
      for (const [k, v] of row.entries()) {
        worst = Math.max(worst, Math.abs(Math.exp(v) - Math.exp(fixture.logp[t * row.length + k] ?? 0)));
      }
    }
    expect(worst).toBeLessThan(0.002);
  });

  test('does not care how the sound is cut into blocks', () => {
    const a = columns(480);
    const b = columns(137);
    expect(b.length).toBe(a.length);
    expect(b).toEqual(a);
  });

  test('each column holds two distributions', () => {
    for (const row of columns(480)) {
      expect(row.reduce((sum, v) => sum + Math.exp(v), 0)).toBeCloseTo(2, 4); // one of phones, one of words
    }
  });

  test('refuses a file that is another or cut short', () => {
    const other = readWeights(new ArrayBuffer(64));
    expect('code' in other && other.code).toBe('not-an-ear');
    const short = readWeights(file.slice(0, file.byteLength - 1000));
    expect('code' in short && short.code).toBe('ear-cut-short');
    const headless = readWeights(file.slice(0, 40));
    expect('code' in headless && headless.code).toBe('ear-cut-short');
  });

  test('stays within its promised size', () => {
    expect(file.byteLength).toBeLessThan(6_500_000);
  });
});
