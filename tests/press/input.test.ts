import { describe, expect, test } from 'vitest';
import { input, type Pressed } from '../../src/press/input.ts';
import { defaultLayout, type Layout, PLAIN, pedalHolds, withPedals } from '../../src/press/layout.ts';
import type { Stroke } from '../../src/press/stroke.ts';
import { stroke, typing } from './keys.ts';

/** All that is told, with timers on time. */
function told(layout: Layout, strokes: readonly Stroke[]): Pressed[] {
  const keys = input(layout);
  const out: Pressed[] = [];
  const runTo = (at: number) => {
    for (let due = keys.nextTickAt(); due !== null && due <= at; due = keys.nextTickAt())
      out.push(...keys.tick(due));
  };
  for (const one of strokes) {
    runTo(one.at);
    out.push(...keys.stroke(one).pressed);
  }
  runTo((strokes.at(-1)?.at ?? 0) + 1000);
  return out.filter((one) => one.kind !== 'holding');
}
const letterPedal = withPedals(defaultLayout, [{ code: 'KeyA', role: 'go', traits: PLAIN }]);

describe('from keys to gestures', () => {
  test('a figure by hand, read back by Enter', () => {
    const out = told(
      defaultLayout,
      typing(
        [
          ['9', 0],
          ['0', 150],
          [',', 300],
          ['5', 450],
          ['Enter', 700],
        ],
        60,
      ),
    );
    expect(out).toEqual([
      { kind: 'digit', digit: '9' },
      { kind: 'digit', digit: '0' },
      { kind: 'decimal' },
      { kind: 'digit', digit: '5' },
      { kind: 'enter' },
    ]);
  });

  test('a label that a scanner types moves nothing, whatever letters it has', () => {
    const out = told(
      defaultLayout,
      typing(
        [...'sfp-19', 'Enter'].map((key, i) => [key, i * 9] as const),
        3,
      ),
    );
    expect(out).toEqual([{ kind: 'typed', text: 'sfp-19', source: 'scanner', at: 54 }]);
  });

  test('a scan while a pedal is down leaves the press alone', () => {
    const scan = typing(
      [...'b17', 'Enter'].map((key, i) => [key, 400 + i * 9] as const),
      3,
    );
    const out = told(defaultLayout, [stroke('down', 'F13', 0), ...scan, stroke('up', 'F13', 1500)]);
    expect(out.map((one) => one.kind)).toEqual(['typed', 'long']);
  });

  test('letters follow the label on the key, not its place', () => {
    const out = told(defaultLayout, [stroke('down', 'a', 0, { code: 'KeyQ' })]);
    expect(out).toEqual([{ kind: 'key', name: 'again' }]);
  });

  test('the number pad types figures with Num Lock off, the digit row where digits need Shift', () => {
    const pad = stroke('down', 'PageUp', 0, { code: 'Numpad9' });
    const row = stroke('down', 'é', 200, { code: 'Digit2' });
    expect(told(defaultLayout, [pad, row])).toEqual([
      { kind: 'digit', digit: '9' },
      { kind: 'digit', digit: '2' },
    ]);
  });

  test('a shortcut of the browser is not ours', () => {
    const keys = input(defaultLayout);
    expect(keys.stroke(stroke('down', 'p', 0, { chord: true }))).toEqual({ pressed: [], ours: false });
    expect(keys.tick(500)).toEqual([]);
  });

  test('only keys that do something are taken from the browser', () => {
    const ours = (key: string) => input(defaultLayout).stroke(stroke('down', key, 0)).ours;
    for (const key of ['PageDown', 'F13', 'Enter', '9', '?', 'Escape']) expect(ours(key)).toBe(true);
    for (const key of ['Tab', 'F5', 'Shift', 'Home']) expect(ours(key)).toBe(false);
  });

  test('a device that names no code is known by its key', () => {
    const keys = [stroke('down', 'PageDown', 0, { code: '' }), stroke('up', 'PageDown', 90, { code: '' })];
    expect(told(defaultLayout, keys)).toMatchObject([{ kind: 'tap', key: 'go' }]);
  });
});

describe('a learnt pedal that sends a letter', () => {
  test('taps and holds, and gives the letter back with Shift', () => {
    const letter = (from: number, to: number, shift: boolean) => [
      stroke('down', shift ? 'A' : 'a', from, { shift, code: 'KeyA' }),
      stroke('up', 'a', to, { code: 'KeyA' }),
    ];
    const out = told(letterPedal, [
      ...letter(0, 100, false),
      ...letter(1000, 2400, false),
      ...letter(4000, 4100, true),
    ]);
    expect(out).toMatchObject([
      { kind: 'tap', key: 'go', via: 'pedal', downAt: 0 },
      { kind: 'long', key: 'go', via: 'pedal', heldMs: 1400 },
      { kind: 'key', name: 'again' },
    ]);
  });
});

describe('losing the keys', () => {
  test('forgets what waits and what is down', () => {
    const keys = input(defaultLayout);
    keys.stroke(stroke('down', '9', 0));
    keys.stroke(stroke('down', 'F13', 5));
    expect(keys.lost(20).map((one) => one.kind)).toEqual(['dropped']);
    expect(keys.tick(2000)).toEqual([]);
    expect(keys.stroke(stroke('up', 'F13', 2000)).pressed).toEqual([]);
    expect(keys.nextTickAt()).toBeNull();
  });
});

test('a stored pedal says whether it can open a hold point', () => {
  expect(pedalHolds([{ code: 'F13', role: 'go', traits: PLAIN }])).toBe(true);
  expect(pedalHolds([{ code: 'F13', role: 'go', traits: { ...PLAIN, holds: false } }])).toBe(false);
  expect(pedalHolds([{ code: 'F13', role: 'back', traits: PLAIN }])).toBe(false);
});

test('a layout is plain JSON', () => {
  expect(JSON.parse(JSON.stringify(letterPedal))).toEqual(letterPedal);
});
