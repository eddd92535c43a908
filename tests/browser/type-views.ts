import { rightMove } from '../../src/job/rehearsal.ts';
import type { JobState } from '../../src/job/runner.ts';
import { type StationView, viewOf } from '../../src/job/view.ts';
import { makeRecord } from '../../src/journal/chain.ts';
import { hashOf } from '../../src/journal/hash.ts';
import { toMoment } from '../../src/journal/moment.ts';
import type { JournalRecord } from '../../src/journal/record.ts';
import { decide } from '../../src/procedure/decide.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import { combinations } from '../../src/procedure/facts.ts';
import { machineFor, type Snapshot } from '../../src/procedure/machine.ts';
import { OPENED, openedJob } from '../procedures/training-machine.ts';

const JOB = '0b0e4a52-1c1e-4a8e-9a55-1f2f6c0e1aff';

/** The job played by right events with the facts that lead past most stations, each station as it was met. */
function played(definition: Definition): { states: Map<string, JobState>; last: JobState } {
  const all = combinations(definition.meta.facts).map((facts) => playedWith(definition, facts));
  const [first] = all;
  if (!first) throw new Error('No facts.');
  const states = new Map<string, JobState>();
  for (const { met } of all) for (const [name, state] of met) if (!states.has(name)) states.set(name, state);
  return { states, last: first.last };
}

function playedWith(definition: Definition, facts: ReturnType<typeof combinations>[number]) {
  const machine = machineFor(definition);
  const input = openedJob(definition, facts);
  const opened = makeRecord(null, {
    job: JOB,
    at: toMoment(OPENED),
    by: 'p1',
    via: 'keys',
    event: {
      type: 'job.opened',
      procedure: definition,
      procedureHash: hashOf(definition),
      machine: { id: 'M-1', says: 'Training machine 1' },
      facts: input.facts,
      figures: input.figures,
      people: input.people,
      tools: input.tools,
      app: 'test',
    },
    outcome: 'accepted',
    station: definition.initial,
  }) as JournalRecord;
  let snapshot: Snapshot = machine.start(input);
  const met = new Map<string, JobState>();
  let at = OPENED;
  let last: JobState = { job: JOB, machine, snapshot, records: [opened] } as unknown as JobState;
  for (let turn = 0; turn < 900 && snapshot.outcome === 'open'; turn++) {
    last = { ...last, snapshot };
    if (!met.has(snapshot.station)) met.set(snapshot.station, last);
    const move = rightMove(definition, snapshot, 'p1', at);
    at = move.at;
    snapshot = decide(machine, snapshot, move).snapshot;
  }
  return { met, last };
}

/**
 * The view of every station of a procedure: as it was met by a job done right, and a station that only a job meets in
 * which something goes wrong as if the last job had come to it.
 */
export function viewsOf(definition: Definition): StationView[] {
  const { states, last } = played(definition);
  return Object.keys(definition.states).flatMap((name) => {
    const state = states.get(name) ?? strayed(last, name);
    const view = viewOf(state, 'p1');
    return view.kind === 'end' ? [] : [view];
  });
}

function strayed(last: JobState, station: string): JobState {
  const { context } = last.snapshot;
  const visits = [...context.visits, { station, arrivedAt: OPENED }];
  return { ...last, snapshot: { ...last.snapshot, station, context: { ...context, visits } } };
}
