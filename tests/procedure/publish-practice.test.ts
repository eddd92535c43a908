import { describe, expect, test } from 'vitest';
import finalDrive from '../../procedures/final-drive/index.ts';
import recheck from '../../procedures/final-drive-recheck/index.ts';
import { openingRecord } from '../../src/job/open-job.ts';
import { PRACTISES, practiceOrder, wrongEvent } from '../../src/job/practice.ts';
import { rightMove } from '../../src/job/rehearsal.ts';
import { type JobState, jobFrom, step } from '../../src/job/runner.ts';
import { passes } from '../../src/procedure/context.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import { stationOf } from '../../src/procedure/definition.ts';
import type { JobEvent } from '../../src/procedure/events.ts';
import { combinations } from '../../src/procedure/facts.ts';
import { holdsThatApply } from '../../src/procedure/guards.ts';
import { seeded } from './generate.ts';
import { NOON, sample } from './sample.ts';

const opened = (definition: Definition, facts = {}, as: 'mechanic' | 'apprentice' = 'mechanic'): JobState =>
  jobFrom([
    openingRecord(
      '0b0e4a52-1c1e-4a8e-9a55-1f2f6c0e1aff',
      practiceOrder(definition, { card: null, facts, as }),
      { at: NOON, by: PRACTISES, via: 'keys' },
      'test',
    ),
  ]);

const lastAt = ({ records }: JobState) => Date.parse(records.at(-1)?.at ?? '');

function right(state: JobState): JobState {
  const { at, by, via, ...event } = rightMove(
    state.machine.definition,
    state.snapshot,
    PRACTISES,
    lastAt(state),
  );
  return step(state, event as JobEvent, { at, by, via }).state;
}

function wrong(state: JobState) {
  const event = wrongEvent(state.machine.definition, state.snapshot);
  return step(state, event, { at: lastAt(state) + 1000, by: PRACTISES, via: 'keys' });
}

function play(begin: JobState, isWrong: () => boolean): JobState {
  let state = begin;
  for (let turn = 0; turn < 4000 && state.snapshot.outcome === 'open'; turn++)
    state = isWrong() ? wrong(state).state : right(state);
  return state;
}

describe('a practice plays any path', () => {
  test.each([
    ['sample', sample],
    ['final-drive', finalDrive],
    ['final-drive-recheck', recheck],
  ] as const)(
    '%s: with every combination of facts, right and wrong, it comes to its end with every hold passed',
    (_, definition) => {
      const all = combinations(definition.meta.facts);
      const some = all.length > 16 ? all.filter((_one, at) => at % 5 === 0) : all;
      for (const [at, facts] of some.entries()) {
        const random = seeded(at + 1);
        const as = at % 2 === 0 ? 'mechanic' : 'apprentice';
        // A figure from the middle of what is plausible may have no answer: whoever practises then stops, as in a job.
        const end = play(opened(definition, facts, as), () => random() < 0.2);
        if (end.snapshot.outcome === 'complete') {
          const applying = holdsThatApply(definition, { ...facts, ...factsChosen(end) });
          expect(Object.keys(passes(end.snapshot.context)).sort()).toEqual(applying.sort());
        } else expect(definition).not.toBe(sample);
      }
    },
  );

  test('nobody and no tool of a workshop stands on it', () => {
    const [first] = opened(sample).records;
    if (first?.event.type !== 'job.opened') throw new Error('no opening');
    expect(first.event.people.map(({ name }) => name)).toEqual(['You', 'A second person']);
    expect(first.event.tools.every(({ says }) => says.endsWith('(practice)'))).toBe(true);
    expect(first.event.machine).toEqual({ id: 'practice', says: 'Practice' });
  });
});

function factsChosen({ snapshot }: JobState) {
  return Object.fromEntries(
    snapshot.context.visits.flatMap(({ chose }) => (chose ? [[chose.fact, chose.value]] : [])),
  );
}

test('a wrong answer is never taken as right: at each station it is refused, leads to rework, or is the other choice', () => {
  let state = opened(sample, { sealed: true, link: 'clip' });
  const met = new Map<string, string>();
  for (let turn = 0; turn < 60 && state.snapshot.outcome === 'open'; turn++) {
    const { station } = state.snapshot;
    if (!met.has(station)) {
      const { decision, state: after } = wrong(state);
      const meta = stationOf(sample, station);
      if (decision.outcome === 'refused') met.set(station, decision.reason.code);
      else {
        const next = stationOf(sample, after.snapshot.station);
        met.set(
          station,
          next?.kind === 'step' && next.rework ? 'rework' : `goes to ${after.snapshot.station}`,
        );
        if (meta?.kind === 'hold') expect(Object.keys(passes(after.snapshot.context))).not.toContain(station);
      }
    }
    state = right(state);
  }
  expect(Object.fromEntries(met)).toEqual({
    kit: 'kit-item-unknown',
    card: 'figure-implausible',
    ratio: 'not-here',
    bolts: 'not-here',
    cure: 'wait-not-over',
    which: 'goes to slack',
    clipWay: 'rework',
    slack: 'rework',
    torque: 'rework',
  });
});

test('a tool whose calibration has lapsed is the wrong answer where one is called off', () => {
  let state = opened(sample, { sealed: true });
  state = right(state);
  expect(wrong(state).decision).toMatchObject({
    outcome: 'refused',
    reason: { code: 'tool-out-of-calibration' },
  });
});
