import { describe, expect, test } from 'vitest';
import { figureOf } from '../../src/hear/numbers.ts';
import { OWN_WORDS } from '../../src/hear/own-words.ts';

/*
 * Source: the pronunciation of numbers of ICAO Annex 10, volume II, 5.2.1.4.3, in the table at
 * icao4u.com/aviation-pronunciation-guide-numbers-letters: ZE-RO, WUN, TOO, TREE, FOW-er, FIFE, SIX, SEV-en, AIT, NIN-er,
 * DAY-SEE-MAL, HUN-dred. The spelling of a word here is ours; its value and its sounds are the table's.
 */
const spoken: readonly (readonly [word: string, digit: string])[] = [
  ['zero', '0'],
  ['one', '1'],
  ['two', '2'],
  ['tree', '3'],
  ['fower', '4'],
  ['fife', '5'],
  ['six', '6'],
  ['seven', '7'],
  ['eight', '8'],
  ['niner', '9'],
];

describe('ICAO Annex 10 spoken digits', () => {
  test.each(spoken)('%s is %s', (word, digit) => {
    expect(figureOf([word])).toMatchObject({ digits: digit });
  });

  test('decimal stands for the point', () => {
    expect(figureOf('niner zero decimal fife'.split(' '))).toMatchObject({ digits: '90.5' });
  });

  test('a whole hundred', () => {
    expect(figureOf(['fower', 'hundred'])).toMatchObject({ value: 400 });
  });

  test('the odd ones sound as the table has them', () => {
    expect(OWN_WORDS).toMatchObject({ tree: 'T R IY', fower: 'F OW ER', fife: 'F AY F', niner: 'N AY N ER' });
  });
});
