import { describe, expect, test } from 'vitest';
import { type Around, freshConsole, gestureAt } from '../../src/bench/console.ts';
import { viewOf } from '../../src/job/view.ts';
import type { Gesture } from '../../src/press/gesture.ts';
import { jobAt } from './bench-job.ts';

const long: Gesture = { kind: 'long', key: 'go', via: 'pedal', downAt: 0, heldMs: 1400 };
const short: Gesture = { kind: 'released', key: 'go', via: 'pedal', downAt: 0, heldMs: 900 };
const tap: Gesture = { kind: 'tap', key: 'go', via: 'pedal', downAt: 0 };

function around(state: ReturnType<typeof jobAt>, worker: string): Around {
  const { people } = state.snapshot.context.input;
  return {
    view: viewOf(state, worker),
    before: null,
    voided: 0,
    people,
    worker,
    visited: [],
    fresh: () => true,
    back: null,
    witnesses: people.filter(({ id, role }) => id !== worker && role !== 'apprentice'),
  };
}

describe('a hold that opens for a figure and waits for its witness', () => {
  const at = around(jobAt('torque', { by: 'ben', witness: 'always', awaiting: true }), 'ben');

  test('takes the long press of the witness, under the name of the witness', () => {
    expect(at.view.hold).toMatchObject({ byFigure: true, awaitingFor: 'Ben' });
    const { effects } = gestureAt({ ...freshConsole, witness: 'cyd' }, long, at);
    expect(effects).toEqual([
      { kind: 'event', event: { type: 'witness', evidence: { kind: 'press', heldMs: 1400 } }, by: 'cyd' },
    ]);
  });

  test('hands on a press that was let go too soon, so that it is refused and recorded', () => {
    const { effects } = gestureAt(freshConsole, short, at);
    expect(effects).toEqual([
      { kind: 'event', event: { type: 'witness', evidence: { kind: 'press', heldMs: 900 } }, by: 'ada' },
    ]);
  });

  test('a tap lights the next witness and gives nothing', () => {
    const { console, effects } = gestureAt(freshConsole, tap, at);
    expect([console.witness, effects]).toEqual(['cyd', []]);
  });
});

test('before its figure was given, no press is taken for it', () => {
  const at = around(jobAt('torque'), 'ada');
  expect(gestureAt(freshConsole, long, at).effects).toEqual([{ kind: 'event', event: { type: 'advance' } }]);
  expect(gestureAt(freshConsole, short, at).effects).toEqual([]);
});
