import fc from 'fast-check';
import { expect, test } from 'vitest';
import { procedures } from '../../procedures/index.ts';
import { here, known, passes } from '../../src/procedure/context.ts';
import { decide } from '../../src/procedure/decide.ts';
import { COMPLETE, type Definition, stationOf } from '../../src/procedure/definition.ts';
import type { JobEvent, Stamped } from '../../src/procedure/events.ts';
import { combinations } from '../../src/procedure/facts.ts';
import { holdsThatApply } from '../../src/procedure/guards.ts';
import type { Snapshot } from '../../src/procedure/machine.ts';
import { rightMove } from './driver.ts';
import { openedJob } from './training-machine.ts';
import { machineOf } from './walk.ts';

/** What people and noise do besides the right thing; `pick` chooses among what the snapshot offers. */
const mishaps: readonly ((snapshot: Snapshot, pick: number) => JobEvent)[] = [
  () => ({ type: 'advance' }),
  () => ({ type: 'confirm', evidence: { kind: 'phrase', phrase: 'everything is fine' } }),
  () => ({ type: 'confirm', evidence: { kind: 'press', heldMs: 400 } }),
  () => ({ type: 'witness', evidence: { kind: 'press', heldMs: 2000 } }),
  () => ({ type: 'reading', value: 3, unit: 'N·m', toolId: 'TW1' }),
  () => ({ type: 'reading', value: 9999, unit: 'mm', toolId: 'SR1' }),
  () => ({ type: 'fail' }),
  (_, pick) => ({ type: 'choose', value: pick % 2 === 0 }),
  ({ context }, pick) => {
    // Far back would make the job endless: only among the last few stations.
    const recent = context.visits.slice(-6);
    return { type: 'open', station: recent[pick % recent.length]?.station ?? '' };
  },
];

/** Plays to the end, going astray where the draw says so; checks every hold that is passed on the way. */
function play(definition: Definition, job: number, draws: readonly (readonly [number, number])[]) {
  const machine = machineOf(definition);
  const facts = combinations(definition.meta.facts);
  const input = openedJob(definition, facts[job % facts.length] ?? {});
  let now = machine.start(input);
  let at = input.at;
  for (let turn = 0; now.outcome === 'open' && turn < 3000; turn++) {
    const [which, pick] = draws[turn] ?? [-1, 0];
    const mishap = mishaps[which];
    const event = mishap
      ? ({ ...mishap(now, pick), by: 'p1', via: 'voice', at: at + 1000 } as Stamped)
      : rightMove(definition, now, 'p1', at);
    const before = now;
    const decision = decide(machine, now, event);
    at = event.at;
    now = decision.snapshot;
    const hold = stationOf(definition, before.station)?.kind === 'hold';
    const left = now.station !== before.station && !['fail', 'open'].includes(event.type);
    if (!hold || !left || !passes(now.context)[before.station]) continue;
    // It was left by passing: only its own evidence, a figure within limits, or its witness does that.
    expect(['confirm', 'reading', 'witness']).toContain(event.type);
    if (mishap && event.type !== 'reading') expect(here(before.context)?.awaiting).toBeDefined();
  }
  return now;
}

test.each(await Promise.all(procedures.map(({ load }) => load())))(
  '$id: however a job goes astray, it never completes with a hold unpassed',
  (definition) => {
    const draw = fc.tuple(fc.integer({ min: -12, max: mishaps.length - 1 }), fc.nat(1000));
    fc.assert(
      fc.property(fc.nat(1000), fc.array(draw, { minLength: 60, maxLength: 240 }), (job, draws) => {
        const end = play(definition, job, draws);
        expect(end.outcome).toBe(COMPLETE);
        const { facts } = known(end.context);
        expect(Object.keys(passes(end.context)).sort()).toEqual(holdsThatApply(definition, facts).sort());
      }),
      { numRuns: 60, seed: 20261125 },
    );
  },
);
