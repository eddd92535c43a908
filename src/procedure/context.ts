import type { FigureValue, ReadingValue } from './amounts.ts';
import type { Attachment, Evidence, SignOnWay, Via } from './events.ts';
import type { Facts, FactValue } from './facts.ts';

export type Role = 'mechanic' | 'apprentice' | 'supervisor';

export interface Person {
  readonly id: string;
  readonly name: string;
  readonly role: Role;
  /** This person must sign on: before working, and anew before witnessing or deciding. */
  readonly signsOn?: true;
}

export interface Tool {
  readonly id: string;
  /** Kind: a key of the procedure's tools. */
  readonly kind: string;
  readonly says: string;
  /** Day on which the calibration lapses, `YYYY-MM-DD`; absent for a tool that needs none. */
  readonly calibratedUntil?: string;
  /** Accuracy class in per cent of the reading. */
  readonly classPercent?: number;
}

/** A part that the workshop knows by its label. */
export interface Part {
  /** Its GTIN, or the maker's or workshop's own code. */
  readonly code: string;
  /** What it is, in the workshop's words. */
  readonly says: string;
  /** Key of the kit item that it is right for in this job; absent: it belongs to other work or another machine. */
  readonly item?: string;
  /** Figures of the job that it is right for, by name: a sprocket its teeth. A figure not known yet is no obstacle. */
  readonly figures?: Readonly<Record<string, number>>;
}

/** What a job starts from. Everything in it is in the first record of the journal. */
export interface JobInput {
  readonly facts: Facts;
  readonly figures: Readonly<Record<string, FigureValue>>;
  readonly people: readonly Person[];
  readonly tools: readonly Tool[];
  /** Parts with labels; absent in jobs of a workshop that keeps no list of them. */
  readonly parts?: readonly Part[];
  /** When the job was opened, ms since 1970. */
  readonly at: number;
}

/** A hold point that was passed, and by what. */
export interface Pass {
  readonly evidence:
    | Evidence
    | { readonly kind: 'reading'; readonly reading: ReadingValue }
    /** The hold was not opened by its evidence: it stands conceded, for a recorded reason. */
    | { readonly kind: 'concession'; readonly says: string };
  readonly by: string;
  readonly via: Via;
  readonly at: number;
  readonly witness: { readonly by: string; readonly via: Via; readonly at: number } | null;
}

/**
 * One visit to a station, in the order of arrival, with what was settled there. Going back to a station cuts the
 * visits after it away, and with them every hold point passed, figure read and choice made since: disturbed work is
 * done and inspected again. (The journal keeps what was cut.)
 */
export interface Visit {
  readonly station: string;
  readonly arrivedAt: number;
  readonly pass?: Pass;
  readonly reading?: { readonly name: string; readonly taken: ReadingValue };
  readonly chose?: { readonly fact: string; readonly value: FactValue };
  readonly figures?: Readonly<Record<string, FigureValue>>;
  readonly result?: WorkingResult;
  readonly called?: Readonly<Record<string, string | null>>;
  /** Labels of parts scanned here: kit item -> the label as it was read. */
  readonly labels?: Readonly<Record<string, string>>;
  /** Fasteners done in a round, over all passes. */
  readonly done?: number;
  /** A hold's evidence that waits for a witness. */
  readonly awaiting?: Pass;
  /** How often a hold failed here. */
  readonly failed?: number;
}

export interface WorkingResult {
  readonly inputs: Readonly<Record<string, unknown>>;
  /** null: the working found no answer, and `fault` says why. */
  readonly output: Readonly<Record<string, unknown>> | null;
  readonly fault?: { readonly code: string; readonly sentence: string };
}

/** Something said about the job on the way, kept with where it was said. */
export interface Note {
  readonly station: string;
  readonly says: string;
  readonly by: string;
  readonly at: number;
}

/** A nonconformance (ISO 9000): something that is not as it must be, and what was decided about it. */
export interface Trouble {
  /** Counted from 1 within the job. */
  readonly number: number;
  readonly station: string;
  readonly says: string;
  readonly by: string;
  readonly at: number;
  readonly attached: readonly Attachment[];
  readonly decided: {
    readonly decision: 'rework' | 'scrap' | 'concession' | 'stop';
    readonly says: string;
    readonly by: string;
    readonly at: number;
    /** Where the work goes on after rework or scrap. */
    readonly station?: string;
  } | null;
}

/** The context of a procedure's machine. Plain JSON; a pure function of the journal. */
export interface JobContext {
  readonly input: JobInput;
  readonly visits: readonly Visit[];
  readonly notes: readonly Note[];
  /** The person who took the work over; null while it is the one who opened the job. */
  readonly worker: string | null;
  /** When and how each person last signed on. */
  readonly signedOn: Readonly<Record<string, { readonly at: number; readonly how: SignOnWay }>>;
  readonly troubles: readonly Trouble[];
  readonly paused: { readonly at: number; readonly by: string; readonly says?: string } | null;
  readonly stopped: { readonly at: number; readonly by: string; readonly says: string } | null;
}

export const startingContext = (input: JobInput): JobContext => ({
  input,
  visits: [],
  notes: [],
  worker: null,
  signedOn: {},
  troubles: [],
  paused: null,
  stopped: null,
});

/** The visit that the mechanic stands in now. */
export function here(context: JobContext): Visit | undefined {
  return context.visits[context.visits.length - 1];
}

/** What is known now: the card and job facts, with what was found out on the visits that still stand. */
export function known(context: JobContext) {
  const facts: Record<string, FactValue> = { ...context.input.facts };
  const figures: Record<string, FigureValue> = { ...context.input.figures };
  const readings: Record<string, ReadingValue> = {};
  const results: Record<string, WorkingResult> = {};
  for (const visit of context.visits) {
    if (visit.chose) facts[visit.chose.fact] = visit.chose.value;
    Object.assign(figures, visit.figures);
    if (visit.reading) readings[visit.reading.name] = visit.reading.taken;
    if (visit.result) results[visit.station] = visit.result;
  }
  return { facts, figures, readings, results };
}

/** The hold points passed and still standing: station -> pass. */
export function passes(context: JobContext): Readonly<Record<string, Pass>> {
  const entries = context.visits.flatMap((visit) =>
    visit.pass ? [[visit.station, visit.pass] as const] : [],
  );
  return Object.fromEntries(entries);
}

/** The nonconformance that waits for a decision, or null. */
export const openTrouble = (context: JobContext): Trouble | null =>
  context.troubles.find((trouble) => trouble.decided === null) ?? null;

/** What was called off so far: kit item -> tool number, or null for an item without one. */
export function calledOff(context: JobContext): Readonly<Record<string, string | null>> {
  return Object.assign({}, ...context.visits.map((visit) => visit.called ?? {}));
}

/** The labels of parts that stand: kit item -> the label as it was read, the latest where one was scanned twice. */
export function labelsNow(context: JobContext): Readonly<Record<string, string>> {
  return Object.assign({}, ...context.visits.map((visit) => visit.labels ?? {}));
}

export const personOf = (context: JobContext, id: string): Person | undefined =>
  context.input.people.find((person) => person.id === id);

export const toolOf = (context: JobContext, id: string): Tool | undefined =>
  context.input.tools.find((tool) => tool.id === id);
