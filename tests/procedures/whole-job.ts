import { describe, expect, test } from 'vitest';
import { passes } from '../../src/procedure/context.ts';
import { decide } from '../../src/procedure/decide.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import { COMPLETE, stationOf } from '../../src/procedure/definition.ts';
import type { Stamped } from '../../src/procedure/events.ts';
import { combinations, factsInWords } from '../../src/procedure/facts.ts';
import { holdsThatApply } from '../../src/procedure/guards.ts';
import { reachable } from './removal.ts';
import { openedJob } from './training-machine.ts';
import { walk } from './walk.ts';

/** What must hold of a procedure for each combination of its facts, tried by really running it; `jobs`: how many there are. */
export function wholeJobTests(definition: Definition, jobs: number): void {
  const everyJob = combinations(definition.meta.facts);
  const named = everyJob.map((facts) => [factsInWords(facts), facts] as const);
  const holds = Object.keys(definition.states).filter((name) => stationOf(definition, name)?.kind === 'hold');

  describe('the whole job', () => {
    test('has so many combinations of facts', () => {
      expect(everyJob).toHaveLength(jobs);
    });

    test.each(named)('%s: done right it completes, every hold that applies passed, no other', (_, facts) => {
      const refused = new Set<string>();
      const { end } = walk(definition, openedJob(definition, facts), {
        doer: 'p1',
        look(snapshot, machine, at) {
          if (stationOf(definition, snapshot.station)?.kind !== 'hold') return;
          const advance: Stamped = { type: 'advance', by: 'p1', via: 'voice', at: at + 1 };
          const decision = decide(machine, snapshot, advance);
          expect(decision.outcome, snapshot.station).toBe('refused');
          refused.add(snapshot.station);
        },
      });
      expect(end.outcome).toBe(COMPLETE);
      const applying = holdsThatApply(definition, facts);
      expect(Object.keys(passes(end.context)).sort()).toEqual([...applying].sort());
      expect([...refused].sort()).toEqual([...applying].sort());
    });

    test('every hold point passes for some combination', () => {
      const passed = new Set(everyJob.flatMap((facts) => holdsThatApply(definition, facts)));
      expect([...passed].sort()).toEqual([...holds].sort());
    });

    test('each hold that applies stands on every way to the end, and from each station the end can be reached', () => {
      for (const facts of everyJob) {
        for (const hold of holdsThatApply(definition, facts)) {
          const without = reachable(definition, facts, definition.initial, hold);
          expect(without.has(COMPLETE), `${hold}: ${factsInWords(facts)}`).toBe(false);
        }
        for (const station of reachable(definition, facts, definition.initial))
          expect(reachable(definition, facts, station).has(COMPLETE) || station === 'stopped', station).toBe(
            true,
          );
      }
    });

    test('every station is reached by some job', () => {
      const met = new Set(everyJob.flatMap((facts) => [...reachable(definition, facts, definition.initial)]));
      expect(Object.keys(definition.states).filter((name) => !met.has(name) && name !== 'stopped')).toEqual(
        [],
      );
    });
  });

  describe('what fails is put right', () => {
    test.each(named)('%s: every hold failed once, and the job still completes', (_, facts) => {
      const failed = new Set<string>();
      const { end } = walk(definition, openedJob(definition, facts), {
        doer: 'p1',
        most: 6000,
        instead({ station }) {
          if (stationOf(definition, station)?.kind !== 'hold' || failed.has(station)) return null;
          failed.add(station);
          return { type: 'fail' };
        },
      });
      expect(end.outcome).toBe(COMPLETE);
      expect([...failed].sort()).toEqual([...holdsThatApply(definition, facts)].sort());
    });

    test('a hold fails to a step marked as rework, from which the same hold is met on every way to the end', () => {
      for (const hold of holds) {
        const target = definition.states[hold]?.on?.fail?.[0]?.target ?? '';
        const station = stationOf(definition, target);
        expect(station?.kind === 'step' && station.rework, hold).toBe(true);
        for (const facts of everyJob.filter((one) => holdsThatApply(definition, one).includes(hold)))
          expect(reachable(definition, facts, target, hold).has(COMPLETE), hold).toBe(false);
      }
    });
  });
}
