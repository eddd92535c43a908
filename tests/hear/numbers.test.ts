import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { FIGURE_WORDS, figureOf, readBack } from '../../src/hear/numbers.ts';

const digits = (text: string) => {
  const f = figureOf(text.split(' ').filter(Boolean));
  return 'digits' in f ? f.digits : f.code;
};

describe('spoken figures', () => {
  test.each([
    ['one two five', '125'],
    ['zero decimal three', '0.3'],
    ['decimal eight', '0.8'],
    ['niner zero point fife', '90.5'],
    ['tree fower', '34'],
    ['twelve point five', '12.5'],
    ['twenty', '20'],
    ['twenty five', '25'],
    ['forty niner decimal zero two', '49.02'],
    ['one hundred', '100'],
    ['one hundred eighty', '180'],
    ['two hundred twelve', '212'],
    ['three hundred forty five', '345'],
  ])('%s is %s', (said, written) => {
    expect(digits(said)).toBe(written);
  });

  test.each([
    ['', 'figure-empty'],
    ['five twelve', 'figure-could-be-two'],
    ['one twenty', 'figure-could-be-two'],
    ['twenty zero', 'figure-could-be-two'],
    ['twenty twelve', 'figure-could-be-two'],
    ['hundred', 'figure-could-be-two'],
    ['zero hundred', 'figure-could-be-two'],
    ['one hundred five', 'figure-could-be-two'],
    ['one point twenty', 'figure-could-be-two'],
    ['one point two point three', 'figure-two-points'],
    ['one point', 'figure-ends-with-point'],
    ['one bar', 'figure-unknown-word'],
  ])('"%s" is refused: %s', (said, code) => {
    expect(digits(said)).toBe(code);
  });

  test('what is read back means the same figure', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 99999 }), fc.integer({ min: 0, max: 999 }), (whole, part) => {
        const written = part === 0 ? `${whole}` : `${whole}.${`${part}`.padStart(3, '0')}`;
        const again = figureOf(readBack(written).split(' '));
        expect('digits' in again && again.digits).toBe(written);
        expect('value' in again && again.value).toBe(Number(written));
      }),
    );
  });

  test('every row of figure words gets one answer and never throws', () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...FIGURE_WORDS), { maxLength: 6 }), (words) => {
        const f = figureOf(words);
        if ('value' in f) expect(Number.isFinite(f.value) && f.value >= 0).toBe(true);
        else expect(f.says.length).toBeGreaterThan(10);
      }),
    );
  });
});
