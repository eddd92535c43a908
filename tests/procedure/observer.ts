import type { Amount } from '../../src/procedure/amounts.ts';
import type { JobInput } from '../../src/procedure/context.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import type { Evidence, Stamped } from '../../src/procedure/events.ts';
import type { FactValue } from '../../src/procedure/facts.ts';
import type { HoldStation, Measure } from '../../src/procedure/station.ts';

interface Stop {
  readonly station: string;
  opened?: true;
  awaiting?: string;
  chose?: readonly [string, FactValue];
  numbers?: Readonly<Record<string, number>>;
}

/** Shortest press that counts, ms: written again here on purpose, so that a slip in the machine cannot hide itself. */
const SHORTEST = 1200;
const LAST_BIT = 1e-9;

/**
 * Watches a job from outside: sees the events that were accepted and the stations that the job then stands at, never
 * the machine's context, and works out by itself which hold points were passed with good evidence and still stand.
 * What counts as a hold point, and as evidence, is taken from `rules`; the ways from `ways`, which may be a mutant.
 */
export class Observer {
  private readonly rules: Definition;
  private readonly ways: Definition;
  private readonly input: JobInput;
  private trail: Stop[] = [];

  constructor(rules: Definition, ways: Definition, input: JobInput, station: string) {
    this.rules = rules;
    this.ways = ways;
    this.input = input;
    this.follow([ways.initial], station);
  }

  /** An event was accepted at one station, and the job now stands at another (or the same). */
  see(event: Stamped, from: string, to: string): void {
    const last = this.trail[this.trail.length - 1];
    const meta = this.rules.states[from]?.meta;
    if (last && meta) {
      if (event.type === 'choose' && meta.kind === 'fork') last.chose = [meta.fact, event.value];
      if (event.type === 'lookUp') this.keep(last, `figure ${event.figure}`, event.value);
      if (event.type === 'reading' && 'measure' in meta && meta.measure) {
        this.keep(last, `reading ${meta.measure.name}`, event.value);
      }
      if (event.type === 'accept' && meta.kind === 'working') {
        for (const [key, value] of Object.entries(event.output)) {
          if (typeof value === 'number') this.keep(last, `result ${from} ${key}`, value);
        }
        for (const [figure, key] of Object.entries(meta.gives ?? {})) {
          const value = event.output[key];
          if (typeof value === 'number') this.keep(last, `figure ${figure}`, value);
        }
      }
      if (meta.kind === 'hold') this.judge(last, meta, event, to !== from);
    }
    if (event.type === 'open') this.follow([event.station], to);
    else if (event.type === 'decide' && event.decision !== 'concession') this.follow([event.station], to);
    else if (to !== from) {
      const ways = this.ways.states[from]?.on?.[event.type] ?? [];
      this.follow(
        ways.flatMap(({ target }) => (target === undefined ? [] : [target])),
        to,
      );
    }
  }

  /** Hold points that apply and are not passed, as things stand. */
  notPassed(): string[] {
    const facts: Record<string, FactValue> = { ...this.input.facts };
    for (const { chose } of this.trail) if (chose) facts[chose[0]] = chose[1];
    return Object.entries(this.rules.states).flatMap(([name, { meta }]) => {
      if (meta?.kind !== 'hold') return [];
      const applies = Object.entries(meta.applies ?? {}).every(([fact, wanted]) => {
        const value = facts[fact];
        return value !== undefined && (Array.isArray(wanted) ? wanted.includes(value) : wanted === value);
      });
      const passed = this.trail.some((stop) => stop.station === name && stop.opened);
      return applies && !passed ? [name] : [];
    });
  }

  private keep(stop: Stop, what: string, value: number): void {
    stop.numbers = { ...stop.numbers, [what]: value };
  }

  private judge(stop: Stop, hold: HoldStation, event: Stamped, moved: boolean): void {
    const role = (id: string) => this.input.people.find((person) => person.id === id)?.role;
    if (role(event.by) === undefined) return;
    if (event.type === 'fail') delete stop.awaiting;
    if (event.type === 'decide' && event.decision === 'concession') {
      const allowed = hold.concession === true && role(event.by) === 'supervisor' && event.says.trim() !== '';
      if (allowed && moved) stop.opened = true;
    }
    const good =
      event.type === 'confirm'
        ? !hold.measure && goodEvidence(hold, event.evidence)
        : event.type === 'reading' && hold.measure !== undefined && this.within(hold.measure, event);
    if (good) {
      const second =
        hold.witness === 'always' || (hold.witness === 'apprentice' && role(event.by) === 'apprentice');
      if (second) stop.awaiting = event.by;
      else if (moved) stop.opened = true;
    }
    if (event.type !== 'witness' || stop.awaiting === undefined || !moved) return;
    const other = event.by !== stop.awaiting && role(event.by) !== 'apprentice';
    if (other && goodEvidence(hold, event.evidence)) stop.opened = true;
  }

  private within(measure: Measure, event: Extract<Stamped, { type: 'reading' }>): boolean {
    if (!Number.isFinite(event.value) || event.unit !== measure.unit) return false;
    if (measure.tool !== undefined && !this.usable(measure.tool, event.toolId, event.at)) return false;
    const target = this.number(measure.target);
    const margin = measure.tolerancePercent === undefined ? null : measure.tolerancePercent / 100;
    const min =
      margin !== null && target !== null ? target - Math.abs(target) * margin : this.number(measure.min);
    const max =
      margin !== null && target !== null ? target + Math.abs(target) * margin : this.number(measure.max);
    const slack = LAST_BIT * Math.max(1, Math.abs(min ?? 0), Math.abs(max ?? 0));
    const declared = [
      [measure.min, min],
      [measure.max, max],
      [measure.target, target],
    ] as const;
    if (declared.some(([amount, value]) => amount !== undefined && value === null)) return false;
    return (min === null || event.value >= min - slack) && (max === null || event.value <= max + slack);
  }

  private usable(kind: string, id: string | undefined, at: number): boolean {
    const tool = this.input.tools.find((one) => one.id === id && one.kind === kind);
    if (!tool) return false;
    if (!this.rules.meta.tools[kind]?.calibrated) return true;
    return (tool.calibratedUntil ?? '') >= new Date(at).toISOString().slice(0, 10);
  }

  private number(amount: Amount | undefined): number | null {
    if (amount === undefined) return null;
    if (typeof amount === 'number') return amount;
    const key =
      'figure' in amount
        ? `figure ${amount.figure}`
        : 'reading' in amount
          ? `reading ${amount.reading}`
          : `result ${amount.result} ${amount.of}`;
    const settled = this.trail.findLast((stop) => stop.numbers?.[key] !== undefined)?.numbers?.[key];
    const card = 'figure' in amount ? this.input.figures[amount.figure]?.value : undefined;
    const value = settled ?? card;
    return value === undefined ? null : value + ('figure' in amount ? (amount.plus ?? 0) : 0);
  }

  /** Lays the way from one of `starts` to `to`, through stations that pass by themselves, and cuts what it comes back to. */
  private follow(starts: readonly string[], to: string): void {
    const cameFrom = new Map<string, string | null>(starts.map((start) => [start, null]));
    const queue = [...starts];
    for (let at = queue.shift(); at !== undefined && at !== to; at = queue.shift()) {
      for (const { target } of this.ways.states[at]?.always ?? []) {
        if (target === undefined || cameFrom.has(target)) continue;
        cameFrom.set(target, at);
        queue.push(target);
      }
    }
    const way: string[] = [];
    for (let at: string | null | undefined = to; at; at = cameFrom.get(at)) way.unshift(at);
    for (const station of way) {
      const before = this.trail.findIndex((stop) => stop.station === station);
      if (before >= 0) this.trail = this.trail.slice(0, before);
      this.trail.push({ station });
    }
  }
}

function goodEvidence(hold: HoldStation, evidence: Evidence): boolean {
  if (evidence.kind === 'press') return evidence.heldMs >= SHORTEST;
  return evidence.phrase.trim().toLowerCase() === hold.phrase.trim().toLowerCase();
}
