import { describe, expect, test } from 'vitest';
import { type Around, type Console, freshConsole, gestureAt } from '../../src/bench/console.ts';
import { passkeyFault } from '../../src/bench/passkeys.dom.ts';
import { PinEntry } from '../../src/bench/scenes/pin-entry.ts';
import { viewOf } from '../../src/job/view.ts';
import type { Gesture } from '../../src/press/gesture.ts';
import { jobAt } from './bench-job.ts';

const at = { via: 'pedal', downAt: 0 } as const;
const tap: Gesture = { kind: 'tap', key: 'go', ...at };
const back: Gesture = { kind: 'tap', key: 'back', ...at };
const long: Gesture = { kind: 'long', key: 'go', heldMs: 1400, ...at };
const enter: Gesture = { kind: 'enter' };
const digit = (of: string): Gesture => ({ kind: 'digit', digit: of });

describe('who somebody is, asked over a station', () => {
  const state = jobAt('slack');
  const { people } = state.snapshot.context.input;
  const around = (...holders: string[]): Around => ({
    view: viewOf(state, 'ada'),
    before: null,
    voided: 0,
    people,
    worker: 'ada',
    visited: [],
    holders: new Set(holders),
    fresh: () => false,
    back: null,
    witnesses: [],
  });
  const asked: Console = { ...freshConsole, over: 'talk', talk: { about: 'signOn', person: 'ben' } };

  test.each<[string, Gesture]>([
    ['a tap', tap],
    ['Enter', enter],
    ['a long press', long],
  ])('%s with nothing typed asks for the passkey of whoever has one', (_, gesture) => {
    expect(gestureAt(asked, gesture, around('ben')).effects).toEqual([{ kind: 'passkey', person: 'ben' }]);
    expect(gestureAt(asked, gesture, around('ada')).effects).toEqual([]);
    expect(gestureAt(asked, gesture, around()).effects).toEqual([]);
  });

  test('once digits are typed it is the PIN that is given, and a tap gives nothing', () => {
    const typed = gestureAt(asked, digit('4'), around('ben')).console;
    expect(gestureAt(typed, enter, around('ben')).effects).toEqual([
      { kind: 'signOn', person: 'ben', pin: '4' },
    ]);
    expect(gestureAt(typed, tap, around('ben')).effects).toEqual([]);
    expect(gestureAt(asked, back, around('ben')).effects).toEqual([]);
  });
});

test('before a job the same: nothing typed and a passkey there', () => {
  const entry = new PinEntry();
  expect(entry.pressed(tap, false)).toBeNull();
  expect(entry.pressed(enter, false)).toBeNull();
  expect(entry.pressed(tap, true)).toBe('passkey');
  for (const one of '123456789') entry.pressed(digit(one), true);
  expect(entry.typed).toBe(8);
  entry.pressed({ kind: 'erase' }, true);
  expect(entry.pressed(tap, true)).toBeNull();
  expect(entry.pressed(enter, true)).toBe('pin');
  expect([entry.take(), entry.typed]).toEqual(['1234567', 0]);
  expect(entry.pressed({ kind: 'escape' }, true)).toBe('leave');
});

test('where there are no passkeys nobody signs on by one', async () => {
  const missing = 'Passkeys cannot be used in this browser or at this address: give the PIN.';
  expect(await passkeyFault(undefined, 'ada', 0)).toBe(missing);
  const open = () => Promise.reject(new Error('never asked'));
  const door = { here: false, known: new Set<string>(), look: async () => undefined, open };
  expect(await passkeyFault(door, 'ada', 0)).toBe(missing);
});
