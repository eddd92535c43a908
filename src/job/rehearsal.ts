import { here, personOf } from '../procedure/context.ts';
import { dayOf } from '../procedure/day.ts';
import type { Definition } from '../procedure/definition.ts';
import { stationOf } from '../procedure/definition.ts';
import type { JobEvent, Stamped } from '../procedure/events.ts';
import type { Snapshot } from '../procedure/machine.ts';
import { limitsNow, toolsAtHand } from '../procedure/measure.ts';
import { missingFigures, missingItems, waitEndsAt } from '../procedure/settle-aids.ts';
import { signOnRefusal } from '../procedure/settle-people.ts';
import type { Measure, Station } from '../procedure/station.ts';

/** A number of a tool of this kind that may be used now: one called off before, else any that is in calibration. */
function toolNumber(definition: Definition, { context }: Snapshot, kind: string): string {
  const today = dayOf(here(context)?.arrivedAt ?? context.input.at);
  const calibrated = definition.meta.tools[kind]?.calibrated === true;
  const tool = [...toolsAtHand(context, kind), ...context.input.tools].find(
    (one) => one.kind === kind && (!calibrated || (one.calibratedUntil ?? '') >= today),
  );
  if (!tool) throw new Error(`The job has no ${kind} that may be used.`);
  return tool.id;
}

/** A value that lies within the limits: the target, else the middle, else the one limit there is. */
function goodValue(measure: Measure, { context }: Snapshot): number {
  const { target, min, max } = limitsNow(measure, context);
  if (target !== null) return target;
  if (min !== null && max !== null) return (min + max) / 2;
  return min ?? max ?? 0;
}

function readingEvent(definition: Definition, snapshot: Snapshot, measure: Measure): JobEvent {
  const { unit, tool } = measure;
  const toolId = tool === undefined ? {} : { toolId: toolNumber(definition, snapshot, tool) };
  return { type: 'reading', value: goodValue(measure, snapshot), unit, ...toolId };
}

const WHOLE = ['teeth', 'pitches', 'pieces', 'turns'];

function lookedUp(definition: Definition, figure: string): JobEvent {
  const declared = definition.meta.figures[figure];
  if (!declared) throw new Error(`The procedure asks for ${figure}, which it does not declare.`);
  const [low, high] = declared.plausible;
  const middle = (low + high) / 2;
  const value = WHOLE.includes(declared.unit) ? Math.round(middle) : middle;
  return { type: 'lookUp', figure, value, unit: declared.unit };
}

function eventAt(definition: Definition, snapshot: Snapshot, station: Station): JobEvent {
  const { context } = snapshot;
  switch (station.kind) {
    case 'step':
    case 'round':
    case 'wait':
      return { type: 'advance' };
    case 'hold': {
      const evidence = { kind: 'phrase', phrase: station.phrase } as const;
      if (here(context)?.awaiting) return { type: 'witness', evidence };
      if (station.measure) return readingEvent(definition, snapshot, station.measure);
      return { type: 'confirm', evidence };
    }
    case 'reading':
      return readingEvent(definition, snapshot, station.measure);
    case 'kit': {
      const [missing] = missingItems(station, context);
      if (!missing) return { type: 'advance' };
      const [item, { tool }] = missing;
      return tool === undefined
        ? { type: 'callOff', item }
        : { type: 'callOff', item, toolId: toolNumber(definition, snapshot, tool) };
    }
    case 'fork': {
      const known = context.input.facts[station.fact];
      const choice = station.choices.find(({ value }) => value === known) ?? station.choices[0];
      if (!choice) throw new Error('A fork without a way.');
      return { type: 'choose', value: choice.value };
    }
    case 'working': {
      const { inputs = {}, output, fault } = here(context)?.result ?? {};
      return output ? { type: 'accept', inputs, output } : { type: 'cannot', code: fault?.code ?? '' };
    }
    case 'lookUp':
      return lookedUp(definition, missingFigures(station, context)[0] ?? '');
  }
}

/**
 * What a person who does everything right does next at this station. Figures are taken within their limits, forks go the
 * way of the facts that the job was opened with, figures that the card lacks get the middle of what is plausible.
 * @throws Error when the job is closed or lacks a usable tool
 */
export function rightEvent(definition: Definition, snapshot: Snapshot): JobEvent {
  const station = stationOf(definition, snapshot.station);
  if (!station) throw new Error(`There is nothing to do at ${snapshot.station}.`);
  return eventAt(definition, snapshot, station);
}

/**
 * The right event with who does it and when: `doer` works, a mechanic or supervisor who is not `doer` witnesses, a wait
 * is waited out. `after` is the time of the event before, ms since 1970; one second passes between two events.
 */
export function rightMove(definition: Definition, snapshot: Snapshot, doer: string, after: number): Stamped {
  const { context } = snapshot;
  const awaiting = here(context)?.awaiting;
  const other = context.input.people.find(({ id, role }) => id !== awaiting?.by && role !== 'apprentice');
  const by = awaiting ? other?.id : personOf(context, doer)?.id;
  if (by === undefined)
    throw new Error(awaiting ? 'Nobody here may witness.' : `${doer} is not on this job.`);
  const station = stationOf(definition, snapshot.station);
  const waited = station?.kind === 'wait' ? (waitEndsAt(station, context) ?? 0) : 0;
  const at = Math.max(after + 1000, waited);
  const move = { ...rightEvent(definition, snapshot), by, via: 'keys', at } as Stamped;
  const person = personOf(context, by);
  return person && signOnRefusal(context, person, move)
    ? { type: 'signOn', how: 'pin', by, via: 'keys', at }
    : move;
}
