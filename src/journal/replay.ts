import type { JobInput } from '../procedure/context.ts';
import { decide } from '../procedure/decide.ts';
import type { Stamped } from '../procedure/events.ts';
import type { Machine, Snapshot } from '../procedure/machine.ts';
import { machineFor } from '../procedure/machine.ts';
import { JournalError } from './fault.ts';
import type { Finding } from './finding.ts';
import { finding } from './finding.ts';
import { fromMoment } from './moment.ts';
import type { JournalRecord, OpenedEvent } from './record.ts';

export interface Replay {
  readonly machine: Machine;
  readonly snapshot: Snapshot;
  /** Where the records say something else than the procedure gives. Empty for a journal that this app wrote. */
  readonly findings: readonly Finding[];
}

/** The ms since 1970 of a record. Throws JournalError `journal-differs` for a moment that is not written as ours are. */
function momentOf(record: JournalRecord): number {
  const at = fromMoment(record.at);
  if (at === null) throw new JournalError('journal-differs', `record ${record.seq} has no moment`);
  return at;
}

/** What the job of this opening starts from. */
export const inputOf = (opened: OpenedEvent, at: number): JobInput => ({
  facts: opened.facts,
  figures: opened.figures,
  people: opened.people,
  tools: opened.tools,
  ...(opened.parts ? { parts: opened.parts } : {}),
  at,
});

/** How the record of an event and what the procedure decides differ, or null. Sentences may be reworded; codes not. */
function difference(record: JournalRecord, snapshot: Snapshot, refusal: string | null): Finding | null {
  const line = record.seq + 1;
  const decided = refusal === null ? 'accepted' : 'refused';
  if (record.outcome !== decided) {
    const why = refusal === null ? '' : ` (${refusal})`;
    const says = `The record says ${record.outcome}; by the procedure the event is ${decided}${why}.`;
    return finding(line, 'outcome-differs', says);
  }
  if (refusal !== null && record.reason?.code !== refusal) {
    const says = `The record says refused for ${record.reason?.code ?? 'no reason'}; by the procedure it is ${refusal}.`;
    return finding(line, 'reason-differs', says);
  }
  if (record.station === snapshot.station) return null;
  const says = `The record says station "${record.station}"; by the procedure it is "${snapshot.station}".`;
  return finding(line, 'station-differs', says);
}

/**
 * Runs the events of a journal through the definition that its first record carries. Pure: the same records give the
 * same snapshot on any machine. Every event is decided anew, refused ones included, and held against what the record
 * says came of it. Throws JournalError `journal-differs` when the first record does not open a job.
 */
export function replay(records: readonly JournalRecord[]): Replay {
  const [first, ...rest] = records;
  if (first?.event.type !== 'job.opened') throw new JournalError('journal-differs', 'no opening record');
  const machine = machineFor(first.event.procedure);
  let snapshot = machine.start(inputOf(first.event, momentOf(first)));
  const findings: Finding[] = [];
  const add = (found: Finding | null) => found && findings.push(found);

  add(difference(first, snapshot, null));
  for (const record of rest) {
    const { event, by, via } = record;
    const stamped = { ...event, by, via, at: momentOf(record) } as Stamped;
    try {
      const decision = decide(machine, snapshot, stamped);
      snapshot = decision.snapshot;
      add(difference(record, snapshot, decision.outcome === 'refused' ? decision.reason.code : null));
    } catch (error) {
      const says = `The procedure cannot take this event at "${snapshot.station}": ${String(error)}`;
      add(finding(record.seq + 1, 'event-unusable', says));
      break;
    }
  }
  return { machine, snapshot, findings };
}
