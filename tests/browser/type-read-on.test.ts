import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { breaths } from '../../src/bench/breaths.ts';
import { startFit, stepFit } from '../../src/bench/card-fit.ts';
import { type Console, freshConsole, type Turn } from '../../src/bench/console.ts';
import { arcMinutesOf, CARD, fromCard, tierFor, typeSizes, UNSET } from '../../src/bench/optics.ts';
import { readOn } from '../../src/bench/read-on.ts';
import { viewOf } from '../../src/job/view.ts';
import type { Gesture } from '../../src/press/gesture.ts';
import { jobAt } from './bench-job.ts';

const hold = viewOf(jobAt('torque'), 'ada');
const tap: Gesture = { kind: 'tap', key: 'go', via: 'pedal', downAt: 0 };
const back: Gesture = { kind: 'tap', key: 'back', via: 'pedal', downAt: 0 };
const long: Gesture = { kind: 'long', key: 'go', via: 'pedal', downAt: 0, heldMs: 1400 };
const confirm = (console: Console): Turn => ({
  console,
  effects: [{ kind: 'event', event: { type: 'confirm', evidence: { kind: 'press', heldMs: 1400 } } }],
});
const pages = { station: 3, over: 1 };

describe('a station that takes three pages', () => {
  test('is turned by a tap, and the tap means its usual thing only on the last page', () => {
    let console = freshConsole;
    for (const wanted of [1, 2]) {
      const { console: next, effects } = readOn(console, tap, confirm(console), hold, pages);
      expect([next.page, effects]).toEqual([wanted, []]);
      console = next;
    }
    expect(readOn(console, tap, confirm(console), hold, pages).effects).toHaveLength(1);
  });

  test('takes no long press and no phrase before its last page was shown: each turns the page instead', () => {
    for (const gesture of [long, null]) {
      const { console, effects } = readOn(freshConsole, gesture, confirm(freshConsole), hold, pages);
      expect([console.page, effects]).toEqual([1, []]);
    }
  });

  test('what was read out stays read out after a refusal brought the first page back', () => {
    const read = { ...freshConsole, page: 0, readOut: true };
    expect(readOn(read, long, confirm(read), hold, pages).effects).toHaveLength(1);
  });

  test('is read back by the back pedal', () => {
    const { console } = readOn({ ...freshConsole, page: 2 }, back, confirm(freshConsole), hold, pages);
    expect(console.page).toBe(1);
  });

  test.each(['stop', 'pause', 'fail', 'note'] as const)('%s is free on every page', (type) => {
    const event = type === 'stop' || type === 'note' ? { type, says: 'x' } : { type };
    const meant: Turn = { console: freshConsole, effects: [{ kind: 'event', event }] };
    expect(readOn(freshConsole, null, meant, hold, pages)).toMatchObject({ effects: meant.effects });
  });
});

test('reading on never makes an effect: whatever the gesture, page and page count, effects are those meant or none', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(tap, back, long, null),
      fc.nat(6),
      fc.integer({ min: 1, max: 6 }),
      fc.boolean(),
      (gesture, page, station, readOut) => {
        const console = { ...freshConsole, page, readOut };
        const meant = confirm(console);
        const { effects } = readOn(console, gesture, meant, hold, { station, over: 1 });
        if (effects.length > 0) {
          expect(effects).toEqual(meant.effects);
          expect(readOut || page >= station - 1).toBe(true);
        }
      },
    ),
  );
});

test('breaths put together are the text again, none is longer than asked for unless it is one word', () => {
  fc.assert(
    fc.property(
      fc.array(fc.stringMatching(/^[a-z]{1,12}[.,:;]?$/), { minLength: 1 }),
      fc.integer({ min: 8, max: 80 }),
      (list, most) => {
        const text = list.join(' ');
        const pieces = breaths(text, most);
        expect(pieces.join(' ')).toBe(text);
        for (const piece of pieces) expect(piece.length <= most || !piece.includes(' ')).toBe(true);
      },
    ),
  );
  expect(breaths('Check the clip. Its open end must trail: away from the travel.', 40)).toEqual([
    'Check the clip.',
    'Its open end must trail:',
    'away from the travel.',
  ]);
});

describe('optics', () => {
  test('heights at 1, 2 and 3 m: NUREG-0700, 1.3.1-4, 6.283 D MA / 21600', () => {
    for (const distance of [1000, 2000, 3000]) {
      const { least, reading } = typeSizes({ ...UNSET, distance });
      const capital = (minutes: number) => ((6.283 * distance * minutes) / 21600) * UNSET.pixelsPerMm;
      expect(least * 0.75).toBeCloseTo(capital(16), 1);
      expect(reading * 0.75).toBeCloseTo(capital(20), 1);
      expect(arcMinutesOf(least * 0.75, { ...UNSET, distance })).toBeCloseTo(16, 6);
    }
  });

  test('a screen has room for so much: a ten-inch tablet at 1, 2 and 3 m', () => {
    const at = (distance: number) => tierFor(800, typeSizes({ ...UNSET, distance }));
    expect([at(1000), at(2000), at(3000)]).toEqual(['roomy', 'bare', 'bare']);
  });

  test('the card outline comes to any screen by pressing towards the edge of the card', () => {
    fc.assert(
      fc.property(fc.double({ min: 2.5, max: 11, noNaN: true }), (pixelsPerMm) => {
        const card = pixelsPerMm * CARD.width;
        let fit = startFit();
        let steps = 0;
        while (Math.abs(fit.width / card - 1) > 0.006 && steps++ < 60)
          fit = stepFit(fit, fit.width < card ? 'wider' : 'narrower');
        expect(Math.abs((fromCard(fit.width) ?? 0) / pixelsPerMm - 1)).toBeLessThan(0.006);
        expect(steps).toBeLessThan(40);
      }),
    );
  });
});
