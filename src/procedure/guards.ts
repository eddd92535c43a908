import type { JobContext } from './context.ts';
import { known, passes } from './context.ts';
import type { Definition } from './definition.ts';
import { stationOf } from './definition.ts';
import type { Stamped } from './events.ts';
import type { Facts, FactValue } from './facts.ts';
import { satisfies } from './facts.ts';
import type { Way } from './settle.ts';
import { settle } from './settle.ts';
import { missingFigures } from './settle-aids.ts';

type Args = { context: JobContext; event: Stamped };
type Params = Readonly<Record<string, string | boolean>>;

/** The ways that are guards of their own name: each is open when `settle` says that the event takes it. */
export const WAYS: readonly Way[] = [
  'advances',
  'toolCalled',
  'kitComplete',
  'partScanned',
  'withinLimits',
  'outsideLimits',
  'figureGiven',
  'figuresKnown',
  'resultAgrees',
  'noAnswer',
  'evidenceOpens',
  'evidenceAwaitsWitness',
  'witnessOpens',
  'failsHere',
  'roundGoesOn',
  'roundIsDone',
  'waitIsOver',
  'pauses',
  'resumes',
  'notes',
  'stops',
  'signsOn',
  'handsOver',
  'raisesTrouble',
  'attaches',
  'concedes',
];

/** Guards that look at more than the way: a value chosen, a fact known, the station asked for. */
export const OTHER_GUARDS = ['choiceIs', 'factIs', 'nothingToLookUp', 'opensAgain', 'returnsTo'] as const;

/** The hold points that apply under these facts, by station name. */
export function holdsThatApply(definition: Definition, facts: Facts): string[] {
  return Object.keys(definition.states).filter((name) => {
    const station = stationOf(definition, name);
    return station?.kind === 'hold' && satisfies(station.applies, facts);
  });
}

/** The hold points that apply to this job and have not been passed, in the order of the procedure. */
export function holdsNotPassed(definition: Definition, context: JobContext): string[] {
  const passed = passes(context);
  return holdsThatApply(definition, known(context).facts).filter((name) => !Object.hasOwn(passed, name));
}

/** The guards of every procedure, by name. */
export function guardsFor(definition: Definition) {
  const current = (context: JobContext) => context.visits[context.visits.length - 1]?.station ?? '';
  const takes = (way: Way, { context, event }: Args, params: Params, station = current(context)) => {
    // The very first step of a machine carries no event of ours.
    if (event.at === undefined) return false;
    if (settle(definition, context, station, event).way !== way) return false;
    // The last door: no transition into `complete` opens while a hold point that applies is not passed.
    if (params.completes !== true) return true;
    const opening = way === 'evidenceOpens' || way === 'witnessOpens' || way === 'concedes' ? station : null;
    return holdsNotPassed(definition, context).every((hold) => hold === opening);
  };
  const byWay = WAYS.map((way) => [way, (args: Args, params: Params) => takes(way, args, params)] as const);
  return {
    ...Object.fromEntries(byWay),
    choiceIs: (args: Args, params: Params) =>
      takes('choiceMade', args, params) && args.event.type === 'choose' && args.event.value === params.value,
    factIs: ({ context }: Args, params: Params) =>
      known(context).facts[String(params.fact)] === (params.value as FactValue),
    nothingToLookUp: ({ context }: Args, params: Params) => {
      const station = stationOf(definition, String(params.station));
      return station?.kind === 'lookUp' && missingFigures(station, context).length === 0;
    },
    opensAgain: (args: Args, params: Params) =>
      args.event.type === 'open' &&
      args.event.station === params.station &&
      takes('opensAgain', args, params),
    returnsTo: (args: Args, params: Params) =>
      args.event.type === 'decide' &&
      args.event.decision !== 'concession' &&
      args.event.station === params.station &&
      takes('returns', args, params),
  };
}
