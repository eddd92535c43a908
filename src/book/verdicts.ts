import { type Pass, passes } from '../procedure/context.ts';
import { stationOf } from '../procedure/definition.ts';
import type { Step, Walk } from './walk.ts';

/** What happened at a hold point, each time something did. */
export interface Verdict {
  readonly station: string;
  /**
   * `passed` by its evidence, `conceded` for a recorded reason, `failed` and sent to rework, `undone` by going back: it
   * was then to be passed again.
   */
  readonly what: 'passed' | 'conceded' | 'failed' | 'undone';
  /** Record that it happened in. */
  readonly seq: number;
  readonly at: number;
  readonly pass: Pass | null;
}

const changed = (before: Pass | undefined, now: Pass): boolean =>
  before === undefined || before.at !== now.at || before.witness?.at !== now.witness?.at;

/** A hold that was looked at and found not right: said so, or shown by a figure outside its limits. */
function failedAt({ definition }: Walk, { record, before, after }: Step): string | null {
  const station = stationOf(definition, before.station);
  if (station?.kind !== 'hold' || record.outcome !== 'accepted') return null;
  if (record.event.type === 'fail') return before.station;
  if (record.event.type !== 'reading') return null;
  const there = after.context.visits.find((visit) => visit.station === before.station);
  return there?.pass || there?.awaiting ? null : before.station;
}

/** Everything that was decided at the hold points of a job, in order. */
export function verdictsOf(walked: Walk): Verdict[] {
  const verdicts: Verdict[] = [];
  let known = passes(walked.start.context);
  for (const step of walked.steps) {
    const { record, after, at } = step;
    if (record.outcome === 'refused') continue;
    const add = (station: string, what: Verdict['what'], pass: Pass | null) =>
      verdicts.push({ station, what, seq: record.seq, at, pass });
    const now = passes(after.context);
    for (const station of Object.keys(known)) if (!now[station]) add(station, 'undone', null);
    for (const [station, pass] of Object.entries(now)) {
      if (!changed(known[station], pass)) continue;
      add(station, pass.evidence.kind === 'concession' ? 'conceded' : 'passed', pass);
    }
    const failed = failedAt(walked, step);
    if (failed !== null) add(failed, 'failed', null);
    known = now;
  }
  return verdicts;
}

/** The first verdict on each hold point: what the first-pass rate counts. Going back is no verdict on the work. */
export function firstVerdicts(verdicts: readonly Verdict[]): ReadonlyMap<string, Verdict['what']> {
  const first = new Map<string, Verdict['what']>();
  for (const { station, what } of verdicts)
    if (what !== 'undone' && !first.has(station)) first.set(station, what);
  return first;
}
