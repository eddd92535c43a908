import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { guarded, toCsv } from '../../src/book/csv.ts';

/** Reads CSV by the grammar of RFC 4180, section 2, and by nothing else: throws on what that does not allow. */
function read(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let at = 0;
  while (at < text.length) {
    let field = '';
    if (text[at] === '"') {
      for (at++; ; at++) {
        if (at >= text.length) throw new Error('A quoted field has no end.');
        if (text[at] !== '"') field += text[at];
        else if (text[at + 1] === '"') {
          field += '"';
          at++;
        } else break;
      }
      at++;
    } else {
      for (; at < text.length && text[at] !== ',' && text[at] !== '\r'; at++) {
        if (text[at] === '"' || text[at] === '\n') throw new Error('This must stand in quotes.');
        field += text[at];
      }
    }
    row.push(field);
    if (text[at] === ',') {
      at++;
      if (at === text.length) row.push('');
      continue;
    }
    if (text.slice(at, at + 2) !== '\r\n') throw new Error('A line ends in CR LF.');
    at += 2;
    rows.push(row);
    row = [];
  }
  return rows;
}

/*
 * RFC 4180, section 2, rules 1 to 7, as retold in the README of a public reader of the format (bobcat csv4180) and in a
 * mirror of the RFC (mirrors.blix.com, csv-rfc.txt), both opened.
 */
describe('RFC 4180, section 2', () => {
  const table = (rows: readonly (readonly (string | number | boolean | null)[])[]) =>
    toCsv({ columns: ['a', 'b', 'c'], rows });

  test('rules 1 to 4: lines end in CR LF, a line of names, the same number of fields, no comma after the last, blanks kept', () => {
    expect(
      table([
        ['aaa', ' bbb ', 'ccc'],
        ['zzz', 'yyy'],
      ]),
    ).toBe('a,b,c\r\naaa, bbb ,ccc\r\nzzz,yyy,\r\n');
  });

  test('rules 5 to 7: commas, quotes and line ends stand in quotes; a quote is doubled', () => {
    expect(table([['aaa', 'b\r\nbb', 'ccc']])).toBe('a,b,c\r\naaa,"b\r\nbb",ccc\r\n');
    expect(table([['aaa', 'b"bb', 'c,c']])).toBe('a,b,c\r\naaa,"b""bb","c,c"\r\n');
  });

  test('whatever the texts are, a reader of that grammar gets them back, guarded', () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(fc.string({ unit: 'binary' }), { minLength: 3, maxLength: 3 })),
        (rows) => {
          expect(read(table(rows))).toEqual([['a', 'b', 'c'], ...rows.map((row) => row.map(guarded))]);
        },
      ),
    );
  });
});

/* Signs at the beginning of a field that spreadsheets take for a formula: the OWASP page on CSV injection, from memory. */
describe('formulas do not run', () => {
  test.each([
    '=1+1',
    '+1',
    '-1',
    '@sum',
    '\t=1',
    '\r=1',
    '\n=1',
    '=cmd|x',
    '  =1',
    '＝1',
    '＋1',
    '－1',
    '＠1',
  ])('%j gets an apostrophe', (text) => {
    expect(guarded(text)).toBe(`'${text}`);
    const [, [field] = []] = read(toCsv({ columns: ['a'], rows: [[text]] }));
    expect(field).toBe(`'${text}`);
  });

  test.each(['1-1', 'a=b', '', ' ', "'=1", '½ turn', '"=1"'])('%j stays as it is', (text) =>
    expect(guarded(text)).toBe(text),
  );

  test('figures stay figures, those below zero too; what is no number is left empty', () => {
    const rows = [
      [-3.2, 0, 1e21],
      [Number.NaN, null, true],
    ];
    expect(toCsv({ columns: ['a', 'b', 'c'], rows })).toBe('a,b,c\r\n-3.2,0,1e+21\r\n,,true\r\n');
  });
});
