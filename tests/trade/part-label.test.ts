import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkDigit, labelInWords, readLabel, typedLabelInWords } from '../../src/trade/part-label.ts';

const digits = (length: number) =>
  fc
    .array(fc.integer({ min: 0, max: 9 }), { minLength: length, maxLength: length })
    .map((all) => all.join(''));
const gtin = (length: number) => digits(length - 1).map((body) => body + checkDigit(body));
// Letters and signs that GS1 allows and that end no element.
const value = fc
  .array(fc.constantFrom(...'ABCXYZabcxyz0123456789-/.'), { minLength: 1, maxLength: 20 })
  .map((all) => all.join(''));
const GS = '\u001d';

describe('a part label', () => {
  test('says the same in brackets, with FNC1, and with a symbology identifier', () => {
    fc.assert(
      fc.property(gtin(14), value, value, (code, batch, serial) => {
        const wanted = { code, gtin: true, batch, serial };
        expect(readLabel(`(01)${code}(10)${batch}(21)${serial}`)).toEqual(wanted);
        expect(readLabel(`01${code}10${batch}${GS}21${serial}`)).toEqual(wanted);
        expect(readLabel(`]C1${GS}21${serial}${GS}01${code}10${batch}`)).toEqual(wanted);
      }),
    );
  });

  test('a GTIN of 8, 12, 13 or 14 digits is one code, however many noughts stand before it', () => {
    fc.assert(
      fc.property(fc.constantFrom(8, 12, 13, 14).chain(gtin), (code) => {
        const wanted = { code: code.padStart(14, '0'), gtin: true, batch: null, serial: null };
        expect(readLabel(code)).toEqual(wanted);
        expect(readLabel(`(01)${wanted.code}`)).toEqual(wanted);
      }),
    );
  });

  test('one digit changed, or two different neighbours swapped unless they differ by five, is found', () => {
    fc.assert(
      fc.property(gtin(13), fc.nat(12), fc.integer({ min: 1, max: 9 }), (code, at, by) => {
        const all = [...code].map(Number);
        const changed = all.with(at, ((all[at] ?? 0) + by) % 10).join('');
        expect(readLabel(changed)).toBe('check-digit');
        expect(readLabel(`(01)0${changed}(10)A`)).toBe('check-digit');
        const [one, other] = [all[at] ?? 0, all[at + 1] ?? 0];
        if (at < 12 && one !== other && Math.abs(one - other) !== 5)
          expect(
            readLabel(
              all
                .with(at, other)
                .with(at + 1, one)
                .join(''),
            ),
          ).toBe('check-digit');
      }),
    );
  });

  test('whatever was typed, the answer is a label or a fault, and words for it are short', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 150 }), (text) => {
        const label = readLabel(text);
        if (typeof label !== 'string') expect(label.code).toMatch(/^[!-~]+( [!-~]+)*$/);
        expect(typedLabelInWords(text).length).toBeLessThan(200);
      }),
    );
  });

  test.each([
    ['LF-P009', { code: 'LF-P009', gtin: false, batch: null, serial: null }],
    [' LF P9 ', { code: 'LF P9', gtin: false, batch: null, serial: null }],
    // Eight digits that are no GTIN: the workshop's own shelf number.
    ['12345678', { code: '12345678', gtin: false, batch: null, serial: null }],
    [']A0LF-P009', { code: 'LF-P009', gtin: false, batch: null, serial: null }],
    ['', 'unreadable'],
    ['(10)B7', 'unreadable'],
    ['(01)07300011000017(10)', 'unreadable'],
    ['(01)07300011000017(10)A(10)B', 'unreadable'],
    ['(01)07300011000017 loose', 'unreadable'],
    ['(01)7300011000017(10)A', 'unreadable'],
    [`(01)07300011000017(10)${'A'.repeat(21)}`, 'unreadable'],
    ['010730001100001799ABC', 'unreadable'],
    [']C1991234', 'unreadable'],
    ['zwölf', 'unreadable'],
    ['A'.repeat(121), 'unreadable'],
  ])('%j', (text, wanted) => expect(readLabel(text)).toEqual(wanted));

  test('in words', () => {
    const label = readLabel('(01)07300011000017(10)B7(21)12');
    expect(typeof label === 'string' ? label : labelInWords(label)).toBe(
      'GTIN 07300011000017, batch B7, serial 12',
    );
  });
});
