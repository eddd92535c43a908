import { makeRecord } from '../../src/journal/chain.ts';
import { hashOf } from '../../src/journal/hash.ts';
import { toMoment } from '../../src/journal/moment.ts';
import type { JournalRecord } from '../../src/journal/record.ts';
import type { JobInput } from '../../src/procedure/context.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import type { JobEvent, Stamped } from '../../src/procedure/events.ts';

export interface Told {
  readonly event: Stamped;
  readonly outcome: 'accepted' | 'refused';
  readonly code?: string;
  readonly station: string;
}

/** The journal that these decisions would have left, chained but written without asking anybody. */
export function journalOf(
  definition: Definition,
  input: JobInput,
  by: string,
  told: readonly Told[],
): JournalRecord[] {
  const { facts, figures, people, tools } = input;
  const job = '00000000-0000-4000-8000-000000000001';
  const records = [
    makeRecord(null, {
      job,
      at: toMoment(input.at),
      by,
      via: 'keys',
      event: {
        type: 'job.opened',
        procedure: definition,
        procedureHash: hashOf(definition),
        machine: { id: 'm', says: 'Machine' },
        facts,
        figures,
        people,
        tools,
        app: 'test',
      },
      outcome: 'accepted',
      station: definition.initial,
    }),
  ];
  for (const { event, outcome, code, station } of told) {
    const { at, by: who, via, ...rest } = event;
    const reason = code === undefined ? {} : { reason: { code, sentence: code } };
    records.push(
      makeRecord(records[records.length - 1] ?? null, {
        job,
        at: toMoment(at),
        by: who,
        via,
        event: rest as JobEvent,
        outcome,
        ...reason,
        station,
      }),
    );
  }
  return records;
}
