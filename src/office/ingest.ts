import { timesOf } from '../book/stays.ts';
import { firstVerdicts, verdictsOf } from '../book/verdicts.ts';
import type { Finding } from '../journal/finding.ts';
import { checkHolds } from '../journal/holds.ts';
import { FIRST_PREV } from '../journal/record.ts';
import { OfficeError } from '../sync/fault.ts';
import type { Confirmed } from '../sync/wire.ts';
import type { Db } from './db/engine.ts';
import type { JobTable } from './db/schema.ts';
import type { Definitions, KnownDefinition } from './definitions.ts';
import { nameFiles } from './files.ts';
import { type Followed, type Following, follow, standOf, walkOf } from './follow.ts';
import { sha256 } from './hash.ts';
import { type Batch, type Line, readBatch } from './lines.ts';
import { workedShutOut } from './people.ts';
import { keptLines } from './records.ts';
import { MOST_STAY_MS, touchWeek } from './weeks.ts';

export interface IngestPorts {
  readonly db: Db;
  readonly definitions: Definitions;
  readonly following: Following;
  /** Wall clock, ms since 1970. */
  now(): number;
}

/** One push: records of a job from `from` on, by a device that holds lease number `fence`. */
export interface Push {
  readonly job: string;
  readonly from: number;
  readonly fence: number;
  readonly device: number;
  /** JSON lines. */
  readonly text: string;
}

/** A refusal whose other side is to be kept: thrown inside the transaction, written down after it. */
class Disputed extends Error {
  readonly refusal: OfficeError;
  readonly seq: number;
  readonly ours: string | null;
  constructor(refusal: OfficeError, seq: number, ours: string | null) {
    super(refusal.message);
    this.refusal = refusal;
    this.seq = seq;
    this.ours = ours;
  }
}

/** Most disputes kept of one job: enough to see what happened, too few to fill a disk. */
const MOST_EVIDENCE = 20;

/** Rows in one insert: six values each, far below the 65,535 that the protocol allows. */
const ROWS = 1000;

/**
 * Takes a batch in: all of it or nothing, and the same batch twice is the same as once. Answers how far the job has come.
 * Throws OfficeError `gap`, `fork`, `rewrite`, `fence-old`, `sealed`, or what is wrong with a line. Of a fork, a rewrite and
 * a late write both sides are kept.
 */
export async function ingest(ports: IngestPorts, push: Push): Promise<Confirmed> {
  const batch = await readBatch(push.text, push.job, push.from, (hash) => ports.definitions.known(hash));
  if (batch.procedure) await ports.definitions.keep(batch.procedure);
  try {
    const { confirmed, followed } = await ports.db
      .transaction()
      .execute((db) => take({ ...ports, db }, push, batch));
    if (followed) ports.following.keep(push.job, followed);
    return confirmed;
  } catch (error) {
    if (!(error instanceof Disputed)) throw error;
    await keepEvidence(ports, push, error);
    throw error.refusal;
  }
}

async function take(
  ports: IngestPorts,
  push: Push,
  batch: Batch,
): Promise<{ confirmed: Confirmed; followed: Followed | null }> {
  const { db } = ports;
  const { job, from, device, fence } = push;
  if (from === 0 && batch.procedure) await openJob(ports, push, batch.lines, batch.procedure);
  const row = await db.selectFrom('job').selectAll().where('job', '=', job).forUpdate().executeTakeFirst();
  if (!row) throw new OfficeError('gap', { count: 0, head: FIRST_PREV });
  const { count, head } = row;
  if (from > count) throw new OfficeError('gap', { count, head });
  await compareOverlap(ports, push, batch.lines.slice(0, count - from));
  const fresh = batch.lines.slice(count - from);
  const [first] = fresh;
  const confirmed = { job, count, head, fence: row.fence };
  if (!first) return { confirmed, followed: null };
  if (row.holder !== device || row.fence !== fence)
    throw new Disputed(new OfficeError('fence-old', { fence: row.fence, count, head }), count, null);
  if (first.record.prev !== head) throw await astray(ports, push, count - 1);
  if (row.seal !== null) throw new OfficeError('sealed', { count, head });
  const followed = await followOn(ports, row, fresh);
  const last = fresh[fresh.length - 1] ?? first;
  await insertRecords(db, fresh, device);
  await nameFiles(db, fresh);
  const open = followed.now.outcome === 'open';
  const findings = open ? followed.findings : [...followed.findings, ...secondLook(followed)];
  const stand = standOf(followed);
  await db
    .updateTable('job')
    .set({
      ...stand,
      count: count + fresh.length,
      head: last.record.hash,
      last_at: last.at,
      got_at: ports.now(),
      shut_out: row.shut_out || (await workedShutOut(db, fresh)),
      findings: findings.length === 0 ? null : JSON.stringify(findings),
    })
    .where('job', '=', job)
    .execute();
  if (!open && row.outcome === 'open') await keepFigures(db, job, followed, last.at);
  return {
    confirmed: { job, count: count + fresh.length, head: last.record.hash, fence: row.fence },
    followed,
  };
}

async function openJob(
  { db, now }: IngestPorts,
  { job, device }: Push,
  lines: readonly Line[],
  procedure: KnownDefinition,
): Promise<void> {
  const [first] = lines;
  if (first?.record.event.type !== 'job.opened') return;
  const { machine } = first.record.event;
  await db
    .insertInto('job')
    .values({
      job,
      procedure: procedure.hash,
      machine: machine.id,
      machine_says: machine.says,
      opened_by: first.record.by,
      opened_at: first.at,
      last_at: first.at,
      got_at: now(),
      count: 0,
      head: FIRST_PREV,
      outcome: 'open',
      station: first.record.station,
      station_says: '',
      worker: first.record.by,
      waits_for: null,
      trouble: null,
      paused: false,
      holder: device,
      fence: 1,
      findings: null,
      disputed: false,
      shut_out: false,
      seal: null,
      sealed_at: null,
    })
    .onConflict((conflict) => conflict.column('job').doNothing())
    .execute();
}

/** Records that the office has already must be the very same. */
async function compareOverlap(ports: IngestPorts, push: Push, again: readonly Line[]): Promise<void> {
  const last = again[again.length - 1];
  if (!last) return;
  const kept = await ports.db
    .selectFrom('record')
    .select(['seq', 'hash'])
    .where('job', '=', push.job)
    .where('seq', '>=', push.from)
    .where('seq', '<=', last.record.seq)
    .execute();
  const hashes = new Map(kept.map(({ seq, hash }) => [seq, hash]));
  const other = again.find(({ record }) => hashes.get(record.seq) !== record.hash);
  if (other) throw await astray(ports, push, other.record.seq);
}

/** Two histories of one job: a fork when another bench wrote ours, a rewrite when this very one did. */
async function astray({ db }: IngestPorts, { job, device }: Push, seq: number): Promise<Disputed> {
  const ours = await db
    .selectFrom('record')
    .select(['device', 'hash', 'body'])
    .where('job', '=', job)
    .where('seq', '=', seq)
    .executeTakeFirst();
  const code = ours?.device === device ? 'rewrite' : 'fork';
  return new Disputed(new OfficeError(code, { seq, ours: ours?.hash ?? null }), seq, ours?.body ?? null);
}

async function keepEvidence(ports: IngestPorts, push: Push, dispute: Disputed): Promise<void> {
  const { db, now } = ports;
  const { job, device, text } = push;
  const kept = await db
    .selectFrom('evidence')
    .select((e) => e.fn.countAll<number>().as('n'))
    .where('job', '=', job)
    .executeTakeFirst();
  if ((kept?.n ?? 0) < MOST_EVIDENCE) {
    await db
      .insertInto('evidence')
      .values({
        job,
        seq: dispute.seq,
        code: dispute.refusal.code,
        device,
        got_at: now(),
        ours: dispute.ours,
        theirs: text,
        theirs_hash: sha256(text),
      })
      .onConflict((conflict) => conflict.constraint('evidence_once').doNothing())
      .execute();
  }
  await db.updateTable('job').set({ disputed: true }).where('job', '=', job).execute();
}

/** The job as it stands after these lines, from what was followed before or, after a restart, from its beginning. */
async function followOn(ports: IngestPorts, row: JobTable, fresh: readonly Line[]): Promise<Followed> {
  const known = await ports.definitions.known(row.procedure, ports.db);
  if (!known) throw new OfficeError('office-fault', { what: 'the procedure of a job is missing' });
  if (row.count === 0) return follow(null, fresh, known);
  const held = ports.following.at(row.job, row.head);
  return follow(held ?? follow(null, await keptLines(ports.db, row.job, known), known), fresh, known);
}

function secondLook({ records }: Followed): readonly Finding[] {
  try {
    return checkHolds(records);
  } catch (error) {
    const says = `The hold points cannot be looked at: ${String(error)}`;
    return [{ line: 1, code: 'procedure-unusable', says }];
  }
}

async function insertRecords(db: Db, lines: readonly Line[], device: number): Promise<void> {
  for (let from = 0; from < lines.length; from += ROWS) {
    await db
      .insertInto('record')
      .values(
        lines.slice(from, from + ROWS).map(({ record, at, body }) => ({
          job: record.job,
          seq: record.seq,
          hash: record.hash,
          at,
          device,
          body,
        })),
      )
      .execute();
  }
}

/** What the charts are made of, worked out once when a job closes. */
async function keepFigures(db: Db, job: string, followed: Followed, closedAt: number): Promise<void> {
  await touchWeek(db, closedAt);
  const walk = walkOf(followed);
  const { definition } = walk;
  const common = (station: string) => ({
    job,
    station,
    procedure: definition.id,
    says: definition.states[station]?.meta?.say ?? station,
    closed_at: closedAt,
  });
  const first = [...firstVerdicts(verdictsOf(walk))].flatMap(([station, what]) =>
    what === 'undone' ? [] : [{ ...common(station), what }],
  );
  if (first.length > 0)
    await db
      .insertInto('first_pass')
      .values(first)
      .onConflict((conflict) => conflict.doNothing())
      .execute();
  // Only jobs that were done to the end say how long a station takes.
  const stays =
    followed.now.outcome === 'complete'
      ? [...timesOf(walk).stations].map(([station, ms]) => ({
          ...common(station),
          ms: Math.min(Math.round(ms), MOST_STAY_MS),
        }))
      : [];
  if (stays.length > 0)
    await db
      .insertInto('stay')
      .values(stays)
      .onConflict((conflict) => conflict.doNothing())
      .execute();
}
