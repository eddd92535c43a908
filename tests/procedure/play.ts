import { rightEvent, rightMove } from '../../src/job/rehearsal.ts';
import type { FigureValue } from '../../src/procedure/amounts.ts';
import type { JobInput } from '../../src/procedure/context.ts';
import { openTrouble } from '../../src/procedure/context.ts';
import { decide } from '../../src/procedure/decide.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import { COMPLETE } from '../../src/procedure/definition.ts';
import type { Evidence, JobEvent, Stamped } from '../../src/procedure/events.ts';
import type { FactValue } from '../../src/procedure/facts.ts';
import type { Machine, Snapshot } from '../../src/procedure/machine.ts';
import { Observer } from './observer.ts';

type Random = () => number;

const pick = <T>(random: Random, all: readonly T[]): T | undefined => all[Math.floor(random() * all.length)];

export const OPENED = Date.UTC(2026, 10, 25, 9);

const crew = [
  { id: 'p1', name: 'Mechanic', role: 'mechanic' },
  { id: 'p2', name: 'Apprentice', role: 'apprentice' },
  { id: 'p3', name: 'Supervisor', role: 'supervisor' },
] as const;

/**
 * A job for any procedure: some facts known and some not, some figures on the card and some not, and of every kind of
 * tool one in calibration and one out of it. Without `random`: all facts and figures known.
 */
export function jobFor(definition: Definition, random: Random | null = null): JobInput {
  const { facts, figures, tools } = definition.meta;
  const given = (share: number) => random === null || random() < share;
  const chosen = Object.entries(facts).flatMap(([name, { values }]) => {
    const value = random ? pick(random, values) : values[0];
    return value !== undefined && given(0.6) ? [[name, value] as const] : [];
  });
  const card = Object.entries(figures).flatMap(([name, { plausible, unit }]) => {
    const [low, high] = plausible;
    const middle = Number.isInteger(low) ? Math.round((low + high) / 2) : (low + high) / 2;
    return given(0.7) ? [[name, { value: middle, unit, source: 'card' } satisfies FigureValue] as const] : [];
  });
  const shelf = Object.entries(tools).flatMap(([kind, { says }]) => [
    { id: `${kind} in date`, kind, says, calibratedUntil: '2027-06-30' },
    { id: `${kind} lapsed`, kind, says, calibratedUntil: '2020-06-30' },
  ]);
  return {
    facts: Object.fromEntries(chosen),
    figures: Object.fromEntries(card),
    people: crew,
    tools: shelf,
    at: OPENED,
  };
}

function anyEvidence(definition: Definition, random: Random): Evidence {
  if (random() < 0.5) return { kind: 'press', heldMs: random() < 0.5 ? 200 : 1500 };
  const phrases = Object.values(definition.states).flatMap(({ meta }) =>
    meta?.kind === 'hold' ? [meta.phrase] : [],
  );
  return { kind: 'phrase', phrase: pick(random, [...phrases, 'next step', '']) ?? '' };
}

/** Something that may be right or wrong here: mostly wrong. Going back and stopping are rare, or no job would ever end. */
function anyEvent(definition: Definition, snapshot: Snapshot, random: Random): JobEvent {
  const { context } = snapshot;
  const meta = definition.states[snapshot.station]?.meta;
  const tool = () => pick(random, context.input.tools)?.id ?? '';
  const draw = random();
  if (draw < 0.006) {
    const visited = pick(random, context.visits)?.station ?? '';
    const anywhere = pick(random, Object.keys(definition.states)) ?? '';
    return { type: 'open', station: random() < 0.7 ? visited : anywhere };
  }
  if (draw < 0.008) return { type: 'stop', says: 'Enough.' };
  if (draw < 0.03) return { type: 'trouble', says: 'A crack.' };
  if (draw < 0.05) return decision(definition, snapshot, random);
  if (draw < 0.06) return { type: 'handOver', to: pick(random, ['p1', 'p2', 'nobody']) ?? '' };
  if (draw < 0.065) return { type: 'signOn', how: 'pin' };
  if (draw < 0.07) {
    const sha256 = pick(random, ['a'.repeat(64), 'nothing']) ?? '';
    return { type: 'attach', kind: 'photo', sha256, bytes: 1000, media: 'image/jpeg' };
  }
  if (draw < 0.2) return { type: 'advance' };
  if (draw < 0.35) return { type: 'confirm', evidence: anyEvidence(definition, random) };
  if (draw < 0.45) return { type: 'witness', evidence: anyEvidence(definition, random) };
  if (draw < 0.55) return { type: 'fail' };
  if (draw < 0.7) {
    const measure = meta && 'measure' in meta ? meta.measure : undefined;
    const right = measure ? rightEvent(definition, snapshot) : null;
    const middle = right?.type === 'reading' ? right.value : 1;
    const value = pick(random, [middle, middle * 1.02, middle * 2, middle / 2, -1, Number.NaN]) ?? 0;
    const unit = random() < 0.9 ? (measure?.unit ?? 'mm') : 'in';
    const toolId = random() < 0.7 && right?.type === 'reading' ? right.toolId : tool();
    return { type: 'reading', value, unit, ...(toolId === undefined ? {} : { toolId }) };
  }
  if (draw < 0.75) return { type: 'pause' };
  if (draw < 0.8) return { type: 'resume' };
  if (draw < 0.85 || meta?.kind === 'fork') {
    const values: readonly FactValue[] =
      meta?.kind === 'fork' ? meta.choices.map(({ value }) => value) : ['clip', true, false];
    return { type: 'choose', value: pick(random, values) ?? true };
  }
  if (draw < 0.9) return { type: 'accept', inputs: {}, output: { ratio: 1, pitches: 100 } };
  if (draw < 0.93) return { type: 'cannot', code: 'out-of-domain' };
  if (draw < 0.96) {
    return {
      type: 'lookUp',
      figure: pick(random, Object.keys(definition.meta.figures)) ?? '',
      value: 1,
      unit: 'mm',
    };
  }
  if (draw < 0.98) return { type: 'note', says: random() < 0.5 ? ' ' : 'Rain.' };
  return { type: 'callOff', item: 'gloves', toolId: tool() };
}

/** What is decided about a nonconformance, rightly or wrongly. */
function decision(definition: Definition, { context }: Snapshot, random: Random): JobEvent {
  if (random() < 0.4)
    return { type: 'decide', decision: 'concession', says: random() < 0.9 ? 'Good enough.' : ' ' };
  const visited = context.visits.slice(-6).map(({ station }) => station);
  const anywhere = pick(random, Object.keys(definition.states)) ?? '';
  const station = random() < 0.8 ? (pick(random, visited) ?? '') : anywhere;
  return { type: 'decide', decision: random() < 0.5 ? 'rework' : 'scrap', station, says: 'Do it again.' };
}

/** What gets a job going again that is paused or has a nonconformance open; null when nothing keeps it. */
function wayOut({ station, context }: Snapshot, at: number): Stamped | null {
  if (context.paused) return { type: 'resume', at, by: 'p1', via: 'keys' };
  if (!openTrouble(context)) return null;
  return { type: 'decide', decision: 'rework', station, says: 'Do it again.', at, by: 'p3', via: 'keys' };
}

function rightOrNull(definition: Definition, snapshot: Snapshot, at: number): Stamped | null {
  try {
    return rightMove(definition, snapshot, 'p1', at);
  } catch {
    return null;
  }
}

/**
 * Goes on from where a job stands with right events only. A job that nobody stopped must come to its end: what the
 * proofs say of the graph must hold on the machine, and its last door must never be found shut.
 */
export function finish(machine: Machine, from: Snapshot, at: number, most: number): Snapshot {
  let snapshot = from;
  let now = at;
  for (let n = 0; n < most && snapshot.outcome === 'open'; n++) {
    now += 1000;
    const event = wayOut(snapshot, now) ?? rightMove(machine.definition, snapshot, 'p1', now);
    now = event.at;
    const decision = decide(machine, snapshot, event);
    if (decision.outcome === 'refused') throw new Error(`${snapshot.station}: ${decision.reason.sentence}`);
    snapshot = decision.snapshot;
  }
  return snapshot;
}

/** Plays one job with right and wrong events and gives back where it then stands. */
export function wander(machine: Machine, random: Random, events: number): { snapshot: Snapshot; at: number } {
  const { definition } = machine;
  const input = jobFor(definition, random);
  let snapshot = machine.start(input);
  let at = input.at;
  for (let n = 0; n < events && snapshot.outcome === 'open'; n++) {
    at += 1000;
    const by = pick(random, ['p1', 'p2', 'p3']) ?? 'p1';
    const right = random() < 0.5 ? (wayOut(snapshot, at) ?? rightOrNull(definition, snapshot, at)) : null;
    const event = right ?? ({ ...anyEvent(definition, snapshot, random), at, by, via: 'keys' } as Stamped);
    at = event.at;
    snapshot = decide(machine, snapshot, event).snapshot;
  }
  return { snapshot, at };
}

export interface Played {
  readonly events: number;
  readonly accepted: number;
  readonly completed: number;
  readonly stopped: number;
  /** Jobs that came to `complete` although the observer misses a hold point: what was missing. Must stay empty. */
  readonly bad: readonly { readonly missing: readonly string[]; readonly job: number }[];
  /** Accepted advances at a hold point. Must stay 0. */
  readonly advancedAtHold: number;
}

export interface PlayOptions {
  readonly random: Random;
  readonly events: number;
  /** Share of events that are right, 0 to 1. */
  readonly right?: number;
  /** What is a hold point and what opens it, where the machine plays a mutant; the machine's own definition if absent. */
  readonly rules?: Definition;
  /** Leave off at the first bad job. */
  readonly untilBad?: boolean;
}

/** Plays jobs on the real machine with right and wrong events until so many are spent. */
export function play(machine: Machine, options: PlayOptions): Played {
  const { random, events: most, right = 0.7, untilBad = false } = options;
  const { definition } = machine;
  const rules = options.rules ?? definition;
  const bad: { missing: string[]; job: number }[] = [];
  let events = 0;
  let accepted = 0;
  let completed = 0;
  let stopped = 0;
  let advancedAtHold = 0;
  for (let job = 0; events < most; job++) {
    const input = jobFor(definition, job === 0 ? null : random);
    let snapshot = machine.start(input);
    const observer = new Observer(rules, definition, input, snapshot.station);
    let at = input.at;
    while (snapshot.outcome === 'open' && events < most) {
      events++;
      at += 1000;
      const wise = random() < right;
      const move = wise ? (wayOut(snapshot, at) ?? rightOrNull(definition, snapshot, at)) : null;
      const by = pick(random, ['p1', 'p1', 'p2', 'p3', 'nobody']) ?? 'p1';
      const event = move ?? ({ ...anyEvent(definition, snapshot, random), at, by, via: 'keys' } as Stamped);
      at = event.at;
      const decision = decide(machine, snapshot, event);
      if (decision.outcome === 'refused') continue;
      accepted++;
      if (event.type === 'advance' && rules.states[snapshot.station]?.meta?.kind === 'hold') advancedAtHold++;
      observer.see(event, snapshot.station, decision.snapshot.station);
      snapshot = decision.snapshot;
    }
    if (snapshot.outcome === 'stopped') stopped++;
    if (snapshot.outcome !== COMPLETE) continue;
    completed++;
    const missing = observer.notPassed();
    if (missing.length === 0) continue;
    bad.push({ missing, job });
    if (untilBad) break;
  }
  return { events, accepted, completed, stopped, bad, advancedAtHold };
}
