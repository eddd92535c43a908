import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { emptyEntry, entryValue, readBack, typeInto } from '../../src/press/number-entry.ts';
import { figureIn, sourceOf } from '../../src/press/typed-figure.ts';

const strokeFor = (key: string) => {
  if (key === '<') return { kind: 'erase' } as const;
  return key === '.' ? ({ kind: 'decimal' } as const) : ({ kind: 'digit', digit: key } as const);
};
const typed = (keys: string) => [...keys].reduce((entry, key) => typeInto(entry, strokeFor(key)), emptyEntry);

describe('a figure typed by hand', () => {
  test.each([
    ['90.5', '90.5', 90.5],
    ['.5', '0.5', 0.5],
    ['007', '7', 7],
    ['0', '0', 0],
    ['1.2.3', '1.23', 1.23],
    ['12<3', '13', 13],
    ['12.', '12.', 12],
    ['1<', '', null],
    ['<', '', null],
    ['1234567890', '12345678', 12_345_678],
  ])('%s shows %s', (keys, text, value) => {
    const entry = typed(keys);
    expect(entry.text).toBe(text);
    expect(entryValue(entry)).toBe(value);
  });

  test('is read back digit by digit', () => {
    expect(readBack(typed('90.5'))).toBe('nine zero decimal five');
    expect(readBack(typed('12.'))).toBe('one two');
    expect(readBack(emptyEntry)).toBe('');
    expect(readBack({ text: '-1.5' })).toBe('minus one decimal five');
  });

  test('always is a figure or nothing, and its read-back says every sign of it', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(...'0123456789.<') }), (keys) => {
        const entry = typed(keys);
        const value = entryValue(entry);
        expect(entry.text).toMatch(/^(|(0|[1-9]\d*)(\.\d*)?)$/);
        if (value === null) expect(entry.text).toBe('');
        else expect(Number.isFinite(value)).toBe(true);
        const said = readBack(entry)
          .split(' ')
          .filter((word) => word !== '');
        expect(said).toHaveLength(entry.text.replace(/\.$/, '').length);
      }),
    );
  });

  test('erasing as often as was typed leaves nothing', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(...'0123456789.') }), (keys) => {
        let entry = typed(keys);
        for (let i = entry.text.length; i > 0; i -= 1) entry = typeInto(entry, { kind: 'erase' });
        expect(entry).toEqual(emptyEntry);
      }),
    );
  });
});

describe('a text that a device typed', () => {
  test.each([
    ['90.5', '90.5', null],
    ['+0012,50 mm', '12.50', 'mm'],
    ['-1.5', '-1.5', null],
    ['35', '35', null],
    ['90.0 N·m', '90.0', 'N·m'],
    ['12345', '12345', null],
  ])('%s is the figure %s', (text, figure, unit) => {
    expect(figureIn(text)).toEqual({ entry: { text: figure }, unit });
    expect(sourceOf(text)).toBe('gauge');
  });

  test.each(['123456', '2000000000015', 'T-0042', 'B17', '12A4', '1.2.3', '', '-'])(
    '%s is a label',
    (text) => {
      expect(figureIn(text)).toBeNull();
      expect(sourceOf(text)).toBe('scanner');
    },
  );
});
