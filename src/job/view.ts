import type { JournalRecord } from '../journal/record.ts';
import { outputAt } from '../procedure/amounts.ts';
import type { JobContext, Tool } from '../procedure/context.ts';
import { calledOff, here, known, labelsNow, openTrouble, personOf } from '../procedure/context.ts';
import type { Definition } from '../procedure/definition.ts';
import { stationOf } from '../procedure/definition.ts';
import type { FactValue } from '../procedure/facts.ts';
import { toolsAtHand } from '../procedure/measure.ts';
import { missingFigures, missingItems, neededItems, waitEndsAt } from '../procedure/settle-aids.ts';
import { needsWitness } from '../procedure/settle-hold.ts';
import { itemOf } from '../procedure/settle-parts.ts';
import { roundProgress } from '../procedure/settle-work.ts';
import type { Caution, Measure, Station, StationKind } from '../procedure/station.ts';
import { typedLabelInWords } from '../trade/part-label.ts';
import { passFractions, tightenOrder } from '../trade/tighten-order.ts';
import { explainWorking } from '../trade/workings.ts';
import { type AdjusterView, adjusterView } from './adjuster.ts';
import type { BigFigure } from './figures.ts';
import { bigFigure, figureToHit, shownFigures } from './figures.ts';
import type { Progress } from './road.ts';
import { progressOf } from './road.ts';
import type { JobState } from './runner.ts';

/** A figure that the station asks for: typed or spoken, read back, then committed. */
export interface Asked {
  /** `reading`: measured now; `lookUp`: read from the service manual. */
  readonly as: 'reading' | 'lookUp';
  /** Name of the figure looked up, or of the reading. */
  readonly name: string;
  readonly label: string;
  readonly unit: string;
  /** Tools of the right kind that were called off for this job; empty when no tool is named. */
  readonly tools: readonly Tool[];
}

export interface HoldView {
  readonly phrase: string;
  readonly byFigure: boolean;
  /** The person whose confirmation waits for a witness. */
  readonly awaitingFor: string | null;
  /** The person doing the work will need a witness here. */
  readonly witnessNeeded: boolean;
  readonly failed: number;
  /** The procedure allows a concession here. */
  readonly concession: boolean;
}

export interface KitView {
  readonly items: readonly {
    key: string;
    calls: string;
    kind: string;
    called: boolean;
    tool: string | null;
    /** The label that was scanned for it, in words. */
    label: string | null;
  }[];
  readonly next: {
    key: string;
    calls: string;
    tools: readonly Tool[];
    /** The workshop has labels for it: it can be scanned, and need not be. */
    scans: boolean;
  } | null;
}

/** The part that is fitted at a step, where the workshop has labels for it. */
export interface FitView {
  readonly item: string;
  readonly calls: string;
  /** The label that stands for it, in words; null: none was scanned. */
  readonly label: string | null;
  /** It was scanned at this very station. */
  readonly here: boolean;
}

export interface RoundView {
  readonly fastener: string;
  /** Places on the ring, 1 at twelve o'clock and on clockwise, in the order of tightening. */
  readonly order: readonly number[];
  readonly doneInPass: number;
  readonly now: number;
  readonly pass: string;
  readonly passNumber: number;
  readonly passes: number;
  readonly percent: number;
}

export interface ResultView {
  readonly answers: readonly BigFigure[];
  readonly fault: string | null;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly output: Readonly<Record<string, unknown>> | null;
  readonly faultCode: string | null;
  /** The formula with this job's numbers, line by line. */
  readonly formula: readonly string[];
}

/** Everything that a screen needs to show where the job stands. A pure function of the job and of who is working. */
export interface StationView {
  readonly title: string;
  readonly machine: string;
  readonly station: string;
  readonly kind: StationKind | 'end';
  readonly outcome: 'open' | 'complete' | 'stopped';
  readonly say: string;
  readonly why: string | null;
  readonly cautions: readonly Caution[];
  readonly drawing: string | null;
  readonly adjuster: AdjusterView | null;
  readonly figures: readonly BigFigure[];
  readonly asked: Asked | null;
  readonly hold: HoldView | null;
  readonly kit: KitView | null;
  readonly fit: FitView | null;
  readonly choices: readonly {
    readonly value: FactValue;
    readonly phrase: string;
    readonly onCard: boolean;
  }[];
  readonly round: RoundView | null;
  readonly waitEndsAt: number | null;
  readonly result: ResultView | null;
  readonly rework: boolean;
  readonly progress: Progress;
  readonly paused: { readonly at: number; readonly by: string } | null;
  /** The nonconformance that waits for a decision. */
  readonly trouble: { readonly number: number; readonly says: string; readonly attached: number } | null;
  readonly lastAccepted: JournalRecord | null;
  readonly lastRefused: JournalRecord | null;
}

function measureOf(station: Station): Measure | null {
  return station.kind === 'reading' || station.kind === 'hold' ? (station.measure ?? null) : null;
}

function askedAt(definition: Definition, context: JobContext, station: Station): Asked | null {
  if (station.kind === 'lookUp') {
    const [name] = missingFigures(station, context);
    const declared = name === undefined ? undefined : definition.meta.figures[name];
    if (name === undefined || !declared) return null;
    return { as: 'lookUp', name, label: declared.says, unit: declared.unit, tools: [] };
  }
  const measure = measureOf(station);
  if (!measure || here(context)?.awaiting) return null;
  const tools = measure.tool === undefined ? [] : toolsAtHand(context, measure.tool);
  return { as: 'reading', name: measure.name, label: measure.label, unit: measure.unit, tools };
}

function kitView(context: JobContext, station: Extract<Station, { kind: 'kit' }>): KitView {
  const called = calledOff(context);
  const [first] = missingItems(station, context);
  const labels = labelsNow(context);
  const toolsOf = (kind: string | undefined) => context.input.tools.filter((tool) => tool.kind === kind);
  return {
    items: neededItems(station, context).map(([key, item]) => ({
      key,
      calls: item.calls,
      kind: item.kind,
      called: key in called,
      tool: called[key] ?? null,
      label: labels[key] === undefined ? null : typedLabelInWords(labels[key]),
    })),
    next: first
      ? {
          key: first[0],
          calls: first[1].calls,
          tools: toolsOf(first[1].tool),
          scans: scans(context, first[0]),
        }
      : null,
  };
}

/** Has the workshop labels for this kit item? */
const scans = (context: JobContext, key: string): boolean =>
  context.input.parts?.some((part) => part.item === key) === true;

function fitView(definition: Definition, context: JobContext, station: Station): FitView | null {
  const item =
    station.kind === 'step' && station.fits !== undefined ? itemOf(definition, station.fits) : null;
  if (!item || !scans(context, item.key)) return null;
  const label = labelsNow(context)[item.key];
  return {
    item: item.key,
    calls: item.calls,
    label: label === undefined ? null : typedLabelInWords(label),
    here: here(context)?.labels?.[item.key] !== undefined,
  };
}

function roundView(context: JobContext, station: Extract<Station, { kind: 'round' }>): RoundView | null {
  const { fasteners, done } = roundProgress(context, station);
  if (fasteners === null) return null;
  const order = tightenOrder(fasteners);
  const pass = Math.floor(done / fasteners);
  const doneInPass = done % fasteners;
  return {
    fastener: station.fastener,
    order,
    doneInPass,
    now: order[doneInPass] ?? 1,
    pass: station.passes[pass] ?? '',
    passNumber: pass + 1,
    passes: station.passes.length,
    percent: passFractions(station.passes.length)[pass] ?? 100,
  };
}

function resultView(context: JobContext, station: Extract<Station, { kind: 'working' }>): ResultView | null {
  const result = here(context)?.result;
  if (!result) return null;
  const { inputs, output, fault } = result;
  const answers = station.answers.map(({ key, label, unit }): BigFigure => {
    const value = output ? outputAt(output, key) : undefined;
    if (typeof value === 'number') return bigFigure(label, value, unit);
    return { label, digits: typeof value === 'string' ? value : '–', unit, other: null, limits: null };
  });
  return {
    answers,
    fault: fault?.sentence ?? null,
    faultCode: fault?.code ?? null,
    inputs,
    output,
    formula: output ? explainWorking(station.working, inputs) : [],
  };
}

function holdView(
  context: JobContext,
  station: Extract<Station, { kind: 'hold' }>,
  worker: string,
): HoldView {
  const visit = here(context);
  const awaiting = visit?.awaiting;
  return {
    phrase: station.phrase,
    byFigure: station.measure !== undefined,
    awaitingFor: awaiting ? (personOf(context, awaiting.by)?.name ?? awaiting.by) : null,
    witnessNeeded: needsWitness(station, context, worker),
    failed: visit?.failed ?? 0,
    concession: station.concession === true,
  };
}

function troubleView(context: JobContext): StationView['trouble'] {
  const trouble = openTrouble(context);
  return trouble && { number: trouble.number, says: trouble.says, attached: trouble.attached.length };
}

const last = (records: readonly JournalRecord[], outcome: JournalRecord['outcome']) =>
  records.findLast((record) => record.outcome === outcome) ?? null;

/** The view of a job for the person who works at it. */
export function viewOf(state: JobState, worker: string): StationView {
  const { machine, snapshot, records } = state;
  const { definition } = machine;
  const { context } = snapshot;
  const station = stationOf(definition, snapshot.station);
  const opened = records[0]?.event;
  const { facts } = known(context);
  const measure = station ? measureOf(station) : null;
  const toHit = measure ? [figureToHit(measure, context)] : [];
  return {
    title: definition.meta.title,
    machine: opened?.type === 'job.opened' ? opened.machine.says : '',
    station: snapshot.station,
    kind: station?.kind ?? 'end',
    outcome: snapshot.outcome,
    say: station?.say ?? '',
    why: station?.why ?? null,
    cautions: station?.cautions ?? [],
    drawing: station?.drawing ?? null,
    adjuster: station ? adjusterView(context, station) : null,
    figures: [...toHit, ...shownFigures(station?.shows ?? [], context)],
    asked: station ? askedAt(definition, context, station) : null,
    hold: station?.kind === 'hold' ? holdView(context, station, worker) : null,
    kit: station?.kind === 'kit' ? kitView(context, station) : null,
    fit: station ? fitView(definition, context, station) : null,
    choices:
      station?.kind === 'fork'
        ? station.choices.map((choice) => ({ ...choice, onCard: facts[station.fact] === choice.value }))
        : [],
    round: station?.kind === 'round' ? roundView(context, station) : null,
    waitEndsAt: station?.kind === 'wait' ? waitEndsAt(station, context) : null,
    result: station?.kind === 'working' ? resultView(context, station) : null,
    rework: station?.kind === 'step' && station.rework === true,
    progress: progressOf(definition, context, snapshot.station),
    paused: context.paused,
    trouble: troubleView(context),
    lastAccepted: last(records, 'accepted'),
    lastRefused: last(records, 'refused'),
  };
}
