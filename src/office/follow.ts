import type { Step, Walk } from '../book/walk.ts';
import type { Finding } from '../journal/finding.ts';
import { finding } from '../journal/finding.ts';
import type { JournalRecord } from '../journal/record.ts';
import { inputOf } from '../journal/replay.ts';
import { personOf } from '../procedure/context.ts';
import { decide } from '../procedure/decide.ts';
import type { Stamped } from '../procedure/events.ts';
import type { Snapshot } from '../procedure/machine.ts';
import type { KnownDefinition } from './definitions.ts';
import type { Line } from './lines.ts';

/** A job that the office follows: where it stands by the procedure, with every step on the way. */
export interface Followed {
  readonly head: string;
  readonly known: KnownDefinition;
  readonly records: readonly JournalRecord[];
  readonly steps: readonly Step[];
  readonly start: Snapshot;
  readonly now: Snapshot;
  /** Where the records say something else than the procedure gives. */
  readonly findings: readonly Finding[];
}

/** How many findings of a job are kept: the first say what is wrong. */
const MOST = 20;

function difference(
  record: JournalRecord,
  outcome: string,
  code: string | null,
  station: string,
): Finding | null {
  const line = record.seq + 1;
  if (record.outcome !== outcome)
    return finding(
      line,
      'outcome-differs',
      `The record says ${record.outcome}; by the procedure it is ${outcome}.`,
    );
  if (code !== null && record.reason?.code !== code)
    return finding(
      line,
      'reason-differs',
      `Refused for ${record.reason?.code}; by the procedure it is ${code}.`,
    );
  if (record.station !== station)
    return finding(
      line,
      'station-differs',
      `The record says "${record.station}"; by the procedure it is "${station}".`,
    );
  return null;
}

function begun(line: Line, known: KnownDefinition): Followed {
  const { record } = line;
  if (record.event.type !== 'job.opened') throw new Error('A job is followed from its opening.');
  const start = known.machine.start(inputOf(record.event, line.at));
  const stranger = record.event.people.some(({ id }) => id === record.by)
    ? []
    : [finding(1, 'person-unknown', `The job was opened by "${record.by}", who is none of its people.`)];
  const differs = difference(record, 'accepted', null, start.station);
  const findings = [...stranger, ...(differs ? [differs] : [])];
  return { head: record.hash, known, records: [record], steps: [], start, now: start, findings };
}

/**
 * Runs more records of a job through its procedure: every event is decided anew and held against what the record says. Pure
 * but for the time it takes. `before` null: the lines begin with the opening.
 */
export function follow(before: Followed | null, lines: readonly Line[], known: KnownDefinition): Followed {
  const [first, ...others] = lines;
  const base = before ?? (first ? begun(first, known) : null);
  if (!base) throw new Error('There is nothing to follow.');
  const more = before ? lines : others;
  const records = [...base.records];
  const steps = [...base.steps];
  const findings = [...base.findings];
  let { now } = base;
  for (const { record, at } of more) {
    const { event, by, via } = record;
    records.push(record);
    try {
      const decision = decide(known.machine, now, { ...event, by, via, at } as Stamped);
      const code = decision.outcome === 'refused' ? decision.reason.code : null;
      const differs = difference(record, decision.outcome, code, decision.snapshot.station);
      if (differs && findings.length < MOST) findings.push(differs);
      steps.push({ record, before: now, after: decision.snapshot, at });
      now = decision.snapshot;
    } catch (error) {
      const says = `The procedure cannot take this event at "${now.station}": ${String(error)}`;
      if (findings.length < MOST) findings.push(finding(record.seq + 1, 'event-unusable', says));
      steps.push({ record, before: now, after: now, at });
    }
  }
  const head = records[records.length - 1]?.hash ?? base.head;
  return { head, known, records, steps, start: base.start, now, findings };
}

/** The same as the book takes a job. */
export function walkOf({ records, known, steps, start, now }: Followed): Walk {
  const opened = records[0]?.event;
  if (opened?.type !== 'job.opened') throw new Error('A job is followed from its opening.');
  return { opened, definition: known.definition, start, steps, end: now };
}

/** What the supervisor is shown of a job that is being done. */
export function standOf({ known, now, records }: Followed) {
  const { context, station, outcome } = now;
  const awaiting = context.visits[context.visits.length - 1]?.awaiting;
  const trouble = context.troubles.find(({ decided }) => decided === null);
  const name = (id: string) => personOf(context, id)?.name ?? id;
  return {
    outcome,
    station,
    station_says: known.definition.states[station]?.meta?.say ?? station,
    worker: name(context.worker ?? records[0]?.by ?? ''),
    waits_for: awaiting ? name(awaiting.by) : null,
    trouble: trouble ? trouble.says : null,
    paused: context.paused !== null,
  };
}

/** Jobs that were followed lately, by name: the next batch goes on where the last one ended. */
export class Following {
  readonly #held = new Map<string, Followed>();
  readonly #most: number;

  constructor(most = 100) {
    this.#most = most;
  }

  /** Only what stands at exactly this head counts: another office may have written since. */
  at(job: string, head: string): Followed | null {
    const held = this.#held.get(job);
    return held?.head === head ? held : null;
  }

  keep(job: string, followed: Followed): void {
    this.#held.delete(job);
    if (followed.now.outcome !== 'open') return;
    this.#held.set(job, followed);
    if (this.#held.size > this.#most) {
      const [oldest] = this.#held.keys();
      if (oldest !== undefined) this.#held.delete(oldest);
    }
  }
}
