import type { Finding, FindingCode } from './finding.ts';
import { finding } from './finding.ts';
import { hashOf } from './hash.ts';
import type { JournalRecord, UnhashedRecord } from './record.ts';
import { FIRST_PREV } from './record.ts';

/** What the caller knows of a record; the place in the chain is filled in. */
export type RecordFields = Omit<JournalRecord, 'seq' | 'prev' | 'hash'>;

/** The hash of a record: SHA-256 of the RFC 8785 form of all its fields but `hash`. Throws JournalError `not-json`. */
export function hashRecord(record: UnhashedRecord | JournalRecord): string {
  const { hash: _, ...rest } = record as JournalRecord;
  return hashOf(rest);
}

/**
 * The record that follows `previous` (null: the first of a job). What is returned is a copy, so that later changes of
 * the event do not reach it; it keeps the order of keys, which the hash does not depend on but people reading a kit
 * list do. Throws JournalError `not-json`.
 */
export function makeRecord(previous: JournalRecord | null, fields: RecordFields): JournalRecord {
  const { job, at, by, via, event, outcome, reason, station } = fields;
  const unhashed: UnhashedRecord = {
    job,
    seq: previous ? previous.seq + 1 : 0,
    at,
    by,
    via,
    event,
    outcome,
    ...(reason ? { reason: { code: reason.code, sentence: reason.sentence } } : {}),
    station,
    prev: previous ? previous.hash : FIRST_PREV,
  };
  const hash = hashOf(unhashed);
  return { ...(JSON.parse(JSON.stringify(unhashed)) as UnhashedRecord), hash };
}

/**
 * Does each record carry its own hash and that of the record before, with numbers from 0 without gaps, all of one job,
 * opened once and at the start? Each record is held against its neighbour, so that one change gives one finding or two.
 * A cut tail does not show here: that is what the head kept apart and the seal are for.
 */
export function checkChain(records: readonly JournalRecord[]): Finding[] {
  const found: Finding[] = [];
  let previous: JournalRecord | null = null;
  for (const [index, record] of records.entries()) {
    const line = index + 1;
    const add = (code: FindingCode, says: string) => found.push(finding(line, code, says));
    if (index === 0 && record.event.type !== 'job.opened')
      add('not-opened', 'The first record must be the one that opened the job; it is something else.');
    if (index > 0 && record.event.type === 'job.opened')
      add('opened-again', 'A job is opened once, by its first record; this record opens it again.');
    if (record.job !== records[0]?.job) add('job-differs', 'This record belongs to another job.');
    if (record.seq !== index)
      add('seq-wrong', `Record number ${index} should stand here; number ${record.seq} does.`);
    if (record.prev !== (previous?.hash ?? FIRST_PREV))
      add(
        'prev-wrong',
        'This record does not follow the one before it: a record is missing, moved or replaced.',
      );
    if (hashRecord(record) !== record.hash)
      add('hash-wrong', 'This record was changed after it was written: its hash does not fit its content.');
    previous = record;
  }
  return found;
}
