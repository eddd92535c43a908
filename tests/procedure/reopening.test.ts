import fc from 'fast-check';
import { expect, test } from 'vitest';
import { rightMove } from '../../src/job/rehearsal.ts';
import { passes } from '../../src/procedure/context.ts';
import { decide } from '../../src/procedure/decide.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import type { Stamped } from '../../src/procedure/events.ts';
import { combinations } from '../../src/procedure/facts.ts';
import { type Machine, machineFor, type Snapshot } from '../../src/procedure/machine.ts';
import { reachable } from '../procedures/removal.ts';
import { generate, seeded } from './generate.ts';
import { jobFor } from './play.ts';
import { sample } from './sample.ts';

/*
 * Disturbed work is inspected again. For a hold point H let R be the stations that can be reached without passing H.
 * No way leads out of R but H's pass, and `complete` is not in R. So a job that goes back to a station of R must pass H
 * again; and a job that goes back to a station outside R has passed H before it got there, and that pass stands.
 */

const definitions: Definition[] = [sample];
for (let seed = 0; seed < 12; seed++) definitions.push(generate({ stations: 22, seed, facts: 2 }));
const machines = definitions.map(machineFor);

const isHold = (definition: Definition, name: string) => definition.states[name]?.meta?.kind === 'hold';

/** Right events until the job ends or `most` are spent; the hold points that were passed meanwhile. */
function goOn(machine: Machine, from: Snapshot, at: number, most: number) {
  const { definition } = machine;
  const passed = new Set<string>();
  let snapshot = from;
  let now = at;
  for (let n = 0; n < most && snapshot.outcome === 'open'; n++) {
    const event = rightMove(definition, snapshot, 'p2', now);
    const decision = decide(machine, snapshot, event);
    if (decision.outcome === 'refused') throw new Error(decision.reason.sentence);
    const moved = decision.snapshot.station !== snapshot.station;
    if (moved && isHold(definition, snapshot.station)) passed.add(snapshot.station);
    now = event.at;
    snapshot = decision.snapshot;
  }
  return { snapshot, passed, at: now };
}

test('going back voids exactly the hold points downstream of the station, and they must be passed again', () => {
  let voided = 0;
  let kept = 0;
  fc.assert(
    fc.property(
      fc.constantFrom(...machines),
      fc.nat(1_000_000),
      fc.integer({ min: 1, max: 60 }),
      (machine, seed, most) => {
        const { definition } = machine;
        const random = seeded(seed);
        const all = combinations(definition.meta.facts);
        const facts = all[Math.floor(random() * all.length)] ?? {};
        const before = goOn(
          machine,
          machine.start({ ...jobFor(definition), facts }),
          jobFor(definition).at,
          most,
        );
        if (before.snapshot.outcome !== 'open') return;
        const { visits } = before.snapshot.context;
        const earlier = visits.slice(0, -1);
        const station = earlier[Math.floor(random() * earlier.length)]?.station;
        if (station === undefined) return;
        const event: Stamped = { type: 'open', station, by: 'p1', via: 'keys', at: before.at + 1000 };
        const { snapshot } = decide(machine, before.snapshot, event);
        const after = goOn(machine, snapshot, event.at, 600);
        expect(after.snapshot.outcome).toBe('complete');
        for (const hold of Object.keys(passes(before.snapshot.context))) {
          const upstream = reachable(definition, facts, definition.initial, hold);
          const stands = Object.hasOwn(passes(snapshot.context), hold);
          if (!upstream.has('complete')) {
            expect(stands, `${hold} after going back to ${station}`).toBe(!upstream.has(station));
          }
          // A hold in an arm of a fork that is not taken now need not be passed again; all others must.
          if (!stands && !upstream.has('complete')) expect(after.passed.has(hold)).toBe(true);
          if (stands) kept++;
          else voided++;
        }
      },
    ),
    { numRuns: process.env.SLOW ? 5000 : 200, seed: 1125 },
  );
  expect(voided).toBeGreaterThan(30);
  expect(kept).toBeGreaterThan(30);
});
