import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { FAST, fastKeys, type Sorted } from '../../src/press/fast-keys.ts';
import type { Stroke } from '../../src/press/stroke.ts';
import { stroke, typing } from './keys.ts';

/** Gives the strokes with timers that run on time, and one long after the last. */
function sort(strokes: readonly Stroke[]): Sorted[] {
  const keys = fastKeys();
  const until = (at: number): Sorted[] => {
    const due = keys.nextTickAt();
    return due !== null && due <= at ? keys.tick(due) : [];
  };
  const out = strokes.flatMap((one) => [...until(one.at), ...keys.take(one)]);
  return [...out, ...until(Number.POSITIVE_INFINITY)];
}

const hands = (sorted: readonly Sorted[]) =>
  sorted.flatMap((one) => (one.kind === 'hands' ? [one.stroke] : []));
const typed = (sorted: readonly Sorted[]) => sorted.filter((one) => one.kind === 'typed');
const at = (text: string, gaps: readonly number[]) => {
  let now = 1000;
  return [...text, 'Enter'].map((key, i) => {
    now += gaps[i] ?? 0;
    return [key, now] as const;
  });
};

describe('a device', () => {
  test('that types a figure and Enter is a gauge', () => {
    const out = sort(typing(at('90.5', [0, 8, 8, 8, 8]), 4));
    expect(typed(out)).toEqual([{ kind: 'typed', text: '90.5', source: 'gauge', at: 1032 }]);
    expect(hands(out).filter((s) => s.phase === 'down')).toEqual([]);
  });

  test('that types a label is a scanner, and the letters in it command nothing', () => {
    const out = sort(typing(at('t-0042 s', Array(9).fill(5)), 2));
    expect(typed(out)).toMatchObject([{ text: 't-0042 s', source: 'scanner' }]);
    expect(hands(out).filter((s) => s.phase === 'down')).toEqual([]);
  });

  test('may hold Shift for capitals and end with Tab', () => {
    const strokes = [
      stroke('down', 'T', 0, { shift: true }),
      stroke('up', 'T', 2),
      stroke('down', 'Shift', 4, { shift: true }),
      stroke('down', 'A', 6, { shift: true }),
      stroke('down', '7', 12),
      stroke('down', 'Tab', 18),
    ];
    expect(typed(sort(strokes))).toMatchObject([{ text: 'TA7' }]);
  });

  test('that closes with no Enter is a device all the same: its letters are no commands', () => {
    const out = sort(typing(at('sf19', [0, 8, 8, 8, 300]), 4));
    expect(typed(out)).toMatchObject([{ text: 'sf19', source: 'scanner' }]);
    expect(
      hands(out)
        .filter((s) => s.phase === 'down')
        .map((s) => s.key),
    ).toEqual(['Enter']);
  });

  test('keeps its text whole while a pedal repeats', () => {
    const label = typing(at('b17', [0, 12, 12, 12]), 3);
    const pedal = [5, 25].map((by) => stroke('down', 'PageDown', 1000 + by, { repeat: true }));
    const out = sort([...label, ...pedal].sort((a, b) => a.at - b.at));
    expect(typed(out)).toMatchObject([{ text: 'b17' }]);
    expect(hands(out).filter((s) => s.phase === 'down')).toEqual(pedal);
  });

  test('of any speed up to the limit is known, whatever it types', () => {
    const text = fc.string({
      unit: fc.constantFrom(...'0123456789abcdefghijklmnopqrstuvwxyz-.'),
      minLength: FAST.least,
      maxLength: 30,
    });
    fc.assert(
      fc.property(
        text,
        fc.array(fc.integer({ min: 0, max: FAST.meanMs - 1 }), { minLength: 31, maxLength: 31 }),
        (label, gaps) => {
          const out = sort(typing(at(label, gaps), 1));
          expect(typed(out)).toMatchObject([{ text: label }]);
          expect(hands(out).filter((s) => s.phase === 'down')).toEqual([]);
        },
      ),
    );
  });
});

describe('hands', () => {
  const key = fc.constantFrom(...'0123456789.pwat', 'Enter', 'PageDown', 'Backspace', ' ');
  /** Pauses between keys; now and then two fingers fall together, never twice running. */
  const pauses = fc
    .array(
      fc.record({
        slow: fc.integer({ min: FAST.gapMs + 1, max: 400 }),
        roll: fc.option(fc.integer({ min: 0, max: 40 })),
      }),
      { minLength: 20, maxLength: 20 },
    )
    .map((list) => list.flatMap(({ slow, roll }) => (roll === null ? [slow] : [slow, roll])));

  test('are never taken for a device, and lose no key', () => {
    fc.assert(
      fc.property(
        fc.array(key, { maxLength: 20 }),
        pauses,
        fc.integer({ min: 1, max: 200 }),
        (keys, gaps, heldMs) => {
          let now = 0;
          const pressed = keys.map((one, i) => {
            now += gaps[i] ?? 100;
            return [one, now] as const;
          });
          const strokes = typing(pressed, heldMs);
          const out = sort(strokes);
          expect(typed(out)).toEqual([]);
          // A pedal may overtake a character that waits; everything that is typed stays in order.
          const downs = (list: readonly Stroke[], pedal: boolean) =>
            list.filter((s) => s.phase === 'down' && (s.key === 'PageDown') === pedal);
          for (const pedal of [true, false]) expect(downs(hands(out), pedal)).toEqual(downs(strokes, pedal));
          expect(hands(out)).toHaveLength(strokes.length);
        },
      ),
      { numRuns: 500 },
    );
  });

  test('that hurry, 35 ms between keys, are hands still', () => {
    const out = sort(typing(at('905', [0, 35, 35, 35]), 10));
    expect(typed(out)).toEqual([]);
  });

  test('get each release after its press', () => {
    const out = hands(
      sort(
        typing(
          [
            ['b', 0],
            ['b', 200],
          ],
          10,
        ),
      ),
    );
    expect(out.map((s) => [s.phase, s.at])).toEqual([
      ['down', 0],
      ['up', 10],
      ['down', 200],
      ['up', 210],
    ]);
  });

  test('get a pedal or Enter at once: only what types a character waits', () => {
    const keys = fastKeys();
    for (const one of ['F13', 'PageDown', 'Enter', ' ']) {
      expect(keys.take(stroke('down', one, 0))).toHaveLength(1);
      expect(keys.take(stroke('up', one, 10))).toHaveLength(1);
    }
    expect(keys.nextTickAt()).toBeNull();
  });

  test('that press Enter quickly after two digits are still hands', () => {
    const out = sort(
      typing(
        [
          ['9', 0],
          ['0', 20],
          ['Enter', 40],
        ],
        60,
      ),
    );
    expect(typed(out)).toEqual([]);
    expect(
      hands(out)
        .filter((s) => s.phase === 'down')
        .map((s) => s.key),
    ).toEqual(['9', '0', 'Enter']);
  });
});

test('what waits when the window loses its keys is forgotten', () => {
  const keys = fastKeys();
  keys.take(stroke('down', '9', 0));
  keys.lost();
  expect(keys.nextTickAt()).toBeNull();
  expect(keys.tick(1000)).toEqual([]);
});

test('a clock that runs back makes no device', () => {
  const out = sort([
    stroke('down', '1', 900),
    stroke('down', '2', 600),
    stroke('down', '3', 300),
    stroke('down', 'Enter', 0),
  ]);
  expect(typed(out)).toEqual([]);
});

test('FNC1 of a label comes as Ctrl+] and leaves the scan whole', () => {
  const keys = [...'10B7'].map((key, at) => [key, at * 8] as const);
  const after = [...'219'].map((key, at) => [key, 48 + at * 8] as const);
  const separator = { code: 'BracketRight', chord: true };
  const strokes = [
    ...typing([...keys], 4),
    stroke('down', 'Control', 30, { chord: true }),
    stroke('down', ']', 36, separator),
    stroke('up', ']', 40, separator),
    stroke('up', 'Control', 42),
    ...typing([...after, ['Enter', 72]], 4),
  ].sort((a, b) => a.at - b.at);
  expect(typed(sort(strokes))).toMatchObject([{ text: '10B7\u001d219', source: 'scanner' }]);
});
