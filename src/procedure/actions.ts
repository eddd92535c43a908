import { assign } from 'xstate';
import type { ReadingValue } from './amounts.ts';
import { outputAt, resolveInput } from './amounts.ts';
import type { JobContext, Pass, Trouble, Visit } from './context.ts';
import { here, known, openTrouble } from './context.ts';
import type { Definition } from './definition.ts';
import { stationOf } from './definition.ts';
import type { Stamped } from './events.ts';
import type { Measure, WorkingStation } from './station.ts';
import { runFor } from './working-run.ts';

type Args = { context: JobContext; event: Stamped };
type StationParams = { station: string };

/** XState starts a machine with an event of its own, which carries no time: then the job's opening counts. */
const momentOf = ({ context, event }: Args): number => event.at ?? context.input.at;

const withHere = (context: JobContext, change: (visit: Visit) => Visit): JobContext => ({
  ...context,
  visits: [...context.visits.slice(0, -1), ...context.visits.slice(-1).map(change)],
});

/**
 * Arriving at a station that was visited before cuts away everything since: it has to be done, and inspected, again.
 * At a working the result is computed on arrival, from what is known then.
 */
function arrive(definition: Definition, args: Args, { station }: StationParams): JobContext {
  const { context } = args;
  const before = context.visits.findIndex((visit) => visit.station === station);
  const failed = before < 0 ? undefined : context.visits[before]?.failed;
  const visits = before < 0 ? context.visits : context.visits.slice(0, before);
  const kept: JobContext = { ...context, visits };
  const meta = stationOf(definition, station);
  const visit: Visit = {
    station,
    arrivedAt: momentOf(args),
    ...(failed === undefined ? {} : { failed }),
    ...(meta?.kind === 'working' ? { result: resultOf(meta, kept) } : {}),
  };
  return { ...kept, visits: [...visits, visit] };
}

function resultOf(meta: WorkingStation, context: JobContext) {
  const inputs = resolveInput(meta.inputs, known(context)) as Record<string, unknown>;
  return { inputs, ...runFor(meta, inputs) };
}

function readingOf(measure: Measure, event: Stamped<Extract<Stamped, { type: 'reading' }>>) {
  const taken: ReadingValue = {
    value: event.value,
    unit: event.unit,
    tool: event.toolId ?? null,
    by: event.by,
    at: event.at,
  };
  return { name: measure.name, taken };
}

function keepReading(
  definition: Definition,
  { context, event }: Args,
  { station }: StationParams,
): JobContext {
  const meta = stationOf(definition, station);
  if (event.type !== 'reading' || !meta || !('measure' in meta) || !meta.measure) return context;
  const reading = readingOf(meta.measure, event);
  return withHere(context, (visit) => ({ ...visit, reading }));
}

function passBy({ event }: Args, definition: Definition, station: string): Pass | null {
  const witness = null;
  if (event.type === 'confirm') {
    return { evidence: event.evidence, by: event.by, via: event.via, at: event.at, witness };
  }
  if (event.type === 'decide') {
    const evidence = { kind: 'concession', says: event.says } as const;
    return { evidence, by: event.by, via: event.via, at: event.at, witness };
  }
  const meta = stationOf(definition, station);
  if (event.type !== 'reading' || meta?.kind !== 'hold' || !meta.measure) return null;
  const reading = readingOf(meta.measure, event).taken;
  return { evidence: { kind: 'reading', reading }, by: event.by, via: event.via, at: event.at, witness };
}

function passHold(definition: Definition, args: Args, { station }: StationParams): JobContext {
  const { context, event } = args;
  const awaiting = here(context)?.awaiting;
  if (event.type === 'witness' && awaiting) {
    const witness = { by: event.by, via: event.via, at: event.at };
    return withHere(context, ({ awaiting: _, ...visit }) => ({ ...visit, pass: { ...awaiting, witness } }));
  }
  const pass = passBy(args, definition, station);
  return pass
    ? withHere(keepReading(definition, args, { station }), (visit) => ({ ...visit, pass }))
    : context;
}

function awaitWitness(definition: Definition, args: Args, { station }: StationParams): JobContext {
  const awaiting = passBy(args, definition, station);
  if (!awaiting) return args.context;
  return withHere(keepReading(definition, args, { station }), (visit) => ({ ...visit, awaiting }));
}

function failHold({ context }: Args): JobContext {
  return withHere(context, ({ awaiting: _, ...visit }) => ({ ...visit, failed: (visit.failed ?? 0) + 1 }));
}

function callOff(definition: Definition, { context, event }: Args, { station }: StationParams): JobContext {
  const meta = stationOf(definition, station);
  if (event.type !== 'callOff' || meta?.kind !== 'kit') return context;
  const { item, toolId = null } = event;
  // A number given with an item that is no tool (gloves, scanned with a wrench in the other hand) brings no tool along:
  // unchecked as it is, it would later stand in the way of the right one.
  const tool = meta.items.find(({ key }) => key === item)?.tool === undefined ? null : toolId;
  const labels = event.label === undefined ? null : { [item]: event.label };
  return withHere(context, (visit) => ({
    ...visit,
    called: { ...visit.called, [item]: tool },
    ...(labels ? { labels: { ...visit.labels, ...labels } } : {}),
  }));
}

function keepLabel(definition: Definition, { context, event }: Args, { station }: StationParams): JobContext {
  const meta = stationOf(definition, station);
  if (event.type !== 'scan' || meta?.kind !== 'step' || meta.fits === undefined) return context;
  const labels = { [meta.fits]: event.label };
  return withHere(context, (visit) => ({ ...visit, labels: { ...visit.labels, ...labels } }));
}

function setFact(definition: Definition, { context, event }: Args, { station }: StationParams): JobContext {
  const meta = stationOf(definition, station);
  if (event.type !== 'choose' || meta?.kind !== 'fork') return context;
  return withHere(context, (visit) => ({ ...visit, chose: { fact: meta.fact, value: event.value } }));
}

function setFigure({ context, event }: Args): JobContext {
  if (event.type !== 'lookUp') return context;
  const figure = { value: event.value, unit: event.unit, source: 'entered', by: event.by } as const;
  return withHere(context, (visit) => ({ ...visit, figures: { ...visit.figures, [event.figure]: figure } }));
}

function giveFigures(definition: Definition, { context }: Args, { station }: StationParams): JobContext {
  const meta = stationOf(definition, station);
  const output = here(context)?.result?.output;
  if (meta?.kind !== 'working' || !output) return context;
  const given = Object.entries(meta.gives ?? {}).flatMap(([figure, key]) => {
    const value = outputAt(output, key);
    const unit = definition.meta.figures[figure]?.unit ?? '';
    return typeof value === 'number' ? [[figure, { value, unit, source: 'working' }] as const] : [];
  });
  return withHere(context, (visit) => ({ ...visit, figures: Object.fromEntries(given) }));
}

/** The event when it is of this type, else null. */
const only = <T extends Stamped['type']>({ event }: Args, type: T) =>
  event.type === type ? (event as Extract<Stamped, { type: T }>) : null;

function signOn(args: Args): JobContext {
  const given = only(args, 'signOn');
  const { context } = args;
  if (!given) return context;
  return { ...context, signedOn: { ...context.signedOn, [given.by]: { at: given.at, how: given.how } } };
}

function raiseTrouble(args: Args): JobContext {
  const raised = only(args, 'trouble');
  const { context } = args;
  if (!raised) return context;
  const { says, by, at } = raised;
  const number = context.troubles.length + 1;
  const trouble = {
    number,
    station: here(context)?.station ?? '',
    says,
    by,
    at,
    attached: [],
    decided: null,
  };
  return { ...context, troubles: [...context.troubles, trouble] };
}

/** Changes the trouble that is open, or the last one: a photo may come after the decision. */
function withTrouble(context: JobContext, change: (trouble: Trouble) => Trouble): JobContext {
  const number = (openTrouble(context) ?? context.troubles[context.troubles.length - 1])?.number;
  return { ...context, troubles: context.troubles.map((one) => (one.number === number ? change(one) : one)) };
}

function attach(args: Args): JobContext {
  const given = only(args, 'attach');
  if (!given) return args.context;
  const { kind, sha256, bytes, media } = given;
  return withTrouble(args.context, (trouble) => ({
    ...trouble,
    attached: [...trouble.attached, { kind, sha256, bytes, media }],
  }));
}

function closeTrouble(args: Args): JobContext {
  const decided = only(args, 'decide');
  if (!decided) return args.context;
  const { decision, says, by, at } = decided;
  const station = decided.decision === 'concession' ? {} : { station: decided.station };
  return withTrouble(args.context, (trouble) => ({
    ...trouble,
    decided: { decision, says, by, at, ...station },
  }));
}

function stopJob(args: Args): JobContext {
  const stop = only(args, 'stop');
  if (!stop) return args.context;
  const { at, by, says } = stop;
  const closed = openTrouble(args.context)
    ? withTrouble(args.context, (trouble) => ({ ...trouble, decided: { decision: 'stop', says, by, at } }))
    : args.context;
  return { ...closed, stopped: { at, by, says } };
}

function keepNote({ context, event }: Args): JobContext {
  if (event.type !== 'note') return context;
  const note = { station: here(context)?.station ?? '', says: event.says, by: event.by, at: event.at };
  return { ...context, notes: [...context.notes, note] };
}

/** The actions of every procedure, by name. Each only changes the context: none has an effect outside. */
export function actionsFor(definition: Definition) {
  type P = StationParams;
  const to = (change: (args: Args, params: P) => JobContext) =>
    assign<JobContext, Stamped, P, Stamped, never>((args, params) => change(args as Args, params));
  return {
    arrive: to((args, params) => arrive(definition, args, params)),
    keepReading: to((args, params) => keepReading(definition, args, params)),
    passHold: to((args, params) => passHold(definition, args, params)),
    awaitWitness: to((args, params) => awaitWitness(definition, args, params)),
    failHold: to(failHold),
    callOff: to((args, params) => callOff(definition, args, params)),
    keepLabel: to((args, params) => keepLabel(definition, args, params)),
    setFact: to((args, params) => setFact(definition, args, params)),
    setFigure: to(setFigure),
    giveFigures: to((args, params) => giveFigures(definition, args, params)),
    countFastener: to(({ context }) =>
      withHere(context, (visit) => ({ ...visit, done: (visit.done ?? 0) + 1 })),
    ),
    keepNote: to(keepNote),
    pauseJob: to(({ context, event }) =>
      event.type === 'pause'
        ? { ...context, paused: { at: event.at, by: event.by, ...(event.says ? { says: event.says } : {}) } }
        : context,
    ),
    resumeJob: to(({ context }) => ({ ...context, paused: null })),
    stopJob: to(stopJob),
    signOn: to(signOn),
    handOver: to((args) => ({ ...args.context, worker: only(args, 'handOver')?.to ?? args.context.worker })),
    raiseTrouble: to(raiseTrouble),
    attach: to(attach),
    closeTrouble: to(closeTrouble),
  };
}

/** The names of the actions that a procedure may use. */
export const ACTION_NAMES = [
  'arrive',
  'keepReading',
  'passHold',
  'awaitWitness',
  'failHold',
  'callOff',
  'keepLabel',
  'setFact',
  'setFigure',
  'giveFigures',
  'countFastener',
  'keepNote',
  'pauseJob',
  'resumeJob',
  'stopJob',
  'signOn',
  'handOver',
  'raiseTrouble',
  'attach',
  'closeTrouble',
] as const;
