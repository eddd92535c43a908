import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Gesture, TIMES } from '../../src/press/gesture.ts';
import { defaultLayout, type Layout } from '../../src/press/layout.ts';
import { recogniser } from '../../src/press/recogniser.ts';

type Act =
  | { do: 'down'; code: string; at: number; repeat: boolean }
  | { do: 'up'; code: string; at: number }
  | { do: 'tick'; at: number }
  | { do: 'lost'; at: number };

const CODES = ['F13', 'PageUp', 'Enter'];
const layouts: Layout[] = [defaultLayout, { ...defaultLayout, doubles: ['go', 'back'] }];

const act = (at: number) =>
  fc.oneof(
    {
      weight: 4,
      arbitrary: fc.record({
        do: fc.constant('down' as const),
        code: fc.constantFrom('F13', ...CODES, 'F13'),
        at: fc.constant(at),
        repeat: fc.boolean(),
      }),
    },
    {
      weight: 4,
      arbitrary: fc.record({
        do: fc.constant('up' as const),
        code: fc.constantFrom('F13', ...CODES, 'F13'),
        at: fc.constant(at),
      }),
    },
    { weight: 2, arbitrary: fc.record({ do: fc.constant('tick' as const), at: fc.constant(at) }) },
    { weight: 1, arbitrary: fc.record({ do: fc.constant('lost' as const), at: fc.constant(at) }) },
  );

/** Steps between events: chatter, taps, holds, forgetting, and none at all. */
const step = fc.oneof(
  fc.constant(0),
  fc.integer({ min: 1, max: 60 }),
  fc.integer({ min: 60, max: 800 }),
  fc.integer({ min: 800, max: 5000 }),
  fc.constant(12_000),
);
const acts = fc.array(step, { maxLength: 40 }).chain((steps) => {
  let at = 0;
  const times = steps.map((by) => {
    at += by;
    return at;
  });
  return fc.tuple(...times.map(act)) as fc.Arbitrary<Act[]>;
});

function play(layout: Layout, list: readonly Act[]): Gesture[] {
  const r = recogniser(layout);
  return list.flatMap((a) => {
    if (a.do === 'down') return r.down(a.code, a.at, a.repeat);
    if (a.do === 'up') return r.up(a.code, a.at);
    return a.do === 'tick' ? r.tick(a.at) : r.lost(a.at);
  });
}

const ends = ['tap', 'enter', 'long', 'released', 'dropped'];
const presses = (gestures: readonly Gesture[]) =>
  gestures.reduce((n, g) => n + (g.kind === 'double' ? 2 : ends.includes(g.kind) ? 1 : 0), 0);

/** Was there a key of this role that went down at `from`, stayed down without a loss, and came up at `to`? */
function reallyHeld(list: readonly Act[], role: string, from: number, to: number): boolean {
  return CODES.filter((code) => defaultLayout.roles[code]?.role === role).some((code) => {
    const starts = list.flatMap((a, i) =>
      a.do === 'down' && a.code === code && !a.repeat && a.at === from ? [i] : [],
    );
    return starts.some((start) => {
      const rest = list.slice(start + 1);
      const end = rest.findIndex((a) => a.do === 'lost' || (a.do === 'up' && a.code === code));
      const last = rest[end];
      return last?.do === 'up' && last.at === to;
    });
  });
}

describe('whatever the keys do', () => {
  test('a long press was really down that long, from its press to its release, with no loss between', () => {
    let seen = 0;
    fc.assert(
      fc.property(acts, fc.constantFrom(...layouts), (list, layout) => {
        for (const g of play(layout, list)) {
          if (g.kind !== 'long') continue;
          seen += 1;
          expect(g.heldMs).toBeGreaterThanOrEqual(TIMES.holdMs);
          expect(g.heldMs).toBeLessThanOrEqual(TIMES.stuckMs);
          expect(reallyHeld(list, g.key, g.downAt, g.downAt + g.heldMs)).toBe(true);
        }
      }),
      { numRuns: 5000 },
    );
    expect(seen).toBeGreaterThan(100);
  });

  test('no press ends twice', () => {
    fc.assert(
      fc.property(acts, fc.constantFrom(...layouts), (list, layout) => {
        const downs = list.filter((a) => a.do === 'down' && !a.repeat).length;
        expect(presses(play(layout, list))).toBeLessThanOrEqual(downs);
      }),
      { numRuns: 1000 },
    );
  });

  test('a press that was released too early is shorter than the hold time', () => {
    fc.assert(
      fc.property(acts, (list) => {
        for (const g of play(defaultLayout, list)) {
          if (g.kind !== 'released') continue;
          expect(g.heldMs).toBeGreaterThan(TIMES.tapMs);
          expect(g.heldMs).toBeLessThan(TIMES.holdMs);
        }
      }),
    );
  });

  test('timers only show progress: more of them never change what a press was', () => {
    const told = (gestures: Gesture[]) => gestures.filter((g) => g.kind !== 'holding');
    fc.assert(
      fc.property(acts, fc.constantFrom(...layouts), (list, layout) => {
        const end: Act = { do: 'tick', at: (list.at(-1)?.at ?? 0) + 30_000 };
        const few = [...list.filter((a) => a.do !== 'tick'), end];
        const many = few.flatMap((a, i): Act[] => {
          const from = few[i - 1]?.at ?? 0;
          return [
            ...[0.25, 0.5, 1].map((part) => ({ do: 'tick' as const, at: from + (a.at - from) * part })),
            a,
          ];
        });
        expect(told(play(layout, many))).toEqual(told(play(layout, few)));
      }),
      { numRuns: 1000 },
    );
  });

  test('a clock that stands still or runs back makes nothing out of nothing', () => {
    fc.assert(
      fc.property(
        acts,
        fc.array(fc.integer({ min: -5000, max: 20_000 }), { minLength: 40, maxLength: 40 }),
        (list, times) => {
          const bent = list.map((a, i) => ({ ...a, at: times[i] ?? 0 }));
          let latest = Number.NEGATIVE_INFINITY;
          const held = bent.map((a) => {
            const at = Math.max(latest, a.at);
            if (a.do !== 'tick') latest = at;
            return { ...a, at };
          });
          expect(play(defaultLayout, bent)).toEqual(play(defaultLayout, held));
        },
      ),
    );
  });

  test('timers come to an end once every key is up', () => {
    fc.assert(
      fc.property(acts, fc.constantFrom(...layouts), (list, layout) => {
        const r = recogniser(layout);
        for (const a of list) {
          if (a.do === 'down') r.down(a.code, a.at, a.repeat);
          else if (a.do === 'up') r.up(a.code, a.at);
          else if (a.do === 'lost') r.lost(a.at);
        }
        let last = Number.NEGATIVE_INFINITY;
        // Even with keys still down: the longest is a stuck press, one step of the bar at a time.
        for (let i = 0; i < 200; i += 1) {
          const due = r.nextTickAt();
          if (due === null) return;
          expect(due).toBeGreaterThan(last);
          last = Math.max(due, list.at(-1)?.at ?? 0);
          r.tick(last);
        }
        throw new Error('the timer never stopped');
      }),
    );
  });
});

describe('an honest foot on one pedal', () => {
  /** Presses with true releases, far enough apart to be no chatter. */
  const feet = fc.array(
    fc.record({
      pause: fc.integer({ min: TIMES.burstMs, max: 3000 }),
      heldMs: fc.integer({ min: 0, max: 12_000 }),
    }),
    { minLength: 1, maxLength: 12 },
  );

  test('gets exactly one answer to each press, by its length', () => {
    fc.assert(
      fc.property(feet, (list) => {
        let at = 0;
        const wanted: string[] = [];
        const strokes = list.flatMap(({ pause, heldMs }): Act[] => {
          const downAt = at + pause;
          at = downAt + heldMs;
          const { tapMs, holdMs, stuckMs } = TIMES;
          wanted.push(
            heldMs <= tapMs ? 'tap' : heldMs < holdMs ? 'released' : heldMs <= stuckMs ? 'long' : 'dropped',
          );
          return [
            { do: 'down', code: 'F13', at: downAt, repeat: false },
            { do: 'up', code: 'F13', at },
          ];
        });
        expect(play(defaultLayout, strokes).map((g) => g.kind)).toEqual(wanted);
      }),
    );
  });

  test('gets two taps or one double press for two taps, never both', () => {
    const [, layout] = layouts;
    fc.assert(
      fc.property(fc.integer({ min: TIMES.burstMs, max: 1000 }), (pause) => {
        const out = play(layout ?? defaultLayout, [
          { do: 'down', code: 'F13', at: 0, repeat: false },
          { do: 'up', code: 'F13', at: 100 },
          { do: 'down', code: 'F13', at: 100 + pause, repeat: false },
          { do: 'up', code: 'F13', at: 200 + pause },
          { do: 'tick', at: 5000 },
        ]);
        expect(out.map((g) => g.kind)).toEqual(pause <= TIMES.doubleMs ? ['double'] : ['tap', 'tap']);
      }),
    );
  });
});
