import { sql } from 'kysely';
import { fromMoment, toMoment } from '../journal/moment.ts';
import { OfficeError } from '../sync/fault.ts';
import type { Db } from './db/engine.ts';
import { fileCounts } from './files.ts';
import type { BookPage, BookRow, Filter, LiveRow } from './page/wire.ts';

const DAY_MS = 86_400_000;

/** The first ms of a day, UTC. Throws `bad-request`. */
function dayStart(day: string): number {
  const at = fromMoment(`${day}T00:00:00.000Z`);
  if (at === null) throw new OfficeError('bad-request', { what: `"${day}" is no day like 2026-01-31` });
  return at;
}

/** From the first day's beginning to before the day after the last; open ends where no day is given. */
export function span(filter: Pick<Filter, 'from' | 'to'>): { from: number; to: number } {
  return {
    from: filter.from ? dayStart(filter.from) : 0,
    to: filter.to ? dayStart(filter.to) + DAY_MS : 253_402_300_799_999,
  };
}

/** Every job that is being done now, the one that something was heard of last first. */
export async function live(db: Db): Promise<LiveRow[]> {
  const rows = await db
    .selectFrom('job')
    .innerJoin('definition', 'definition.hash', 'job.procedure')
    .leftJoin('device', 'device.id', 'job.holder')
    .select([
      'job.job',
      'definition.title',
      'job.machine',
      'job.machine_says',
      'job.station',
      'job.station_says',
    ])
    .select([
      'job.worker',
      'job.waits_for',
      'job.trouble',
      'job.paused',
      'job.last_at',
      'job.got_at',
      'job.count',
    ])
    .select(['job.disputed', 'job.findings', 'job.fence', 'device.name as bench', 'device.seen_at'])
    .where('job.outcome', '=', 'open')
    .orderBy('job.last_at', 'desc')
    .limit(500)
    .execute();
  return rows.map((row) => ({
    job: row.job,
    title: row.title,
    machine: row.machine_says,
    station: row.station,
    says: row.station_says,
    worker: row.worker,
    waitsFor: row.waits_for,
    trouble: row.trouble,
    paused: row.paused,
    disputed: row.disputed || row.findings !== null,
    bench: row.bench,
    benchSeenAt: row.seen_at === null ? null : toMoment(row.seen_at),
    fence: row.fence,
    count: row.count,
    lastAt: toMoment(row.last_at),
  }));
}

/** Where a page of the book ended: the next one goes on from there, however many jobs come in meanwhile. */
const cursorOf = ({ last_at, job }: { last_at: number; job: string }): string => `${last_at}_${job}`;

function cursorFrom(after: string): { at: number; job: string } | null {
  const [, at, job] = /^(\d{1,15})_([0-9a-f-]{36})$/.exec(after) ?? [];
  return at && job ? { at: Number(at), job } : null;
}

const LIKE_SIGNS = /[\\%_]/g;

function selected(db: Db, filter: Filter) {
  const { from, to } = span(filter);
  let query = db
    .selectFrom('job')
    .innerJoin('definition', 'definition.hash', 'job.procedure')
    .where('job.last_at', '>=', from)
    .where('job.last_at', '<', to);
  if (filter.machine) query = query.where('job.machine', '=', filter.machine);
  if (filter.procedure) query = query.where('definition.id', '=', filter.procedure);
  if (filter.outcome) query = query.where('job.outcome', '=', filter.outcome);
  if (filter.odd)
    query = query.where((e) =>
      e.or([e('job.disputed', '=', true), e('job.shut_out', '=', true), e('job.findings', 'is not', null)]),
    );
  for (const word of (filter.text ?? '')
    .split(/\s+/)
    .filter((one) => one !== '')
    .slice(0, 8)) {
    const like = `%${word.replaceAll(LIKE_SIGNS, '\\$&')}%`;
    query = query.where((e) =>
      e.or([
        e('job.machine_says', 'ilike', like),
        e('job.machine', 'ilike', like),
        e('definition.title', 'ilike', like),
        e('job.worker', 'ilike', like),
        e(sql<string>`job.job::text`, 'ilike', like),
      ]),
    );
  }
  return query;
}

/** One page of the record book over all benches, the latest first. */
export async function bookPage(db: Db, filter: Filter, after: string | null, limit = 50): Promise<BookPage> {
  const cursor = after === null ? null : cursorFrom(after);
  if (after !== null && !cursor)
    throw new OfficeError('bad-request', { what: 'this is no place in the book' });
  let query = selected(db, filter)
    .select(['job.job', 'definition.id as procedure', 'definition.title', 'definition.revision'])
    .select([
      'definition.published_at',
      'job.machine',
      'job.machine_says',
      'job.worker',
      'job.outcome',
      'job.count',
    ])
    .select(['job.opened_at', 'job.last_at', 'job.seal', 'job.findings', 'job.disputed', 'job.shut_out'])
    .select('job.head')
    .orderBy('job.last_at', 'desc')
    .orderBy('job.job', 'desc')
    .limit(limit + 1);
  if (cursor)
    query = query.where(sql<boolean>`(job.last_at, job.job) < (${cursor.at}::int8, ${cursor.job}::uuid)`);
  const rows = await query.execute();
  const shown = rows.slice(0, limit);
  const last = shown[shown.length - 1];
  const files = await fileCounts(
    db,
    shown.map(({ job }) => job),
  );
  return {
    rows: shown.map(
      (row): BookRow => ({
        job: row.job,
        procedure: row.procedure,
        title: row.title,
        revision: row.revision,
        published: row.published_at !== null,
        machine: row.machine,
        says: row.machine_says,
        worker: row.worker,
        outcome: row.outcome,
        records: row.count,
        openedAt: toMoment(row.opened_at),
        lastAt: toMoment(row.last_at),
        head: row.head,
        sealed: row.seal !== null,
        findings:
          row.findings === null
            ? []
            : (JSON.parse(row.findings) as { says: string }[]).map(({ says }) => says),
        disputed: row.disputed,
        shutOut: row.shut_out,
        files: files.get(row.job)?.named ?? 0,
        filesHere: files.get(row.job)?.here ?? 0,
      }),
    ),
    next: rows.length > limit && last ? cursorOf(last) : null,
  };
}

/** What is kept of a job's disputes: both sides. */
export async function evidenceOf(db: Db, job: string) {
  const rows = await db
    .selectFrom('evidence')
    .innerJoin('device', 'device.id', 'evidence.device')
    .select(['evidence.seq', 'evidence.code', 'device.name as bench', 'evidence.got_at', 'ours', 'theirs'])
    .where('job', '=', job)
    .orderBy('evidence.id')
    .execute();
  return rows.map(({ got_at, ...row }) => ({ ...row, gotAt: toMoment(got_at) }));
}
