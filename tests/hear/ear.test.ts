import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type Ear, ear, type Heard, type Nearly, type Phrase } from '../../src/hear/ear.ts';
import { lexicon } from '../../src/hear/lexicon.ts';
import { figureOf } from '../../src/hear/numbers.ts';
import { readWeights } from '../../src/hear/weights.ts';

const at = (path: string) => new URL(path, import.meta.url);
const bytes = readFileSync(at('../../assets/voice/ear.bin'));
const file = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer;
const words = lexicon(
  JSON.parse(readFileSync(at('../../assets/voice/words.json'), 'utf8')) as Record<string, string>,
);

/** Samples of a 16-bit mono wave file, after its header of 44 bytes or more. */
function clip(name: string): Float32Array {
  const b = readFileSync(at(`./fixtures/${name}.wav`));
  const start = b.indexOf('data') + 8;
  return Float32Array.from(
    { length: (b.length - start) >> 1 },
    (_, i) => b.readInt16LE(start + 2 * i) / 32768,
  );
}

/** A seeded hiss: the same every time. */
function hiss(seconds: number, amplitude: number): Float32Array {
  let state = 12345;
  return Float32Array.from({ length: seconds * 16000 }, () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state / 2 ** 31 - 1) * amplitude;
  });
}

function fresh(phrases: readonly Phrase[]): Ear {
  const weights = readWeights(file);
  if ('code' in weights) throw new Error(weights.says);
  const e = ear(weights, words);
  e.listen(phrases);
  return e;
}

function hear(e: Ear, sound: Float32Array, block = 480): { heard: Heard[]; nearly: Nearly[] } {
  const heard: Heard[] = [];
  const nearly: Nearly[] = [];
  for (let i = 0; i < sound.length; i += block) {
    const h = e.feed(sound.subarray(i, i + block));
    if (h) heard.push(h);
    const n = e.nearly();
    if (n) nearly.push(n);
  }
  return { heard, nearly };
}

/** A quiet shop, the clip a second in, quiet again. */
function inQuiet(name: string): Float32Array {
  const said = clip(name);
  const sound = hiss(3 + said.length / 16000, 0.001);
  for (const [i, v] of said.entries()) sound[16000 + i] = (sound[16000 + i] ?? 0) + v;
  return sound;
}

const station: Phrase[] = [
  { text: 'stop work', kind: 'stop' },
  { text: 'next step', kind: 'word' },
  { text: 'say again', kind: 'word' },
  { text: 'torque confirmed', kind: 'hold' },
];

describe('the ear', () => {
  test.each([
    ['torque-confirmed', 'torque confirmed'],
    ['next-step', 'next step'],
    ['stop-work', 'stop work'],
  ])('hears %s', (name, phrase) => {
    const { heard } = hear(fresh(station), inQuiet(name));
    expect(heard.map((h) => h.phrase)).toEqual([phrase]);
    const length = clip(name).length / 16;
    expect(heard[0]?.startedAt).toBeGreaterThan(900);
    expect(heard[0]?.endedAt).toBeLessThan(1000 + length + 220);
  });

  test('never opens a hold for its negation, and says why', () => {
    const { heard, nearly } = hear(fresh(station), inQuiet('torque-not-confirmed'));
    expect(heard).toEqual([]);
    for (const n of nearly) expect(n.refusal.says.length).toBeGreaterThan(10);
  });

  test('a phrase that is not live is not heard', () => {
    const { heard } = hear(fresh(station.slice(0, 3)), inQuiet('torque-confirmed'));
    expect(heard).toEqual([]);
  });

  test('hears a figure only where one is asked for', () => {
    const { heard } = hear(fresh([{ text: 'torque', kind: 'figure' }]), inQuiet('nine-zero-decimal-five'));
    expect(heard.map((h) => figureOf(h.phrase.split(' ')))).toMatchObject([{ digits: '90.5' }]);
    expect(hear(fresh(station), inQuiet('nine-zero-decimal-five')).heard).toEqual([]);
  });

  test('a figure run together so that a digit is lost is refused, not shortened', () => {
    const { heard, nearly } = hear(
      fresh([{ text: 'torque', kind: 'figure' }]),
      inQuiet('one-two-run-together'),
    );
    expect(heard).toEqual([]);
    expect(nearly.length).toBeGreaterThan(0);
  });

  test('what began before the grammar changed counts for nothing', () => {
    const e = fresh(station);
    const sound = inQuiet('next-step');
    hear(e, sound.subarray(0, 16000 + 6000));
    e.listen(station);
    expect(hear(e, sound.subarray(16000 + 6000)).heard).toEqual([]);
  });

  test('a minute of hiss says nothing, and its level is measured', () => {
    const e = fresh(station);
    expect(hear(e, hiss(20, 0.1)).heard).toEqual([]);
    // Even spread between -0.1 and 0.1 has a root mean square of 0.1 / sqrt 3.
    expect(e.noiseFloorDb()).toBeCloseTo(20 * Math.log10(0.1 / Math.sqrt(3)), 0);
    expect(e.speechToNoiseDb()).toBeNull();
  });

  test('measures how far speech stood out', () => {
    const e = fresh(station);
    hear(e, inQuiet('next-step'));
    expect(e.speechToNoiseDb()).toBeGreaterThan(25);
  });
});
