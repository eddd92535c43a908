import { describe, expect, test } from 'vitest';
import { checkDigit, readLabel } from '../../src/trade/part-label.ts';

/** Worked examples of the check digit, each from a page that was opened. */
const published = [
  ['730001100001', 7, 'gs1.se, Så beräknas kontrollsiffran: 5 × 3 + 8 = 23, 30 − 23'],
  ['03600024145', 7, 'Wikipedia, Check digit: 14 × 3 + 11 = 53'],
  ['01010101010', 5, 'Wikipedia, Check digit: the second example of the same page'],
] as const;

describe('GTIN check digit', () => {
  test.each(published)('%s: %i (%s)', (digits, digit) => {
    expect(checkDigit(digits)).toBe(digit);
    expect(readLabel(`${digits}${digit}`)).toMatchObject({ gtin: true });
    for (let other = 0; other < 10; other++) {
      if (other !== digit) expect(readLabel(`${digits}${other}`)).toBe('check-digit');
    }
  });

  test('trap: read from the left, an even count of digits weighs the other way round (computed)', () => {
    // 730001100001 has twelve digits: its first counts once. Weighed from the left it would give 9.
    const fromLeft = [...'730001100001'].reduce(
      (sum, digit, at) => sum + Number(digit) * (at % 2 ? 1 : 3),
      0,
    );
    expect((10 - (fromLeft % 10)) % 10).not.toBe(7);
  });
});

/*
 * Formats of the identifiers: the table in GS1's own toolkit, github.com/gs1/GS1DigitalLinkToolkit.js (opened): 01 is N14 and
 * fixed, 10 and 21 are X..20 and free, 15 and 17 are N6 and fixed. The strings are printed by the projects named.
 */
describe('element strings', () => {
  test('GTIN, best before, batch, run together (documentation of the reader biip, opened)', () => {
    expect(readLabel('010703206980498815210526100329')).toEqual({
      code: '07032069804988',
      gtin: true,
      batch: '0329',
      serial: null,
    });
  });

  test('batch ended by FNC1, expiry after it (test table of a public parser, opened)', () => {
    expect(readLabel('010541234500001310ABC123\u001d17290331')).toEqual({
      code: '05412345000013',
      gtin: true,
      batch: 'ABC123',
      serial: null,
    });
  });

  test('without FNC1 what follows a batch belongs to it: nothing can tell them apart (from memory)', () => {
    expect(readLabel('010541234500001310ABC12317290331')).toMatchObject({ batch: 'ABC12317290331' });
  });
});
