import canonicalize from 'canonicalize';
import { expect, test } from 'vitest';
import { isReference } from '../../src/procedure/amounts.ts';
import type { JobContext } from '../../src/procedure/context.ts';
import { calledOff, startingContext } from '../../src/procedure/context.ts';
import { decide } from '../../src/procedure/decide.ts';
import { holdsNotPassed } from '../../src/procedure/guards.ts';
import { hold, kit, oneOf, procedure, step } from '../../src/procedure/index.ts';
import { machineFor } from '../../src/procedure/machine.ts';
import { missingItems } from '../../src/procedure/settle-aids.ts';
import type { KitStation, WorkingStation } from '../../src/procedure/station.ts';
import { runFor } from '../../src/procedure/working-run.ts';
import { NOON, sample, sampleInput } from './sample.ts';

// Names that every plain object answers to, and the order of keys that canonical JSON changes.

const trap = procedure({
  id: 'trap',
  title: 'Names that objects have',
  revision: 1,
  covers: 'Nothing real.',
  facts: { link: oneOf('Joining link', 'clip', 'rivet') },
  figures: {},
  tools: {},
  initial: 'kit',
  states: {
    kit: kit({
      say: 'Call off.',
      items: { toString: { calls: 'Gloves', kind: 'protective' as const } },
      next: 'constructor',
    }),
    constructor: hold({
      say: 'Check.',
      phrase: 'open end trails',
      why: 'So.',
      pass: 'complete',
      fail: 'valueOf',
    }),
    valueOf: step({ say: 'Repair.', rework: true, next: 'constructor' }),
  },
});

const context: JobContext = startingContext(sampleInput);

test('a hold point named like something every object has is not passed by that', () => {
  expect(holdsNotPassed(trap, context)).toEqual(['constructor']);
});

test('a kit item named like something every object has is not called off by that', () => {
  const station = trap.states.kit?.meta as KitStation;
  expect(missingItems(station, context).map(([key]) => key)).toEqual(['toString']);
});

test('a reference is one whatever the order of its keys', () => {
  for (const reference of [
    { result: 'ratio', of: 'percent' },
    { plus: 1, figure: 'teeth' },
    { fact: 'link' },
  ]) {
    expect(isReference(reference)).toBe(true);
    expect(isReference(JSON.parse(canonicalize(reference) ?? ''))).toBe(true);
  }
  expect(isReference({ result: 'ratio' })).toBe(false);
  expect(isReference({ figure: 'teeth', unit: 'mm' })).toBe(false);
});

test('a working that cannot give the figure it is there for has no answer', () => {
  const station = {
    kind: 'working',
    say: 'Look how long the new chain must be.',
    working: 'chain-cut',
    inputs: {},
    answers: [],
    gives: { newPitches: 'pitches' },
  } as const satisfies WorkingStation;
  const sprockets = { front: 13, rear: 48 };
  const inputs = (min: number, max: number) => ({
    pitch: 12.7,
    old: { ...sprockets, pitches: 118, centre: 560 },
    new: sprockets,
    adjuster: { min, max },
    link: 'clip',
  });
  expect(runFor(station, inputs(540, 580)).output?.pitches).toEqual(expect.any(Number));
  const none = runFor(station, inputs(560.001, 560.002));
  expect(none.output).toBeNull();
  expect(none.fault?.code).toBe('nothing-fits');
  const { gives: _, ...showing } = station;
  expect(runFor(showing, inputs(560.001, 560.002)).output?.pitches).toBeNull();
});

test('a wrench scanned with the gloves does not come along, and does not lock the right one out', () => {
  const machine = machineFor(sample);
  const start = machine.start(sampleInput);
  const by = { by: 'ada', via: 'scanner', at: NOON + 1000 } as const;
  const gloves = decide(machine, start, { type: 'callOff', item: 'gloves', toolId: 'T2', ...by });
  expect(gloves.outcome).toBe('accepted');
  expect(calledOff(gloves.snapshot.context)).toEqual({ gloves: null });
  const wrench = decide(machine, gloves.snapshot, { type: 'callOff', item: 'wrench', toolId: 'T1', ...by });
  expect(wrench.outcome).toBe('accepted');
  expect(calledOff(wrench.snapshot.context)).toEqual({ gloves: null, wrench: 'T1' });
});
