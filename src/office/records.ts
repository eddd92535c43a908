import type { JournalRecord } from '../journal/record.ts';
import type { Db } from './db/engine.ts';
import type { KnownDefinition } from './definitions.ts';
import { type Line, madeWhole } from './lines.ts';

/** How many records are read from the database at once: what is in memory stays small however long a job is. */
const PAGE = 500;

/** The records of a job as JSON lines in canonical form, in pages, from record `from` on to below `to`. */
export async function* recordTexts(
  db: Db,
  job: string,
  procedure: string,
  from = 0,
  to = Number.POSITIVE_INFINITY,
): AsyncGenerator<string[]> {
  for (let next = from; next < to; ) {
    const rows = await db
      .selectFrom('record')
      .select(['seq', 'body'])
      .where('job', '=', job)
      .where('seq', '>=', next)
      .orderBy('seq')
      .limit(Math.min(PAGE, to - next))
      .execute();
    if (rows.length === 0) return;
    yield rows.map(({ seq, body }) => (seq === 0 ? madeWhole(body, procedure) : body));
    next += rows.length;
    if (rows.length < PAGE) return;
  }
}

/** The records of a job as they were read when they came. They were checked then, and are only taken up here. */
export async function keptLines(db: Db, job: string, known: KnownDefinition): Promise<Line[]> {
  const rows = await db
    .selectFrom('record')
    .select(['body', 'at'])
    .where('job', '=', job)
    .orderBy('seq')
    .execute();
  return rows.map(({ body, at }, index) => {
    const record = JSON.parse(body) as JournalRecord;
    if (index > 0 || record.event.type !== 'job.opened') return { record, at, body };
    return { record: { ...record, event: { ...record.event, procedure: known.definition } }, at, body };
  });
}
