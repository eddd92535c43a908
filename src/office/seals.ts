import { fromMoment } from '../journal/moment.ts';
import type { JournalRecord, OpenedEvent } from '../journal/record.ts';
import { openSeal } from '../journal/seal.ts';
import { OfficeError } from '../sync/fault.ts';
import type { Db } from './db/engine.ts';
import type { IngestPorts } from './ingest.ts';
import { addSeal } from './seal-log.ts';

/** Who may have set a seal: thumbprint of the key -> when it was shut out, or null. */
export interface Sealers {
  revokedAt(kid: string): Promise<number | null | undefined>;
}

const wrong = (what: string) => new OfficeError('seal-wrong', { what });

/**
 * Takes the seal of a finished job: it must fit the records that are here, by an enrolled key, and the records must have
 * stood the replay. It is then the next entry of the log. The same seal twice is the same as once.
 */
export async function takeSeal(
  ports: IngestPorts,
  sealers: Sealers,
  job: string,
  seal: string,
): Promise<{ place: number }> {
  const opening = await openSeal(seal);
  if (!opening.opened) throw wrong(opening.says);
  const { payload, kid } = opening.opened;
  const revoked = await sealers.revokedAt(kid);
  if (revoked === undefined) throw wrong('its key is not enrolled');
  const sealedAt = fromMoment(payload.sealedAt) ?? 0;
  return ports.db.transaction().execute(async (db) => {
    const row = await db.selectFrom('job').selectAll().where('job', '=', job).forUpdate().executeTakeFirst();
    if (!row) throw new OfficeError('no-such-job', { job });
    if (row.seal === seal) {
      const entry = await db
        .selectFrom('seal_entry')
        .select('place')
        .where('job', '=', job)
        .executeTakeFirst();
      return { place: entry?.place ?? 0 };
    }
    // When it was set is the sealer's own word: a key that was shut out could say any time. What is in the log stays.
    if (revoked !== null) throw wrong('its key was shut out');
    if (row.seal !== null) throw new OfficeError('sealed', { count: row.count, head: row.head });
    if (row.outcome === 'open') throw new OfficeError('not-finished', { count: row.count, head: row.head });
    if (payload.job !== job) throw wrong('it is that of another job');
    if (payload.count !== row.count || payload.head !== row.head)
      throw wrong(`it closes ${payload.count} records; the office has ${row.count}, with another end`);
    if (payload.outcome !== row.outcome) throw wrong(`it says ${payload.outcome}; the records do not`);
    if (row.findings !== null) throw wrong('the records do not stand the replay');
    const opened = await openingOf(db, job);
    if (!opened.people.some(({ id }) => id === payload.sealedBy))
      throw wrong(`it was set by "${payload.sealedBy}", who is none of the people of this job`);
    await db.updateTable('job').set({ seal, sealed_at: sealedAt }).where('job', '=', job).execute();
    return { place: await addSeal(db, job, seal, ports.now()) };
  });
}

/** The event that opened a job, without its procedure. */
async function openingOf(db: Db, job: string): Promise<OpenedEvent> {
  const row = await db
    .selectFrom('record')
    .select('body')
    .where('job', '=', job)
    .where('seq', '=', 0)
    .executeTakeFirst();
  const event = row ? (JSON.parse(row.body) as JournalRecord).event : null;
  if (event?.type !== 'job.opened') throw new OfficeError('no-such-job', { job });
  return event;
}
