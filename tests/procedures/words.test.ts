import { describe, expect, test } from 'vitest';
import { procedures } from '../../procedures/index.ts';
import { stationOf } from '../../src/procedure/definition.ts';

/** Spoken and shown in very large type: what is longer is not heard to its end. */
const MOST_LETTERS = 90;

const definitions = await Promise.all(procedures.map(({ load }) => load()));

describe.each(definitions)('$id: words for the bench', (definition) => {
  const stations = Object.keys(definition.states).flatMap((name) => {
    const station = stationOf(definition, name);
    return station ? [{ name, station }] : [];
  });

  test('each instruction and caution is short enough to be heard and read across the workshop', () => {
    const long = stations.flatMap(({ name, station }) =>
      [station.say, ...(station.cautions ?? []).map(({ text }) => text)]
        .filter((text) => text.length > MOST_LETTERS)
        .map((text) => `${name}: ${text}`),
    );
    expect(long).toEqual([]);
  });

  test('hold phrases have two to five words, all different', () => {
    const phrases = stations.flatMap(({ station }) => (station.kind === 'hold' ? [station.phrase] : []));
    for (const phrase of phrases) {
      expect(phrase.split(' ').length, phrase).toBeGreaterThanOrEqual(2);
      expect(phrase.split(' ').length, phrase).toBeLessThanOrEqual(5);
    }
    expect(new Set(phrases).size).toBe(phrases.length);
  });

  test('no phrase becomes another by taking out or changing one word', () => {
    const phrases = stations.flatMap(({ station }) =>
      station.kind === 'hold' ? [station.phrase.split(' ')] : [],
    );
    const oneOut = (words: string[]) => words.map((_, at) => words.toSpliced(at, 1).join(' '));
    for (const [at, one] of phrases.entries())
      for (const other of phrases.slice(at + 1)) {
        expect(oneOut(one)).not.toContain(other.join(' '));
        expect(oneOut(other)).not.toContain(one.join(' '));
        if (one.length !== other.length) continue;
        const differ = one.filter((word, place) => word !== other[place]).length;
        expect(differ, `${one.join(' ')} / ${other.join(' ')}`).toBeGreaterThan(1);
      }
  });

  test('every hold says which failure it prevents, in a sentence', () => {
    for (const { name, station } of stations)
      if (station.kind === 'hold') expect(station.why, name).toMatch(/^[A-Z].{30,}\.$/);
  });

  test('the definition is plain data: it survives JSON unchanged', () => {
    expect(JSON.parse(JSON.stringify(definition))).toEqual(definition);
  });
});
