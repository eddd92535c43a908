import finalDrive from '../../procedures/final-drive/index.ts';
import recheck from '../../procedures/final-drive-recheck/index.ts';
import { makeRecord } from '../../src/journal/chain.ts';
import { hashOf } from '../../src/journal/hash.ts';
import { toMoment } from '../../src/journal/moment.ts';
import type { JournalRecord, OpenedEvent } from '../../src/journal/record.ts';
import { inputOf } from '../../src/journal/replay.ts';
import type { JobInput } from '../../src/procedure/context.ts';
import { decide } from '../../src/procedure/decide.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import { stationOf } from '../../src/procedure/definition.ts';
import type { JobEvent, Stamped } from '../../src/procedure/events.ts';
import { combinations } from '../../src/procedure/facts.ts';
import type { Snapshot } from '../../src/procedure/machine.ts';
import { sample, sampleInput } from '../procedure/sample.ts';
import { rightMove } from '../procedures/driver.ts';
import { openedJob } from '../procedures/training-machine.ts';
import { machineOf } from '../procedures/walk.ts';

/** Random numbers from a seed: an integer from 0 to below `n`. */
export type Draw = (n: number) => number;

/** Mulberry32, a small public-domain generator: the same seed gives the same job on any machine. */
export function drawFrom(seed: number): Draw {
  let state = seed >>> 0;
  return (n) => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return Math.floor((((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32) * n);
  };
}

export const pick = <T>(draw: Draw, from: readonly T[]): T => from[draw(from.length)] as T;

type Mishap = (snapshot: Snapshot, draw: Draw, definition: Definition) => JobEvent;

/** What people and noise do besides the right thing. */
const mishaps: readonly Mishap[] = [
  () => ({ type: 'advance' }),
  () => ({ type: 'fail', says: 'Not right yet.' }),
  () => ({ type: 'pause' }),
  () => ({ type: 'resume' }),
  () => ({ type: 'note', says: 'Grease on the guard – wiped. ½ turn back.' }),
  () => ({ type: 'confirm', evidence: { kind: 'phrase', phrase: 'everything is fine', score: 0.71 } }),
  (_, draw) => ({ type: 'confirm', evidence: { kind: 'press', heldMs: draw(2400) } }),
  (_, draw) => ({ type: 'witness', evidence: { kind: 'press', heldMs: 1000 + draw(400) } }),
  ({ station }, draw, definition) => {
    const meta = stationOf(definition, station);
    const measure = meta && 'measure' in meta ? meta.measure : undefined;
    return {
      type: 'reading',
      value: draw(120),
      unit: measure?.unit ?? 'mm',
      toolId: pick(draw, ['TW1', 'SR1', 'T1', 'T2', 'R1']),
    };
  },
  (_, draw) => ({ type: 'choose', value: pick(draw, ['clip', 'rivet', 'bolt', 'circlip', true, false]) }),
  (_, draw) => ({
    type: 'callOff',
    item: pick(draw, ['gloves', 'wrench', 'seals']),
    toolId: pick(draw, ['T1', 'T2']),
  }),
  (_, draw) => ({ type: 'lookUp', figure: pick(draw, ['bolts', 'axleTorque']), value: draw(100), unit: '' }),
  ({ context }, draw) => ({ type: 'open', station: pick(draw, context.visits.slice(-6)).station }),
];

/** After so many events nothing goes astray any more, and after so many somebody sees that the job comes to no end. */
const CALM_AFTER = 80;
const GIVEN_UP = 600;

function inputFor(definition: Definition, draw: Draw): JobInput {
  const facts = pick(draw, combinations(definition.meta.facts));
  if (definition !== sample) return openedJob(definition, facts);
  const { bolts: _, ...figures } = sampleInput.figures;
  return { ...sampleInput, facts: draw(2) ? facts : sampleInput.facts, figures };
}

/** A job that was really run, with everything that goes wrong on the way: complete, or now and then stopped. */
export function randomJob(
  seed: number,
  definitions: readonly Definition[] = [sample, recheck, finalDrive],
): JournalRecord[] {
  const draw = drawFrom(seed);
  const definition = pick(draw, definitions);
  const input = inputFor(definition, draw);
  const machine = machineOf(definition);
  const doers = input.people.map(({ id }) => id);
  const opened: OpenedEvent = {
    type: 'job.opened',
    procedure: definition,
    procedureHash: hashOf(definition),
    machine: { id: 'M1', says: 'Training machine' },
    facts: input.facts,
    figures: input.figures,
    people: input.people,
    tools: input.tools,
    app: '0.1.0',
  };
  const hex = seed.toString(16).padStart(12, '0');
  const job = `00000000-0000-4000-8000-${hex}`;
  let at = input.at;
  let now = machine.start(inputOf(opened, at));
  let doer = pick(draw, doers);
  const first = {
    job,
    at: toMoment(at),
    by: doer,
    via: 'system',
    event: opened,
    outcome: 'accepted',
  } as const;
  const records = [makeRecord(null, { ...first, station: now.station })];
  const stopsAt = draw(12) === 0 ? draw(60) : GIVEN_UP;

  for (let turn = 0; now.outcome === 'open'; turn++) {
    if (draw(15) === 0) doer = pick(draw, doers);
    const calm = turn > CALM_AFTER;
    let move: Stamped;
    if (turn >= stopsAt)
      move = { type: 'stop', says: 'Hub is cracked.', by: doer, via: 'voice', at: at + 1000 };
    else if (now.context.paused && (calm || draw(2)))
      move = { type: 'resume', by: doer, via: 'pedal', at: at + 1000 };
    else if (now.context.paused || (!calm && draw(3) === 0)) {
      const via = pick(draw, ['voice', 'pedal', 'keys', 'touch', 'gauge'] as const);
      move = {
        ...pick(draw, mishaps)(now, draw, definition),
        by: pick(draw, [doer, ...doers, 'x9']),
        via,
        at: at + 1 + draw(5000),
      };
    } else move = rightMove(definition, now, doer, at);
    const { at: moment, by, via, ...event } = move;
    at = moment;
    const decision = decide(machine, now, move);
    now = decision.snapshot;
    records.push(
      makeRecord(records[records.length - 1] ?? null, {
        job,
        at: toMoment(at),
        by,
        via,
        event: event as JobEvent,
        outcome: decision.outcome,
        ...(decision.outcome === 'refused' ? { reason: decision.reason } : {}),
        station: now.station,
      }),
    );
  }
  return records;
}
