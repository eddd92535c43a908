import type { JobContext } from './context.ts';
import { here, openTrouble, personOf } from './context.ts';
import type { Definition } from './definition.ts';
import { stationOf } from './definition.ts';
import type { Stamped } from './events.ts';
import type { Refusal } from './refusal.ts';
import { refuse } from './refusal.ts';
import { settleFork, settleKit, settleLookUp, settleWait } from './settle-aids.ts';
import { settleHold } from './settle-hold.ts';
import { settleAttach, settleDecide, settleHandOver, signOnRefusal } from './settle-people.ts';
import { settleReading, settleRound, settleStep, settleWorking } from './settle-work.ts';

/** The way an event takes through a station: the name of the guard that lets it through. */
export type Way =
  | 'advances'
  | 'toolCalled'
  | 'kitComplete'
  | 'partScanned'
  | 'choiceMade'
  | 'withinLimits'
  | 'outsideLimits'
  | 'figureGiven'
  | 'figuresKnown'
  | 'resultAgrees'
  | 'noAnswer'
  | 'evidenceOpens'
  | 'evidenceAwaitsWitness'
  | 'witnessOpens'
  | 'failsHere'
  | 'roundGoesOn'
  | 'roundIsDone'
  | 'waitIsOver'
  | 'opensAgain'
  | 'pauses'
  | 'resumes'
  | 'notes'
  | 'stops'
  | 'signsOn'
  | 'handsOver'
  | 'raisesTrouble'
  | 'attaches'
  | 'returns'
  | 'concedes';

/** Either a way through, or the reason why not. */
export type Settlement =
  | { readonly way: Way; readonly refused?: never }
  | { readonly way?: never; readonly refused: Refusal };

const WHILE_PAUSED: readonly string[] = ['resume', 'note', 'stop', 'signOn', 'attach', 'handOver'];
const WHILE_IN_TROUBLE: readonly string[] = [
  'decide',
  'attach',
  'note',
  'pause',
  'resume',
  'stop',
  'signOn',
  'handOver',
];

/**
 * The single place where it is decided what an event does at a station: the machine's guards ask it, and so does the
 * job when it has to say why an event was refused.
 */
export function settle(
  definition: Definition,
  context: JobContext,
  stationName: string,
  event: Stamped,
): Settlement {
  const station = stationOf(definition, stationName);
  if (!station) return { refused: refuse('job-closed') };
  const person = personOf(context, event.by);
  if (!person) return { refused: refuse('person-unknown', { who: event.by }) };
  const unknown = signOnRefusal(context, person, event);
  if (unknown) return { refused: unknown };
  if (context.paused && !WHILE_PAUSED.includes(event.type)) return { refused: refuse('job-paused') };
  if (openTrouble(context) && !WHILE_IN_TROUBLE.includes(event.type))
    return { refused: refuse('trouble-open') };

  switch (event.type) {
    case 'pause':
      return { way: 'pauses' };
    case 'resume':
      return context.paused ? { way: 'resumes' } : { refused: refuse('not-paused') };
    case 'note':
      return event.says.trim() === '' ? { refused: refuse('reason-needed') } : { way: 'notes' };
    case 'stop':
      return event.says.trim() === '' ? { refused: refuse('reason-needed') } : { way: 'stops' };
    case 'open':
      return settleOpen(context, event.station);
    case 'signOn':
      return { way: 'signsOn' };
    case 'handOver':
      return settleHandOver(context, event.to, event.at);
    case 'trouble':
      return event.says.trim() === '' ? { refused: refuse('reason-needed') } : { way: 'raisesTrouble' };
    case 'attach':
      return settleAttach(event);
    case 'decide':
      return settleDecide(context, station, person, event);
  }

  switch (station.kind) {
    case 'step':
      return settleStep(definition, context, station, event);
    case 'hold':
      return settleHold(definition, context, stationName, station, event);
    case 'reading':
      return settleReading(definition, context, station.measure, event);
    case 'round':
      return settleRound(context, station, event);
    case 'working':
      return settleWorking(context, station, event);
    case 'kit':
      return settleKit(definition, context, station, event);
    case 'fork':
      return settleFork(station, event);
    case 'wait':
      return settleWait(context, station, event);
    case 'lookUp':
      return settleLookUp(definition, context, station, event);
  }
}

function settleOpen(context: JobContext, station: string): Settlement {
  if (here(context)?.station === station) return { refused: refuse('already-there') };
  const visited = context.visits.some((visit) => visit.station === station);
  return visited ? { way: 'opensAgain' } : { refused: refuse('not-visited') };
}
