import fc from 'fast-check';
import { rightMove } from '../../src/job/rehearsal.ts';
import type { JobState } from '../../src/job/runner.ts';
import { openTrouble } from '../../src/procedure/context.ts';
import { stationOf } from '../../src/procedure/definition.ts';
import type { Evidence, JobEvent, Stamped, Via } from '../../src/procedure/events.ts';

/** One draw: what is done, by whom, and two numbers to choose with. */
export interface Draw {
  readonly what: number;
  readonly who: number;
  readonly pick: number;
  readonly size: number;
  readonly lateMs: number;
}

const VIAS: readonly Via[] = ['voice', 'pedal', 'keys', 'touch', 'gauge', 'scanner', 'clock', 'system'];

const one = <T>(list: readonly T[], pick: number): T | undefined => list[pick % Math.max(1, list.length)];

function evidence({ machine: { definition } }: JobState, { pick, size }: Draw): Evidence {
  const phrases = Object.values(definition.states).flatMap(({ meta }) =>
    meta?.kind === 'hold' ? [meta.phrase] : [],
  );
  const phrase = one([...phrases, 'next step', ''], pick) ?? '';
  return size % 2 === 0 ? { kind: 'press', heldMs: size % 3000 } : { kind: 'phrase', phrase };
}

/** What people, noise and devices do besides the right thing. */
const MISHAPS: readonly ((state: JobState, draw: Draw) => JobEvent)[] = [
  () => ({ type: 'advance' }),
  () => ({ type: 'advance' }),
  (state, draw) => ({ type: 'confirm', evidence: evidence(state, draw) }),
  (state, draw) => ({ type: 'confirm', evidence: evidence(state, draw) }),
  (state, draw) => ({ type: 'witness', evidence: evidence(state, draw) }),
  ({ snapshot }, { pick, size }) => {
    const { tools } = snapshot.context.input;
    const toolId = one([...tools.map(({ id }) => id), 'XX-9'], pick) ?? '';
    return { type: 'reading', value: size / 10, unit: one(['mm', 'N·m', 'pitches', ''], size) ?? '', toolId };
  },
  ({ snapshot, machine: { definition } }, { pick, size }) => {
    // The right unit and perhaps the right tool, and a figure that lies anywhere.
    const station = stationOf(definition, snapshot.station);
    const measure = station && 'measure' in station ? station.measure : undefined;
    const tool = one(
      snapshot.context.input.tools.filter(({ kind }) => kind === measure?.tool),
      pick,
    );
    const reading = { type: 'reading', value: size / 20, unit: measure?.unit ?? 'mm' } as const;
    return tool ? { ...reading, toolId: tool.id } : reading;
  },
  ({ machine: { definition } }, { pick, size }) => ({
    type: 'lookUp',
    figure: one(Object.keys(definition.meta.figures), pick) ?? '',
    value: size / 10,
    unit: 'mm',
  }),
  (_, { pick, size }) => ({
    type: 'callOff',
    item: one(['gloves', 'torqueWrench', 'chain'], pick) ?? '',
    toolId: `TW-${size % 4}`,
  }),
  (_, { pick }) => ({
    type: 'choose',
    value: one([true, false, 'clip', 'rivet', 'bolt', 'circlip'], pick) ?? true,
  }),
  (_, { size }) => ({ type: 'accept', inputs: {}, output: { ratio: size } }),
  () => ({ type: 'cannot', code: 'no-answer' }),
  () => ({ type: 'fail' }),
  ({ snapshot }, { pick }) => {
    // Far back would make the job endless: only among the last few stations.
    const recent = snapshot.context.visits.slice(-5);
    return { type: 'open', station: one(recent, pick)?.station ?? '' };
  },
  ({ machine: { definition } }, { pick }) => ({
    type: 'open',
    station: one([...Object.keys(definition.states), 'complete', 'nowhere'], pick) ?? '',
  }),
  () => ({ type: 'pause' }),
  () => ({ type: 'resume' }),
  (_, { size }) => ({ type: 'note', says: size % 2 === 0 ? 'Looks worn.' : ' ' }),
  () => ({ type: 'signOn', how: 'pin' }),
  ({ snapshot }, { pick }) => ({ type: 'handOver', to: one(snapshot.context.input.people, pick)?.id ?? '' }),
  () => ({ type: 'trouble', says: 'A thread is stripped.' }),
  ({ snapshot }, { pick, size }) => {
    const station = one(snapshot.context.visits.slice(-3), pick)?.station ?? '';
    return size % 2 === 0
      ? { type: 'decide', decision: 'concession', says: 'It will hold.' }
      : { type: 'decide', decision: 'rework', station, says: 'Do it again.' };
  },
];

/** Draws that go wrong about every fourth time. */
export const draws = fc.array(
  fc.record({
    what: fc.integer({ min: 0, max: MISHAPS.length * 4 - 1 }),
    who: fc.nat(1000),
    pick: fc.nat(1000),
    size: fc.nat(3000),
    lateMs: fc.integer({ min: 1, max: 90_000 }),
  }),
  { minLength: 40, maxLength: 160 },
);

/** What a draw comes to: usually the right thing by the right person, else a mishap by anybody. */
export function moveOf(state: JobState, draw: Draw | undefined, worker: string, after: number): Stamped {
  const { people } = state.snapshot.context.input;
  const mishap = draw && MISHAPS[draw.what];
  if (draw && mishap) {
    const by = one([...people.map(({ id }) => id), worker, worker, 'nobody'], draw.who) ?? worker;
    const via = one(VIAS, draw.who) ?? 'keys';
    return { ...mishap(state, draw), by, via, at: after + draw.lateMs } as Stamped;
  }
  return putRight(state, worker, after);
}

/** The way on for somebody who does everything right, also out of a pause or a trouble. */
export function putRight(state: JobState, worker: string, after: number): Stamped {
  const { context } = state.snapshot;
  const at = after + 1000;
  const trouble = openTrouble(context);
  if (trouble) {
    const chief = context.input.people.find(({ role }) => role === 'supervisor')?.id ?? worker;
    const signed = context.signedOn[chief];
    const how = { by: chief, via: 'keys', at } as const;
    if (!signed || at - signed.at > 60_000) return { type: 'signOn', how: 'pin', ...how };
    const { station } = context.visits[context.visits.length - 1] ?? { station: '' };
    return { type: 'decide', decision: 'rework', station, says: 'Put it right.', ...how };
  }
  if (context.paused) return { type: 'resume', by: worker, via: 'keys', at };
  return rightMove(state.machine.definition, state.snapshot, worker, after);
}
