import { openingRecord } from '../../src/job/open-job.ts';
import { rightMove } from '../../src/job/rehearsal.ts';
import { type JobState, jobFrom, step } from '../../src/job/runner.ts';
import type { Workshop } from '../../src/job/workshop.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import type { JobEvent } from '../../src/procedure/events.ts';
import { NOON, sample, sampleInput } from '../procedure/sample.ts';

/** The sample procedure with a witness at its last hold whoever does the work. */
function witnessed(witness: 'always'): Definition {
  const { torque } = sample.states;
  if (torque?.meta?.kind !== 'hold') throw new Error('The sample has no hold at the axle.');
  return {
    ...sample,
    states: { ...sample.states, torque: { ...torque, meta: { ...torque.meta, witness } } },
  };
}

export interface Wanted {
  readonly by?: string;
  readonly witness?: 'always';
  /** Go on until the evidence is given and waits for its witness. */
  readonly awaiting?: true;
}

/** Workshop of the people and tools of the sample's job. */
const workshop: Workshop = {
  name: 'Test',
  machines: [],
  people: sampleInput.people,
  tools: sampleInput.tools,
};

const { facts, figures } = sampleInput;
const card = { id: 'M-1', says: 'Machine 1', plate: 'Nothing real', facts, figures };

/** A job on the sample procedure, really run by right events until it stands at `station`. */
export function jobAt(station: string, { by = 'ada', witness, awaiting }: Wanted = {}): JobState {
  const definition = witness ? witnessed(witness) : sample;
  const stamp = { at: NOON, by, via: 'keys' } as const;
  const job = '0b0e4a52-1c1e-4a8e-9a55-1f2f6c0e1aff';
  let state = jobFrom([openingRecord(job, { definition, card, workshop }, stamp, 'test')]);
  for (let turn = 0; turn < 100; turn++) {
    const visits = state.snapshot.context.visits;
    const waits = visits[visits.length - 1]?.awaiting !== undefined;
    if (state.snapshot.station === station && (!awaiting || waits)) return state;
    state = doRight(state, by);
  }
  throw new Error(`The sample does not come to ${station}.`);
}

/** The job after the right event. */
export function doRight(state: JobState, by: string): JobState {
  const last = Date.parse(state.records[state.records.length - 1]?.at ?? '');
  const { at, by: who, via, ...event } = rightMove(state.machine.definition, state.snapshot, by, last);
  return step(state, event as JobEvent, { at, by: who, via }).state;
}

/** The job after an event that may well be refused. */
export function given(state: JobState, event: JobEvent, by = 'ada'): JobState {
  const at = Date.parse(state.records[state.records.length - 1]?.at ?? '') + 1000;
  return step(state, event, { at, by, via: 'pedal' }).state;
}
