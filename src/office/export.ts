import { Zip, ZipDeflate, ZipPassThrough } from 'fflate';
import { endingOf } from '../book/bundle.ts';
import { toCsv } from '../book/csv.ts';
import { canonicalText } from '../journal/canonical.ts';
import { RECORD_FILE_END } from '../journal/file.ts';
import { OfficeError } from '../sync/fault.ts';
import { bookPage } from './book.ts';
import type { Db } from './db/engine.ts';
import { fileBytes, filesOf } from './files.ts';
import type { BookRow, Filter } from './page/wire.ts';
import { recordTexts } from './records.ts';

/** Most files in one archive: its format counts no further than 65,535. */
export const MOST_FILES = 50_000;

/** Jobs of a date range, a page at a time: what is in memory does not grow with the range. */
async function* jobsIn(db: Db, filter: Filter): AsyncGenerator<BookRow> {
  let after: string | null = null;
  do {
    const page: { rows: readonly BookRow[]; next: string | null } = await bookPage(db, filter, after, 200);
    yield* page.rows;
    after = page.next;
  } while (after !== null);
}

/** The lines of one job as a record file: its records, and its seal when it has one. */
async function* fileOf(db: Db, job: string): AsyncGenerator<string> {
  const row = await db
    .selectFrom('job')
    .innerJoin('definition', 'definition.hash', 'job.procedure')
    .select(['definition.body', 'job.seal', 'job.count'])
    .where('job.job', '=', job)
    .executeTakeFirst();
  if (!row) return;
  for await (const texts of recordTexts(db, job, row.body, 0, row.count))
    yield texts.map((text) => `${text}\n`).join('');
  if (row.seal !== null) yield `${canonicalText({ seal: row.seal })}\n`;
}

const nameOf = ({ machine, openedAt, job, sealed }: BookRow): string => {
  const safe = machine.replaceAll(/[^0-9A-Za-z-]/g, '_').slice(0, 40);
  return `${safe}-${openedAt.slice(0, 10)}-${job}${sealed ? RECORD_FILE_END : '.open.jsonl'}`;
};

const COLUMNS = [
  ...['job', 'machine', 'machine name', 'procedure', 'revision', 'published', 'worker', 'outcome', 'records'],
  ...['opened at', 'last record at', 'last hash', 'sealed', 'disputed', 'findings'],
];

/** One line a job. */
export async function* csvOf(db: Db, filter: Filter): AsyncGenerator<string> {
  yield toCsv({ columns: COLUMNS, rows: [] });
  for await (const row of jobsIn(db, filter)) {
    const { job, machine, says, title, revision, published, worker, outcome, records } = row;
    const cells = [job, machine, says, title, revision, published, worker, outcome, records];
    const more = [row.openedAt, row.lastAt, row.head, row.sealed, row.disputed, row.findings.join(' ')];
    const table = toCsv({ columns: COLUMNS, rows: [[...cells, ...more]] });
    // The line of names was given once.
    yield table.slice(table.indexOf('\r\n') + 2);
  }
}

/** Every record file after the other: each job's records, then its seal. For machines; any size. */
export async function* linesOf(db: Db, filter: Filter): AsyncGenerator<string> {
  for await (const row of jobsIn(db, filter)) yield* fileOf(db, row.job);
}

/**
 * An archive with one record file a job, each of which `npm run verify` takes as it is, and in `attachments` the photos and
 * voice notes that are here, named by the SHA-256 of their bytes as the records name them.
 */
export async function* zipOf(db: Db, filter: Filter): AsyncGenerator<Uint8Array> {
  const made: Uint8Array[] = [];
  const zip = new Zip((error, data) => {
    if (error) throw error;
    made.push(data);
  });
  const encoder = new TextEncoder();
  const taken = new Set<string>();
  let files = 0;
  for await (const row of jobsIn(db, filter)) {
    if (++files > MOST_FILES) throw new OfficeError('too-large', { files: MOST_FILES });
    const file = new ZipDeflate(nameOf(row), { level: 6 });
    zip.add(file);
    for await (const text of fileOf(db, row.job)) {
      file.push(encoder.encode(text));
      yield* made.splice(0);
    }
    file.push(new Uint8Array(), true);
    yield* made.splice(0);
    for (const { sha256, media, here } of row.filesHere > 0 ? await filesOf(db, row.job) : []) {
      // Photos and sound are packed already; one file that two jobs name is there once.
      if (!here || taken.has(sha256)) continue;
      taken.add(sha256);
      if (++files > MOST_FILES) throw new OfficeError('too-large', { files: MOST_FILES });
      const attached = new ZipPassThrough(`attachments/${sha256}.${endingOf(media)}`);
      zip.add(attached);
      for await (const bytes of fileBytes(db, sha256)) {
        attached.push(bytes);
        yield* made.splice(0);
      }
      attached.push(new Uint8Array(), true);
      yield* made.splice(0);
    }
  }
  if (files === 0) {
    const note = new ZipPassThrough('no-jobs.txt');
    zip.add(note);
    note.push(encoder.encode('No job was done in this range.\n'), true);
  }
  zip.end();
  yield* made.splice(0);
}
