import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type ClockReading, STEP_MS, steadyClock } from '../../src/job/clock.ts';

const NOON = Date.UTC(2026, 4, 4, 12);
const MIN = 60_000;

/** A device whose clocks a test moves. */
function device(wall = NOON) {
  let at: ClockReading = { wall, run: 0 };
  return {
    read: () => at,
    pass: (ms: number) => {
      at = { wall: at.wall + ms, run: at.run + ms };
    },
    set: (ms: number) => {
      at = { ...at, wall: at.wall + ms };
    },
    reload: () => {
      at = { ...at, run: 0 };
    },
  };
}

describe('while the app runs', () => {
  test('is the wall clock as long as nobody sets it', () => {
    const d = device();
    const clock = steadyClock(d.read);
    d.pass(5 * MIN);
    expect(clock.now()).toBe(NOON + 5 * MIN);
    expect([clock.steps, clock.ahead]).toEqual([[], 0]);
  });

  test('set back, a wait of 10 minutes ends after 10 minutes, neither sooner nor an hour later', () => {
    const d = device();
    const clock = steadyClock(d.read);
    const ends = clock.now() + 10 * MIN;
    d.pass(4 * MIN);
    clock.now();
    d.set(-60 * MIN);
    d.pass(6 * MIN - 1);
    expect(clock.now()).toBe(ends - 1);
    d.pass(1);
    expect(clock.now()).toBe(ends);
    expect(clock.steps).toEqual([{ ms: -60 * MIN, at: ends - 1 }]);
    expect(clock.ahead).toBe(60 * MIN);
  });

  test('set back and then right again, it is the wall clock once more', () => {
    const d = device();
    const clock = steadyClock(d.read);
    d.set(-60 * MIN);
    clock.now();
    d.set(60 * MIN);
    expect([clock.now(), clock.ahead]).toEqual([NOON, 0]);
    expect(clock.steps.map(({ ms }) => ms)).toEqual([-60 * MIN, 60 * MIN]);
  });

  test('after a sleep of the device it follows the wall clock and says so', () => {
    const d = device();
    const clock = steadyClock(d.read);
    d.set(8 * 60 * MIN);
    expect(clock.now()).toBe(NOON + 8 * 60 * MIN);
    expect(clock.steps).toEqual([{ ms: 8 * 60 * MIN, at: NOON + 8 * 60 * MIN }]);
  });

  test('a clock that is only kept right is no step', () => {
    const d = device();
    const clock = steadyClock(d.read);
    for (let n = 0; n < 1000; n++) {
      d.pass(1000);
      d.set(n % 2 ? 40 : -30);
      clock.now();
    }
    expect(clock.steps).toEqual([]);
  });

  test('never goes back, and over set-backs counts what really passed to within the slewing', () => {
    const moves = fc.array(
      fc.record({
        pass: fc.integer({ min: 0, max: 30 * MIN }),
        set: fc.oneof(
          fc.constant(0),
          fc.integer({ min: -90 * MIN, max: -STEP_MS }),
          fc.integer({ min: 1 - STEP_MS, max: STEP_MS - 1 }),
        ),
      }),
      { maxLength: 30 },
    );
    fc.assert(
      fc.property(moves, (all) => {
        const d = device();
        const clock = steadyClock(d.read);
        let before = clock.now();
        let passed = 0;
        for (const { pass, set } of all) {
          d.pass(pass);
          d.set(set);
          passed += pass;
          const now = clock.now();
          expect(now).toBeGreaterThanOrEqual(before);
          before = now;
        }
        expect(Math.abs(before - NOON - passed)).toBeLessThanOrEqual(all.length * STEP_MS);
      }),
    );
  });
});

describe('over a reload', () => {
  test('set back while closed: time goes on from the last record, so that no wait ends early', () => {
    const d = device();
    const lastRecord = steadyClock(d.read).now();
    d.pass(3 * MIN);
    d.set(-60 * MIN);
    d.reload();
    const clock = steadyClock(d.read, lastRecord);
    expect(clock.now()).toBe(lastRecord);
    d.pass(10 * MIN);
    // Three of the ten minutes were not seen: the wait takes longer, never shorter.
    expect(clock.now()).toBe(lastRecord + 10 * MIN);
  });

  test('not set: the time that the app was closed counts', () => {
    const d = device();
    const lastRecord = steadyClock(d.read).now();
    d.pass(25 * MIN);
    d.reload();
    expect(steadyClock(d.read, lastRecord).now()).toBe(lastRecord + 25 * MIN);
  });

  test('put right during the job, it does not run ahead by the correction', () => {
    const d = device(NOON - 60 * MIN);
    const clock = steadyClock(d.read, NOON);
    expect([clock.now(), clock.ahead]).toEqual([NOON, 60 * MIN]);
    d.set(60 * MIN);
    d.pass(MIN);
    expect([clock.now(), clock.ahead]).toEqual([NOON + MIN, 0]);
  });
});
