import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readingsIn, readLine, usablePattern } from '../../src/press/line-pattern.ts';
import { figureIn } from '../../src/press/typed-figure.ts';

describe('a reading shown once gives the pattern for all others', () => {
  test.each([
    ['ST,GS,+00012.35,mm', '{figure},{unit}', 'ST,GS,-00000.40,mm', '-00000.40 mm'],
    ['12.35 mm', '{figure} {unit}', '3.10 in', '3.10 in'],
    ['+  12.35 mm', '{figure} {unit}', '-   0.02 mm', '-0.02 mm'],
    ['01A+00012.350', 'A{figure}', '01A-00000.100', '-00000.100'],
    ['ID7;TQ;90.5;Nm;OK', '{figure};{unit}', 'ID7;TQ;4.2;Nm;OK', '4.2 Nm'],
  ])('%s', (shown, contains, next, read) => {
    const [first] = readingsIn(shown);
    expect(first?.pattern).toContain(contains);
    expect(readLine(first?.pattern ?? '', next)).toBe(read);
    expect(readLine(first?.pattern ?? '', shown)).not.toBeNull();
  });

  test('what is read is a figure for the bench', () => {
    const pattern = readingsIn('ST,GS,+00012.35,mm')[0]?.pattern ?? '';
    expect(figureIn(readLine(pattern, 'ST,GS,+00012.35,mm') ?? '')).toEqual({
      entry: { text: '12.35' },
      unit: 'mm',
    });
  });

  test('another kind of line is no reading', () => {
    const pattern = readingsIn('ST,GS,+00012.35,mm')[0]?.pattern ?? '';
    for (const line of ['US,GS,+00012.35,mm', 'ST,GS,------,mm', 'battery low', 'ST,GS,1.0,mm,2', '']) {
      expect(readLine(pattern, line)).toBeNull();
    }
  });

  test('where several numbers stand, each is offered, the likeliest first', () => {
    const offered = readingsIn('3;17;90.5 Nm');
    expect(offered.map(({ figure }) => figure)).toEqual(['90.5', '3', '17']);
    expect(offered[0]).toEqual({ figure: '90.5', unit: 'Nm', pattern: '#;#;{figure} {unit}' });
  });

  test('a line without a number offers nothing', () => expect(readingsIn('ready')).toEqual([]));
});

test.each([
  ['{figure}', true],
  ['{figure} {unit}', true],
  ['{unit}', false],
  ['{figure}{figure}', false],
  ['{figure} {unit} {unit}', false],
])('the pattern %s is usable: %s', (pattern, usable) => expect(usablePattern(pattern)).toBe(usable));

test('every pattern that is offered reads the line it came from, whatever the line', () => {
  const part = fc.oneof(
    fc.constantFrom('ST', ',', ';', ' ', ':', 'mm', 'Nm', '.', '(', '[', '*', '+', '\\', '$', '|'),
    fc.double({ min: -999, max: 999, noNaN: true }).map((n) => n.toFixed(2)),
    fc.integer({ min: 0, max: 99_999 }).map(String),
  );
  fc.assert(
    fc.property(fc.array(part, { minLength: 1, maxLength: 12 }), (parts) => {
      const line = parts.join('').trim();
      for (const { figure, pattern } of readingsIn(line)) {
        expect(readLine(pattern, line)?.startsWith(figure)).toBe(true);
      }
    }),
    { numRuns: 500 },
  );
});
