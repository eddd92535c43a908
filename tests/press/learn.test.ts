import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { defaultLayout, type Role, withPedals } from '../../src/press/layout.ts';
import { type Learning, learnDueAt, learning, learnStroke, learnTick } from '../../src/press/learn.ts';
import { LEARN_CODES, learnFault } from '../../src/press/learn-fault.ts';
import { recogniser } from '../../src/press/recogniser.ts';
import type { Stroke } from '../../src/press/stroke.ts';
import { stroke } from './keys.ts';

/** What a switch does when a foot is on it from `from` to `to`, ms. */
type Switch = (from: number, to: number) => Stroke[];

const marked: Switch = (from, to) => {
  const out = [stroke('down', 'F13', from)];
  for (let at = from + 500; at < to; at += 33) out.push(stroke('down', 'F13', at, { repeat: true }));
  return [...out, stroke('up', 'F13', to)];
};
const silent: Switch = (from, to) => [stroke('down', 'F13', from), stroke('up', 'F13', to)];
const unmarked: Switch = (from, to) => marked(from, to).map((s) => ({ ...s, repeat: false }));
const oneStroke: Switch = (from) => [stroke('down', 'F13', from), stroke('up', 'F13', from + 8)];
const strokes =
  (first: number, period: number): Switch =>
  (from, to) => {
    const out = [stroke('down', 'F13', from), stroke('up', 'F13', from + 10)];
    for (let at = from + first; at + 10 < to; at += period)
      out.push(stroke('down', 'F13', at), stroke('up', 'F13', at + 10));
    return out;
  };
const chattering: Switch = (from, to) => [
  stroke('down', 'F13', from),
  stroke('up', 'F13', from + 3),
  stroke('down', 'F13', from + 9),
  stroke('up', 'F13', to),
  stroke('down', 'F13', to + 4),
  stroke('up', 'F13', to + 5),
];

/** Ticks on time between strokes. */
function give(from: Learning, list: readonly Stroke[]): Learning {
  return list.reduce((l, one) => {
    const due = learnDueAt(l);
    return learnStroke(due !== null && due <= one.at ? learnTick(l, due) : l, one);
  }, from);
}
const wait = (l: Learning) => learnTick(l, learnDueAt(l) ?? 0);

const taps = (pedal: Switch) => [...pedal(1000, 1120), ...pedal(1600, 1700), ...pedal(2300, 2450)];
const start = (role: Role = 'go') => learning(role, 0);
const tapped = (pedal: Switch) => wait(give(start(), taps(pedal)));
const learnt = (pedal: Switch, heldMs = 2000) => wait(give(tapped(pedal), pedal(5000, 5000 + heldMs)));

describe('a good pedal', () => {
  test.each([
    ['that does not repeat', silent, 'none', 0, false],
    ['whose repeats are marked', marked, 'marked', 0, false],
    ['whose repeats are not marked', unmarked, 'unmarked', 0, true],
    ['that repeats by strokes', strokes(40, 40), 'strokes', 43, false],
    ['that chatters', chattering, 'strokes', 13, false],
  ] as const)('%s is learnt in two steps', (_, pedal, repeats, settleMs, isUnmarked) => {
    const end = learnt(pedal);
    expect(end.fault).toBeNull();
    expect(end.step).toBe('learnt');
    expect(end.learnt).toMatchObject({
      repeats,
      pedal: { code: 'F13', role: 'go', traits: { settleMs, holds: true, unmarked: isUnmarked } },
    });
  });

  test.each([
    ['silent', silent],
    ['marked', marked],
    ['unmarked', unmarked],
    ['strokes', strokes(40, 40)],
    ['chattering', chattering],
  ])('that is %s then gives one tap for a tap and one long press for a long press', (_, pedal) => {
    const found = learnt(pedal).learnt;
    const press = recogniser(withPedals(defaultLayout, found ? [found.pedal] : []));
    const kinds = (list: readonly Stroke[]) => {
      const told = list.flatMap((s) =>
        s.phase === 'down' ? press.down(s.code, s.at, s.repeat) : press.up(s.code, s.at),
      );
      return [...told, ...press.tick((list.at(-1)?.at ?? 0) + 500)].map((g) => g.kind);
    };
    expect(kinds(pedal(1000, 1150))).toEqual(['tap']);
    expect(kinds(pedal(4000, 5500))).toEqual(['long']);
    expect(kinds(pedal(8000, 8100))).toEqual(['tap']);
  });

  test('counts its taps and shows when it is down', () => {
    const one = give(start(), [stroke('down', 'F13', 100)]);
    expect(one).toMatchObject({ step: 'taps', taps: 1, downAt: 100 });
    expect(give(one, [stroke('up', 'F13', 200)])).toMatchObject({ taps: 1, downAt: null });
    expect(give(tapped(silent), [stroke('down', 'F13', 5000)])).toMatchObject({ step: 'hold', downAt: 5000 });
  });

  test('may be lifted too early once', () => {
    const early = wait(give(tapped(silent), silent(5000, 5900)));
    expect(early).toMatchObject({ step: 'hold', fault: null });
    expect(early.asks).toMatch(/too short/);
    expect(wait(give(early, silent(8000, 10_000))).step).toBe('learnt');
  });
});

describe('a pedal of one short stroke', () => {
  test('is learnt for taps, and told plainly that it cannot open a hold point', () => {
    const once = wait(give(tapped(oneStroke), oneStroke(5000, 7000)));
    expect(once.step).toBe('hold');
    const twice = wait(give(once, oneStroke(8000, 10_000)));
    expect(twice.learnt?.pedal.traits.holds).toBe(false);
    expect(twice.asks).toMatch(/one short stroke.*phrase.*Enter/);
  });
});

describe('what cannot be learnt is refused with a sentence', () => {
  const codeOfFault = (l: Learning) => l.fault?.code;

  test.each([
    ['Escape', 'reserved'],
    ['Tab', 'reserved'],
    ['F5', 'reserved'],
    ['5', 'reserved'],
    ['.', 'reserved'],
    ['CapsLock', 'reserved'],
    ['Shift', 'reserved'],
    ['AudioVolumeUp', 'reserved'],
    ['Meta', 'shortcut'],
    ['ControlLeft', 'shortcut'],
  ])('%s: %s', (key, code) => {
    const end = learnStroke(start(), stroke('down', key, 100));
    expect(end.step).toBe('cannot');
    expect(codeOfFault(end)).toBe(code);
  });

  test('a key with Control', () => {
    expect(codeOfFault(learnStroke(start(), stroke('down', 'b', 100, { chord: true })))).toBe('shortcut');
  });

  test('a pedal that types more than one key', () => {
    const end = give(start(), [stroke('down', 'b', 100), stroke('up', 'b', 110), stroke('down', 'c', 120)]);
    expect(codeOfFault(end)).toBe('more-than-one-key');
  });

  test('another key in the hold step', () => {
    expect(codeOfFault(give(tapped(silent), [stroke('down', 'PageUp', 5000)]))).toBe('more-than-one-key');
  });

  test('the key of another pedal', () => {
    expect(codeOfFault(learnStroke(learning('back', 0, ['F13']), stroke('down', 'F13', 10)))).toBe(
      'already-used',
    );
  });

  test('silence', () => expect(codeOfFault(wait(start()))).toBe('nothing-came'));

  test('a release that never comes', () => {
    expect(codeOfFault(wait(give(start(), [stroke('down', 'F13', 100)])))).toBe('no-release');
  });

  test('a foot lifted too early twice', () => {
    const early = wait(give(tapped(silent), silent(5000, 5900)));
    expect(codeOfFault(wait(give(early, silent(8000, 8900))))).toBe('not-kept-down');
  });

  test('a pedal that starts to press itself again after half a second', () => {
    expect(codeOfFault(wait(give(tapped(strokes(500, 40)), strokes(500, 40)(5000, 7000))))).toBe(
      'repeats-itself',
    );
  });

  test('every fault has one sentence with what to do', () => {
    for (const code of LEARN_CODES) expect(learnFault(code, 'F5').sentence).toMatch(/^[A-Z][^.!?]*: .*\.$/);
  });
});

test('whatever comes, a set-up ends and stays ended', () => {
  const keys = fc.constantFrom('F13', 'F13', 'F13', 'PageUp', 'Escape');
  const any = fc.record({
    phase: fc.constantFrom('down', 'up'),
    key: keys,
    by: fc.integer({ min: 0, max: 2500 }),
    repeat: fc.boolean(),
  });
  fc.assert(
    fc.property(fc.array(any, { maxLength: 30 }), (list) => {
      let at = 0;
      let l = give(
        start(),
        list.map(({ phase, key, by, repeat }) => {
          at += by;
          return stroke(phase, key, at, { repeat });
        }),
      );
      for (let i = 0; i < 5 && learnDueAt(l) !== null; i += 1) l = wait(l);
      expect(['learnt', 'cannot']).toContain(l.step);
      expect(learnStroke(l, stroke('down', 'F14', 1e6))).toBe(l);
      if (l.learnt) expect(l.learnt.pedal.code).toBe('F13');
      else expect(l.fault).not.toBeNull();
    }),
  );
});
