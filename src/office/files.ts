import { createHash } from 'node:crypto';
import { OfficeError } from '../sync/fault.ts';
import { FILE_MEDIA, FILE_PART, type KeptFile, type LackingFile, MOST_FILE } from '../sync/wire.ts';
import type { Db } from './db/engine.ts';
import type { Line } from './lines.ts';
import type { JobFile } from './page/wire.ts';

/*
 * Photos and voice notes, under their SHA-256. Their bytes lie in the database beside the records, in parts: one backup has
 * both, and several offices over one database see the same. Everything that touches bytes is in this file: object storage
 * would stand behind `filePart`, `hashOf` and `fileBytes`.
 */

/** Remembers which files these records name. Part of the transaction that adds them. */
export async function nameFiles(db: Db, lines: readonly Line[]): Promise<void> {
  const named = lines.flatMap(({ record: { job, seq, event, outcome } }) =>
    event.type === 'attach' && outcome === 'accepted'
      ? [{ job, seq, sha256: event.sha256, kind: event.kind, media: event.media, bytes: event.bytes }]
      : [],
  );
  if (named.length === 0) return;
  await db
    .insertInto('named_file')
    .values(named)
    .onConflict((conflict) => conflict.doNothing())
    .execute();
}

/** Which of these are named by a record and not whole here yet. */
export async function lackingFiles(db: Db, files: readonly string[]): Promise<LackingFile[]> {
  if (files.length === 0) return [];
  return db
    .selectFrom('named_file as named')
    .leftJoin('file', 'file.sha256', 'named.sha256')
    .select('named.sha256')
    .select((e) => e.fn.coalesce('file.have', e.lit(0)).as('have'))
    .distinct()
    .where('named.sha256', 'in', files)
    .where('file.whole_at', 'is', null)
    .execute();
}

/** A part of a file as it came. */
export interface FilePart {
  readonly sha256: string;
  /** Byte of the file that the part begins with. */
  readonly from: number;
  /** Bytes of the whole file. */
  readonly total: number;
  /** Media type that the bench says. */
  readonly media: string;
  readonly device: number;
  readonly bytes: Uint8Array;
}

/**
 * Takes a part of a file: parts come in order, and the same part twice is the same as once. With the last one the whole is
 * held against its hash; when it differs nothing of it is kept. Throws OfficeError `file-not-named`, `file-kind`,
 * `too-large`, `file-gap`, `file-differs`.
 */
export async function takePart(db: Db, part: FilePart, now: number): Promise<KeptFile> {
  const { sha256, from, total, bytes } = part;
  if (part.total > MOST_FILE) throw new OfficeError('too-large', { bytes: MOST_FILE });
  await asNamed(db, part);
  const outcome = await db.transaction().execute(async (transaction): Promise<KeptFile | 'differs'> => {
    await transaction
      .insertInto('file')
      .values({ sha256, bytes: total, have: 0, whole_at: null, device: part.device })
      .onConflict((conflict) => conflict.doNothing())
      .execute();
    // Two benches may bring the same file: one after the other.
    const there = await transaction
      .selectFrom('file')
      .select(['bytes', 'have', 'whole_at'])
      .where('sha256', '=', sha256)
      .forUpdate()
      .executeTakeFirstOrThrow();
    const { have, whole_at } = there;
    const end = from + bytes.length;
    // Stored before, and the answer was lost.
    if (whole_at !== null || (end <= have && bytes.length > 0))
      return { sha256, have, whole: whole_at !== null };
    if (from !== have || from % FILE_PART !== 0) throw new OfficeError('file-gap', { have });
    const last = end === total;
    if (
      there.bytes !== total ||
      end > total ||
      bytes.length > FILE_PART ||
      (!last && bytes.length < FILE_PART)
    )
      return discard(transaction, sha256);
    await transaction
      .insertInto('file_part')
      .values({ sha256, place: from / FILE_PART, body: bytes })
      .execute();
    if (last && (await hashOf(transaction, sha256)) !== sha256) return discard(transaction, sha256);
    await transaction
      .updateTable('file')
      .set({ have: end, whole_at: last ? now : null })
      .where('sha256', '=', sha256)
      .execute();
    return { sha256, have: end, whole: last };
  });
  if (outcome === 'differs') throw new OfficeError('file-differs');
  return outcome;
}

/** A record must name this file, of this size and kind. */
async function asNamed(db: Db, { sha256, total, media }: FilePart): Promise<void> {
  const named = await db
    .selectFrom('named_file')
    .select(['media', 'bytes'])
    .where('sha256', '=', sha256)
    .execute();
  if (named.length === 0) throw new OfficeError('file-not-named');
  const sized = named.filter((one) => one.bytes === total);
  if (sized.length === 0) throw new OfficeError('file-differs');
  if (!FILE_MEDIA.includes(media) || !sized.some((one) => one.media === media))
    throw new OfficeError('file-kind', { media });
}

/** Nothing is kept of what is not the file that was named. */
async function discard(db: Db, sha256: string): Promise<'differs'> {
  await db.deleteFrom('file').where('sha256', '=', sha256).execute();
  return 'differs';
}

async function filePart(db: Db, sha256: string, place: number): Promise<Uint8Array | null> {
  const row = await db
    .selectFrom('file_part')
    .select('body')
    .where('sha256', '=', sha256)
    .where('place', '=', place)
    .executeTakeFirst();
  return row?.body ?? null;
}

/** The bytes of a file, part after part. */
export async function* fileBytes(db: Db, sha256: string): AsyncGenerator<Uint8Array> {
  for (let place = 0; ; place++) {
    const part = await filePart(db, sha256, place);
    if (!part) return;
    yield part;
  }
}

async function hashOf(db: Db, sha256: string): Promise<string> {
  const hash = createHash('sha256');
  for await (const part of fileBytes(db, sha256)) hash.update(part);
  return hash.digest('hex');
}

/** The jobs that name a file that is whole here, and its media type. Throws `no-such-file`. */
export async function whereNamed(db: Db, sha256: string): Promise<{ media: string; jobs: string[] }> {
  const rows = await db
    .selectFrom('named_file as named')
    .innerJoin('file', 'file.sha256', 'named.sha256')
    .select(['named.media', 'named.job'])
    .where('named.sha256', '=', sha256)
    .where('file.whole_at', 'is not', null)
    .orderBy('named.job')
    .execute();
  const [first] = rows;
  if (!first) throw new OfficeError('no-such-file');
  return { media: first.media, jobs: rows.map(({ job }) => job) };
}

/** The photos and voice notes of a job in the order of its records, and which of them are here. */
export async function filesOf(db: Db, job: string): Promise<JobFile[]> {
  const rows = await db
    .selectFrom('named_file as named')
    .leftJoin('file', 'file.sha256', 'named.sha256')
    .select(['named.sha256', 'named.seq', 'named.kind', 'named.media', 'named.bytes', 'file.whole_at'])
    .where('named.job', '=', job)
    .orderBy('named.seq')
    .execute();
  return rows.map(({ whole_at, ...row }) => ({ ...row, here: whole_at !== null }));
}

/** How many files each of these jobs names, and how many of them are here. */
export async function fileCounts(
  db: Db,
  jobs: readonly string[],
): Promise<ReadonlyMap<string, { readonly named: number; readonly here: number }>> {
  if (jobs.length === 0) return new Map();
  const rows = await db
    .selectFrom('named_file as named')
    .leftJoin('file', 'file.sha256', 'named.sha256')
    .select('named.job')
    .select((e) => [e.fn.countAll<number>().as('named'), e.fn.count<number>('file.whole_at').as('here')])
    .where('named.job', 'in', jobs)
    .groupBy('named.job')
    .execute();
  return new Map(rows.map(({ job, named, here }) => [job, { named, here }]));
}
