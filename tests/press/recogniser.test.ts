import { describe, expect, test } from 'vitest';
import type { Gesture } from '../../src/press/gesture.ts';
import { defaultLayout, type Layout, type Traits, withPedals } from '../../src/press/layout.ts';
import { recogniser } from '../../src/press/recogniser.ts';
import { HOLD_PRESS_MS } from '../../src/procedure/settle-hold.ts';

const pedal = (traits: Partial<Traits> = {}): Layout =>
  withPedals(defaultLayout, [
    { code: 'F13', role: 'go', traits: { settleMs: 0, holds: true, unmarked: false, ...traits } },
  ]);

/** Plays `[time, what]` in order: "+F13" down, "~F13" marked repeat, "-F13" up, "." tick, "!" lost. */
function play(layout: Layout, ...strokes: [number, string][]): Gesture[] {
  const r = recogniser(layout);
  return strokes.flatMap(([at, what]) => {
    const code = what.slice(1);
    switch (what[0]) {
      case '+':
        return r.down(code, at, false);
      case '~':
        return r.down(code, at, true);
      case '-':
        return r.up(code, at);
      case '!':
        return r.lost(at);
      default:
        return r.tick(at);
    }
  });
}

const kinds = (gestures: Gesture[]) => gestures.map((g) => g.kind);

describe('one press', () => {
  test('let go early is a tap, told at its release with no wait', () => {
    expect(play(defaultLayout, [1000, '+F13'], [1120, '-F13'])).toEqual([
      { kind: 'tap', key: 'go', via: 'pedal', downAt: 1000 },
    ]);
  });

  test('kept down is a long press with its measured time, told at its release', () => {
    expect(play(defaultLayout, [0, '+PageDown'], [1300, '-PageDown'])).toEqual([
      { kind: 'long', key: 'go', via: 'keys', downAt: 0, heldMs: 1300 },
    ]);
  });

  test('a long press counts from exactly the hold time on', () => {
    expect(kinds(play(defaultLayout, [0, '+F13'], [HOLD_PRESS_MS, '-F13']))).toEqual(['long']);
    expect(play(defaultLayout, [0, '+F13'], [HOLD_PRESS_MS - 1, '-F13'])).toEqual([
      { kind: 'released', key: 'go', via: 'pedal', downAt: 0, heldMs: HOLD_PRESS_MS - 1 },
    ]);
  });

  test('shows its progress while it is down, and nothing for a quick tap', () => {
    const out = play(
      defaultLayout,
      [0, '+F13'],
      [150, '.x'],
      [200, '.x'],
      [600, '.x'],
      [1200, '.x'],
      [1250, '-F13'],
    );
    expect(out).toEqual([
      { kind: 'holding', key: 'go', via: 'pedal', downAt: 0, heldMs: 200, full: false },
      { kind: 'holding', key: 'go', via: 'pedal', downAt: 0, heldMs: 600, full: false },
      { kind: 'holding', key: 'go', via: 'pedal', downAt: 0, heldMs: 1200, full: true },
      { kind: 'long', key: 'go', via: 'pedal', downAt: 0, heldMs: 1250 },
    ]);
  });

  test('a timer that overtakes the release on a busy page does not stretch a short press', () => {
    expect(kinds(play(defaultLayout, [0, '+F13'], [1500, '.x'], [300, '-F13']))).toEqual(['holding', 'tap']);
  });

  test('marked repeats of a key kept down change nothing', () => {
    const repeats = Array.from({ length: 20 }, (_, i): [number, string] => [500 + i * 33, '~PageDown']);
    expect(kinds(play(defaultLayout, [0, '+PageDown'], ...repeats, [1400, '-PageDown']))).toEqual(['long']);
  });

  test('a repeat whose press was never seen is no press', () => {
    expect(play(defaultLayout, [0, '~PageDown'], [33, '~PageDown'], [1400, '-PageDown'])).toEqual([]);
  });

  test('a short press of Enter says enter; kept down it is a long press of go', () => {
    expect(play(defaultLayout, [0, '+Enter'], [90, '-Enter'])).toEqual([{ kind: 'enter' }]);
    expect(kinds(play(defaultLayout, [0, '+Enter'], [1300, '-Enter']))).toEqual(['long']);
  });
});

describe('a press that cannot count', () => {
  test('when the window loses its keys: neither its release nor its repeats become anything', () => {
    expect(play(defaultLayout, [0, '+F13'], [600, '!'], [700, '~F13'], [1500, '-F13'])).toEqual([
      { kind: 'dropped', key: 'go', via: 'pedal', downAt: 0, why: 'lost' },
    ]);
  });

  test('when its release came elsewhere: the next press is swallowed, the one after counts', () => {
    const out = play(
      defaultLayout,
      [0, '+F13'],
      [100, '!'],
      [3000, '+F13'],
      [3100, '-F13'],
      [4000, '+F13'],
      [4100, '-F13'],
    );
    expect(kinds(out)).toEqual(['dropped', 'tap']);
  });

  test('when a second press comes without a release: nobody knows how long it was down', () => {
    expect(kinds(play(defaultLayout, [0, '+F13'], [900, '+F13'], [1300, '-F13']))).toEqual(['dropped']);
  });

  test('when something lies on the pedal', () => {
    expect(kinds(play(defaultLayout, [0, '+F13'], [10_001, '.x'], [12_000, '-F13']))).toEqual(['dropped']);
    expect(kinds(play(defaultLayout, [0, '+F13'], [12_000, '-F13']))).toEqual(['dropped']);
  });

  test('a pedal that was stuck works again after its release', () => {
    const out = play(defaultLayout, [0, '+F13'], [12_000, '-F13'], [13_000, '+F13'], [13_100, '-F13']);
    expect(kinds(out)).toEqual(['dropped', 'tap']);
  });

  test('when one foot comes down on two pedals: neither counts, in either order of release', () => {
    const across: [number, string][] = [
      [0, '+PageDown'],
      [40, '+PageUp'],
    ];
    expect(kinds(play(defaultLayout, ...across, [1400, '-PageDown'], [1410, '-PageUp']))).toEqual([
      'dropped',
    ]);
    expect(kinds(play(defaultLayout, ...across, [300, '-PageUp'], [1400, '-PageDown']))).toEqual(['dropped']);
  });

  test('a dropped press carries no time that could be taken for evidence', () => {
    for (const gesture of play(defaultLayout, [0, '+F13'], [5000, '!']))
      expect(gesture).not.toHaveProperty('heldMs');
  });
});

describe('switches with habits', () => {
  const strokes = (from: number, to: number, period: number): [number, string][] => {
    const out: [number, string][] = [];
    for (let at = from; at < to; at += period) out.push([at, '+F13'], [at + period / 2, '-F13']);
    return out;
  };

  test('an unlearnt pedal that repeats by strokes gives one tap and never a long press', () => {
    expect(kinds(play(defaultLayout, ...strokes(0, 2000, 40)))).toEqual(['tap']);
  });

  test('once its strokes are learnt they are one press', () => {
    const out = play(pedal({ settleMs: 60 }), ...strokes(0, 1500, 40), [2000, '.x']);
    expect(kinds(out)).toEqual(['long']);
  });

  test('a learnt chatter is one tap', () => {
    const chatter: [number, string][] = [
      [0, '+F13'],
      [4, '-F13'],
      [9, '+F13'],
      [150, '-F13'],
      [153, '+F13'],
      [155, '-F13'],
      [200, '.x'],
    ];
    expect(play(pedal({ settleMs: 15 }), ...chatter)).toEqual([
      { kind: 'tap', key: 'go', via: 'pedal', downAt: 0 },
    ]);
  });

  test('unmarked repeats count as such only where they were learnt', () => {
    const held: [number, string][] = [
      [0, '+F13'],
      [500, '+F13'],
      ...Array.from({ length: 25 }, (_, i): [number, string] => [533 + i * 33, '+F13']),
      [1400, '-F13'],
    ];
    expect(kinds(play(pedal(), ...held))).toEqual(['dropped']);
    expect(kinds(play(pedal({ unmarked: true }), ...held))).toEqual(['long']);
  });

  test('where repeats are unmarked a silence too long for one still drops the press', () => {
    expect(kinds(play(pedal({ unmarked: true }), [0, '+F13'], [900, '+F13'], [1500, '-F13']))).toEqual([
      'dropped',
    ]);
  });
});

describe('double press', () => {
  const layout: Layout = { ...defaultLayout, doubles: ['go'] };

  test('two quick taps are one double press', () => {
    expect(play(layout, [0, '+F13'], [100, '-F13'], [300, '+F13'], [400, '-F13'])).toEqual([
      { kind: 'double', key: 'go', via: 'pedal', downAt: 0 },
    ]);
  });

  test('a single tap is told when the window closes', () => {
    const out = play(layout, [0, '+F13'], [100, '-F13'], [450, '.x'], [451, '.x']);
    expect(out).toEqual([{ kind: 'tap', key: 'go', via: 'pedal', downAt: 0 }]);
  });

  test('a tap and then a long press are both told, in order', () => {
    const out = play(layout, [0, '+F13'], [100, '-F13'], [300, '+F13'], [1001, '.x'], [1600, '-F13']);
    expect(kinds(out)).toEqual(['tap', 'holding', 'long']);
  });

  test('is not awaited for a role that has none', () => {
    expect(kinds(play(layout, [0, '+PageUp'], [100, '-PageUp']))).toEqual(['tap']);
  });

  test('a first tap that waits when the window loses its keys is forgotten', () => {
    expect(play(layout, [0, '+F13'], [100, '-F13'], [200, '!'], [900, '.x'])).toEqual([]);
  });
});

describe('keys of their own', () => {
  test('figures, signs and commands are told when the key goes down, once', () => {
    const out = play(
      defaultLayout,
      [0, '+9'],
      [10, '~9'],
      [20, '-9'],
      [100, '+,'],
      [200, '+Delete'],
      [300, '+?'],
      [400, '+Escape'],
    );
    expect(out).toEqual([
      { kind: 'digit', digit: '9' },
      { kind: 'decimal' },
      { kind: 'erase' },
      { kind: 'key', name: 'words' },
      { kind: 'escape' },
    ]);
  });

  test('a key without a meaning is silent', () => {
    expect(play(defaultLayout, [0, '+z'], [50, '-z'], [60, '+F5'])).toEqual([]);
  });
});
