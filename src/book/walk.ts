import { JournalError } from '../journal/fault.ts';
import { fromMoment } from '../journal/moment.ts';
import type { JournalRecord, OpenedEvent } from '../journal/record.ts';
import { inputOf } from '../journal/replay.ts';
import { decide } from '../procedure/decide.ts';
import type { Definition } from '../procedure/definition.ts';
import type { Stamped } from '../procedure/events.ts';
import type { Snapshot } from '../procedure/machine.ts';
import { machineFor } from '../procedure/machine.ts';

/** One record of a job with the state before and after it; the opening has none before it. */
export interface Step {
  readonly record: JournalRecord;
  readonly before: Snapshot;
  readonly after: Snapshot;
  /** ms since 1970. */
  readonly at: number;
}

export interface Walk {
  readonly opened: OpenedEvent;
  readonly definition: Definition;
  /** Where the job stood when it was opened. */
  readonly start: Snapshot;
  /** Every record after the opening, refused ones included. */
  readonly steps: readonly Step[];
  /** Where the job stands at the end of its records. */
  readonly end: Snapshot;
}

const momentOf = ({ at, seq }: JournalRecord): number => {
  const moment = fromMoment(at);
  if (moment === null) throw new JournalError('journal-differs', `record ${seq} has no moment`);
  return moment;
};

/**
 * Goes through a job again from its records. For records that are kept by this bench or that were verified: what they
 * say came of an event is not held against the procedure here. Throws JournalError `journal-differs` when the first
 * record opens no job.
 */
export function walk(records: readonly JournalRecord[]): Walk {
  const [first, ...rest] = records;
  if (first?.event.type !== 'job.opened') throw new JournalError('journal-differs', 'no opening record');
  const opened = first.event;
  const machine = machineFor(opened.procedure);
  const start = machine.start(inputOf(opened, momentOf(first)));
  let end = start;
  const steps = rest.map((record): Step => {
    const at = momentOf(record);
    const { event, by, via } = record;
    const before = end;
    end = decide(machine, before, { ...event, at, by, via } as Stamped).snapshot;
    return { record, before, after: end, at };
  });
  return { opened, definition: opened.procedure, start, steps, end };
}
