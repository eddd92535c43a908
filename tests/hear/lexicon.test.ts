import { dictionary } from 'cmu-pronouncing-dictionary';
import { describe, expect, test } from 'vitest';
import { phraseDistance } from '../../src/hear/distance.ts';
import { lexicon, spell } from '../../src/hear/lexicon.ts';
import { outputOf } from '../../src/hear/phones.ts';

describe('the lexicon', () => {
  test('the table comes first, spelling after', () => {
    const l = lexicon({ tyre: 'T AY ER' });
    expect(l.phones('Tyre')).toEqual(['T', 'AY', 'ER']);
    expect(l.knows('tyre')).toBe(true);
    expect(l.knows('shim')).toBe(false);
    expect(l.phones('shim')).toEqual(['SH', 'IH', 'M']);
  });

  test.each([
    ['plate', 'P L EY T'],
    ['lock', 'L AA K'],
    ['sheet', 'SH IY T'],
    ['bolted', 'B AA L T IH D'],
    ['marked', 'M AA R K T'],
    ['wire', 'W AY ER'],
  ])('spells %s', (word, phones) => {
    expect(spell(word).join(' ')).toBe(phones);
  });

  test('always answers phones of the model, whatever the letters', () => {
    for (const word of ['xyz', 'qi', "o'clock", 'rhythm', 'ee', 'y']) {
      expect(spell(word).every((p) => outputOf(p) !== null)).toBe(true);
    }
  });

  // The CMU Pronouncing Dictionary is the published source; guessing is measured against it, not claimed to equal it.
  test('guesses workshop words near enough to the CMU dictionary', () => {
    const shop =
      'bolt nut washer spring lever cable pedal chain bracket cover plate filter bearing spoke valve lamp mirror seat stand frame shock plug fuse switch strap buckle clip link guard rotor drum spacer collar sleeve seal screw stud brake clutch engine fuel tank float needle wheel shaft gear drain torque tension pressure thread tight clean greased locked level firm square true straight closed sealed checked'.split(
        ' ',
      );
    const known = lexicon(
      Object.fromEntries(Object.entries(dictionary).map(([w, p]) => [w, p.replace(/\d/g, '')])),
    );
    const far = shop.map((w) =>
      phraseDistance(`g${w}`, w, (x) => (x.startsWith('g') && x.slice(1) === w ? spell(w) : known.phones(x))),
    );
    const mean = far.reduce((a, b) => a + b, 0) / far.length;
    expect(mean).toBeLessThan(0.16);
  });
});
