import type { Definition } from '../procedure/definition.ts';
import { COMPLETE, STOPPED, stationOf } from '../procedure/definition.ts';
import type { Evidence, JobEvent } from '../procedure/events.ts';
import type { Condition, FactValue } from '../procedure/facts.ts';
import type { HoldStation, Measure } from '../procedure/station.ts';
import type { Finding } from './finding.ts';
import { finding } from './finding.ts';
import { fromMoment } from './moment.ts';
import type { JournalRecord, OpenedEvent } from './record.ts';
import type { Trail } from './standing.ts';
import { factsNow, follow, numberNow, settledBy, settleHere, toolsCalled } from './standing.ts';

// A second opinion. Everything here is worked out from the records and the text of the procedure, and nothing of it
// asks the guards that opened the hold points in the first place: a fault there must not be able to hide itself here.
// Hence some rules are written twice in this project, on purpose.

/** Shortest press that opens a hold point, in ms. */
const SHORTEST_PRESS = 1200;

/** How far a reading may lie beyond a limit, relative to it: the last bit of a binary fraction. */
const LAST_BIT = 1e-9;

interface Case {
  readonly definition: Definition;
  readonly opened: OpenedEvent;
  readonly trail: Trail;
}

const spoken = (phrase: string): string => phrase.trim().toLowerCase();

function weakEvidence(hold: HoldStation, evidence: Evidence): string | null {
  if (evidence.kind === 'press') {
    return evidence.heldMs >= SHORTEST_PRESS ? null : `the pedal was held for ${evidence.heldMs} ms only`;
  }
  return spoken(evidence.phrase) === spoken(hold.phrase) ? null : `"${evidence.phrase}" is not its phrase`;
}

function wrongTool({ definition, opened, trail }: Case, kind: string, id: string | undefined, day: string) {
  const tool = opened.tools.find((one) => one.id === id && one.kind === kind);
  if (!tool) return `it was not measured with a tool of the kind "${kind}"`;
  const called = toolsCalled(trail);
  const atHand = opened.tools.filter((one) => one.kind === kind && called.has(one.id));
  if (atHand.length > 0 && !atHand.includes(tool)) return `tool ${tool.id} was not called off for the job`;
  if (definition.meta.tools[kind]?.calibrated !== true) return null;
  if (tool.calibratedUntil !== undefined && tool.calibratedUntil >= day) return null;
  return `the calibration of tool ${tool.id} had lapsed`;
}

function limitsOf(
  { opened, trail }: Case,
  measure: Measure,
): { min: number | null; max: number | null } | null {
  const target = numberNow(measure.target, opened, trail);
  if (measure.target !== undefined && target === null) return null;
  if (target !== null && measure.tolerancePercent !== undefined) {
    const margin = (Math.abs(target) * measure.tolerancePercent) / 100;
    return { min: target - margin, max: target + margin };
  }
  const min = numberNow(measure.min, opened, trail);
  const max = numberNow(measure.max, opened, trail);
  const unknown = (measure.min !== undefined && min === null) || (measure.max !== undefined && max === null);
  return unknown ? null : { min, max };
}

type ReadingEvent = Extract<JobEvent, { type: 'reading' }>;

function weakReading(situation: Case, measure: Measure, event: ReadingEvent, day: string): string | null {
  if (event.unit !== measure.unit) return `the figure is in "${event.unit}" instead of "${measure.unit}"`;
  const tool = measure.tool === undefined ? null : wrongTool(situation, measure.tool, event.toolId, day);
  if (tool) return tool;
  const limits = limitsOf(situation, measure);
  if (!limits) return 'its limits were not known';
  const { min, max } = limits;
  const slack = LAST_BIT * Math.max(1, Math.abs(min ?? 0), Math.abs(max ?? 0));
  const outside = (min !== null && event.value < min - slack) || (max !== null && event.value > max + slack);
  return outside ? OUTSIDE : null;
}

const OUTSIDE = 'the figure lies outside its limits';

/** Why this event is no evidence for the hold, or null. A person who witnesses gives evidence of their own. */
function weakness(situation: Case, hold: HoldStation, { event, at }: JournalRecord): string | null {
  if (event.type === 'witness') return weakEvidence(hold, event.evidence);
  if (event.type === 'reading' && hold.measure) {
    return weakReading(situation, hold.measure, event, at.slice(0, 10));
  }
  if (event.type === 'confirm' && !hold.measure) return weakEvidence(hold, event.evidence);
  return hold.measure ? 'it opens only for a figure' : 'nothing was given that could open it';
}

/** Does a hold point apply under these facts? */
function applies(condition: Condition | undefined, facts: ReadonlyMap<string, FactValue>): boolean {
  return Object.entries(condition ?? {}).every(([fact, wanted]) => {
    const value = facts.get(fact);
    return value !== undefined && (Array.isArray(wanted) ? wanted.includes(value) : wanted === value);
  });
}

/** What goes on besides the way through the stations. */
interface JobNow {
  readonly paused: boolean;
  /** A nonconformance waits for its decision. */
  readonly trouble: boolean;
  /** Person -> moment of their last sign-on, ms since 1970. */
  readonly signedOn: ReadonlyMap<string, number>;
}

const SHIFT = 12 * 3_600_000;
const JUST_NOW = 10 * 60_000;

function notSignedOn(
  { opened }: Case,
  { by, at, event }: JournalRecord,
  { signedOn }: JobNow,
): string | null {
  if (!opened.people.find(({ id }) => id === by)?.signsOn) return null;
  const last = signedOn.get(by);
  const age = (fromMoment(at) ?? 0) - (last ?? 0);
  const good = event.type === 'witness' || event.type === 'decide' ? JUST_NOW : SHIFT;
  return last === undefined || age > good ? `${by} had not signed on for it` : null;
}

function conceded(hold: HoldStation, role: string | undefined, says: string, { trouble }: JobNow): Verdict {
  if (hold.concession !== true) return { shut: 'the procedure allows no concession here' };
  if (role !== 'supervisor') return { shut: 'it was conceded by somebody who may not' };
  if (says.trim() === '') return { shut: 'it was conceded without a reason' };
  return trouble ? { opened: true } : { shut: 'it was conceded without a trouble' };
}

/** The state after an accepted record. */
function after(state: JobNow, { event, by, at }: JournalRecord): JobNow {
  switch (event.type) {
    case 'pause':
      return { ...state, paused: true };
    case 'resume':
      return { ...state, paused: false };
    case 'trouble':
      return { ...state, trouble: true };
    case 'decide':
      return { ...state, trouble: false };
    case 'signOn':
      return { ...state, signedOn: new Map([...state.signedOn, [by, fromMoment(at) ?? 0]]) };
    default:
      return state;
  }
}

/** What an accepted event at a hold point came to: the hold opened, waits for a witness, stays shut, or should have. */
type Verdict = { readonly opened: true } | { readonly awaiting: string } | { readonly shut: string } | null;

function judge(situation: Case, hold: HoldStation, record: JournalRecord, state: JobNow): Verdict {
  const { event, by } = record;
  const { opened, trail } = situation;
  const role = (id: string) => opened.people.find((person) => person.id === id)?.role;
  if (!role(by)) return { shut: `${by} is none of the people of this job` };
  if (state.paused) return { shut: 'the job was paused' };
  const unsigned = notSignedOn(situation, record, state);
  if (unsigned) return { shut: unsigned };
  if (event.type === 'decide') return conceded(hold, role(by), event.says, state);
  if (state.trouble) return { shut: 'a trouble was open' };
  const weak = weakness(situation, hold, record);
  // A figure outside its limits is a proper way to leave a hold: to its rework.
  if (weak === OUTSIDE && event.type === 'reading') return null;
  if (weak) return { shut: weak };
  const giver = trail[trail.length - 1]?.awaiting;
  if (event.type !== 'witness') {
    const second = hold.witness === 'always' || (hold.witness === 'apprentice' && role(by) === 'apprentice');
    return second ? { awaiting: by } : { opened: true };
  }
  if (giver === undefined) return { shut: 'there was nothing to witness' };
  if (giver === by) return { shut: 'the witness is the person who did the work' };
  return role(by) === 'apprentice' ? { shut: 'an apprentice cannot witness' } : { opened: true };
}

/** Where an event may lead before stations pass by themselves; undefined: it may stay. */
function waysOf(definition: Definition, station: string, event: JournalRecord['event']) {
  if (event.type === 'open') return [event.station];
  if (event.type === 'decide' && event.decision !== 'concession') return [event.station];
  return (definition.states[station]?.on?.[event.type] ?? []).map((way) => way.target);
}

/**
 * Was every hold point that applies passed with sufficient evidence, and was none opened with less? Reads accepted
 * records in order, keeps the stops that still stand (going back undoes what came after), weighs each piece of
 * evidence where it was given, and at `complete` looks for every hold point that applies. The first record must open a job.
 */
export function checkHolds(records: readonly JournalRecord[]): Finding[] {
  const [first, ...rest] = records;
  if (first?.event.type !== 'job.opened') return [];
  const opened = first.event;
  const definition = opened.procedure;
  const found: Finding[] = [];
  let trail = follow(definition, opened, [], [definition.initial], first.station);
  let state: JobNow = { paused: false, trouble: false, signedOn: new Map() };

  for (const record of rest) {
    if (record.outcome !== 'accepted') continue;
    const { event, station } = record;
    const before = trail[trail.length - 1]?.station ?? '';
    const hold = stationOf(definition, before);
    const moved = station !== before;
    const concession = event.type === 'decide' && event.decision === 'concession';
    const weighed = concession || ['confirm', 'reading', 'witness'].includes(event.type);
    const excused = ['open', 'stop', 'fail', 'decide'].includes(event.type);

    let outside = false;
    if (hold?.kind === 'hold' && (weighed || (moved && !excused))) {
      const verdict = judge({ definition, opened, trail }, hold, record, state);
      const shut = (why: string) =>
        found.push(
          finding(
            record.seq + 1,
            'evidence-insufficient',
            `Hold point "${before}" did not open here: ${why}.`,
          ),
        );
      if (!verdict) outside = true;
      else if ('shut' in verdict) shut(verdict.shut);
      else if ('opened' in verdict) trail = settleHere(trail, { opened: true });
      else if (moved) shut('it was left without its witness');
      else trail = settleHere(trail, { awaiting: verdict.awaiting });
    }
    state = after(state, record);
    trail = settledBy(definition, trail, event);

    if (station === COMPLETE) found.push(...missing({ definition, opened, trail }, record));
    if (station === COMPLETE || station === STOPPED) continue;
    const ways = waysOf(definition, before, event);
    const starts = ways.flatMap((target) => (target === undefined || target === before ? [] : [target]));
    // Some ways lead back by stations that pass by themselves: then the mechanic arrives anew where they stood.
    const cameBack = starts.length > 0 && (outside || starts.length === ways.length);
    if (moved || cameBack) trail = follow(definition, opened, trail, starts, station);
  }
  return found;
}

function missing({ definition, opened, trail }: Case, { seq }: JournalRecord): Finding[] {
  const facts = factsNow(opened, trail);
  return Object.keys(definition.states).flatMap((name) => {
    const station = stationOf(definition, name);
    if (station?.kind !== 'hold' || !applies(station.applies, facts)) return [];
    if (trail.some((stop) => stop.station === name && stop.opened)) return [];
    return [
      finding(seq + 1, 'hold-not-passed', `The job was completed without hold point "${name}" being passed.`),
    ];
  });
}
