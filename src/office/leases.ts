import { toMoment } from '../journal/moment.ts';
import { OfficeError } from '../sync/fault.ts';
import type { Confirmed, MyHead, Offered, OfficeHead } from '../sync/wire.ts';
import { MOST_HEADS } from '../sync/wire.ts';
import type { Db } from './db/engine.ts';
import type { Device } from './devices.ts';

/** Where the office stands with the jobs that a bench has, and with those that the bench should have. */
export async function headsFor(db: Db, bench: Device, mine: readonly MyHead[]): Promise<OfficeHead[]> {
  const names = mine.map(({ job }) => job);
  const rows = await db
    .selectFrom('job')
    .select(['job', 'count', 'head', 'fence', 'holder', 'seal'])
    .where((e) =>
      e.or([
        ...(names.length > 0 ? [e('job', 'in', names)] : []),
        // A bench that was cleared or restored has lost jobs that it holds.
        e.and([e('holder', '=', bench.id), e('outcome', '=', 'open')]),
      ]),
    )
    .limit(2 * MOST_HEADS)
    .execute();
  const byJob = new Map(mine.map((head) => [head.job, head]));
  const last = rows.flatMap(({ job, count }) => {
    const head = byJob.get(job);
    return head && head.count > 0 && head.count <= count ? [{ job, seq: head.count - 1 }] : [];
  });
  const kept =
    last.length === 0
      ? []
      : await db
          .selectFrom('record')
          .select(['job', 'hash'])
          .where((e) => e.or(last.map(({ job, seq }) => e.and([e('job', '=', job), e('seq', '=', seq)]))))
          .execute();
  const hashes = new Map(kept.map(({ job, hash }) => [job, hash]));
  return rows.map(({ job, count, head, fence, holder, seal }): OfficeHead => {
    const own = byJob.get(job);
    const hash = hashes.get(job);
    return {
      job,
      count,
      head,
      fence,
      holder: holder === null ? 'nobody' : holder === bench.id ? 'you' : 'other',
      agrees: own && hash !== undefined ? hash === own.hash : null,
      sealed: seal !== null,
    };
  });
}

/** Jobs that another bench may go on with: paused ones, and those that the supervisor released. */
export async function offeredTo(db: Db, bench: Device): Promise<Offered[]> {
  const rows = await db
    .selectFrom('job')
    .innerJoin('definition', 'definition.hash', 'job.procedure')
    .leftJoin('device', 'device.id', 'job.holder')
    .select(['job.job', 'definition.title', 'job.machine_says', 'job.station_says', 'job.worker'])
    .select(['device.name', 'job.fence', 'job.count', 'job.last_at'])
    .where('job.outcome', '=', 'open')
    .where((e) => e.or([e('job.holder', 'is', null), e('job.paused', '=', true)]))
    .where((e) => e.or([e('job.holder', 'is', null), e('job.holder', '!=', bench.id)]))
    .orderBy('job.last_at', 'desc')
    .limit(100)
    .execute();
  return rows.map((row) => ({
    job: row.job,
    title: row.title,
    machine: row.machine_says,
    station: row.station_says,
    by: row.worker,
    bench: row.name ?? '',
    fence: row.fence,
    count: row.count,
    lastAt: toMoment(row.last_at),
  }));
}

/**
 * Gives the lease of a job to this bench. `fence`: the number that the bench saw; of two who ask at once one gets it. The
 * number grows, and whoever writes under an older one is refused. The bench that has it already keeps it.
 */
export async function takeLease(db: Db, bench: Device, job: string, fence: number): Promise<Confirmed> {
  return db.transaction().execute(async (transaction) => {
    const row = await transaction
      .selectFrom('job')
      .select(['count', 'head', 'fence', 'holder', 'paused', 'outcome'])
      .where('job', '=', job)
      .forUpdate()
      .executeTakeFirst();
    if (!row) throw new OfficeError('no-such-job', { job });
    const { count, head } = row;
    // The answer to an earlier request of the same bench may have been lost.
    if (row.holder === bench.id) return { job, count, head, fence: row.fence };
    if (row.outcome !== 'open') throw new OfficeError('sealed', { count, head });
    if (row.fence !== fence) throw new OfficeError('fence-old', { fence: row.fence, count, head });
    if (row.holder !== null && !row.paused) throw new OfficeError('not-paused', { job });
    await transaction
      .updateTable('job')
      .set({ holder: bench.id, fence: fence + 1 })
      .where('job', '=', job)
      .execute();
    return { job, count, head, fence: fence + 1 };
  });
}

/** Frees a job whose bench is broken or gone. Its number grows, so that the bench cannot go on as if nothing had been. */
export async function release(db: Db, job: string): Promise<void> {
  const { numUpdatedRows } = await db
    .updateTable('job')
    .set((e) => ({ holder: null, fence: e('fence', '+', 1) }))
    .where('job', '=', job)
    .where('outcome', '=', 'open')
    .executeTakeFirst();
  if (numUpdatedRows === 0n) throw new OfficeError('no-such-job', { job });
}

/** May this bench read this job? The one that holds it, and those whose records are in it. */
export async function mayRead(db: Db, device: Device, job: string): Promise<boolean> {
  if (device.kind === 'desk') return true;
  const holds = await db
    .selectFrom('job')
    .select('job')
    .where('job', '=', job)
    .where('holder', '=', device.id)
    .executeTakeFirst();
  if (holds) return true;
  const wrote = await db
    .selectFrom('record')
    .select('seq')
    .where('job', '=', job)
    .where('device', '=', device.id)
    .limit(1)
    .executeTakeFirst();
  return wrote !== undefined;
}
