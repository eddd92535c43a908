import { promisifyRequest } from 'idb-keyval';
import { Database, storageFault } from './database.dom.ts';
import { JournalError } from './fault.ts';
import type { Head, JournalStore, KeptJws } from './port.ts';
import type { JournalRecord } from './record.ts';
import { FIRST_PREV } from './record.ts';

const RECORDS = 'records';
const HEADS = 'heads';
const SEALS = 'seals';

const headOf = (record: JournalRecord): Head => ({
  job: record.job,
  count: record.seq + 1,
  hash: record.hash,
});

const sameHead = (a: Head | undefined, b: Head | undefined): boolean =>
  a?.count === b?.count && a?.hash === b?.hash;

/** Is this the head on which the record was built? */
const precedes = (head: Head | undefined, { seq, prev }: JournalRecord): boolean =>
  head ? head.count === seq && head.hash === prev : seq === 0 && prev === FIRST_PREV;

const get = <T>(store: IDBObjectStore, key: IDBValidKey): Promise<T | undefined> =>
  promisifyRequest<T | undefined>(store.get(key));

/**
 * Journals in IndexedDB. The first database holds one record a key ([job, seq]) and, moved in the same transaction,
 * the head of each job: the compare-and-swap. A second database holds a copy of the heads, and the seals. The copy
 * moves after the record is on the disk; whenever the two are held together, equal is right, a copy that is behind on
 * the same chain is brought up (the app was ended between the two writes), and a copy that is ahead or elsewhere means
 * that records were cut or exchanged: `journal-cut`, `journal-differs`.
 */
export class IdbJournalStore implements JournalStore {
  readonly #journal: Database;
  readonly #apart: Database;

  /** `name` is the prefix of both databases. */
  constructor(name = 'holdfast') {
    this.#journal = new Database(`${name}-journal`, RECORDS, HEADS);
    this.#apart = new Database(`${name}-heads`, HEADS, SEALS);
  }

  async append(record: JournalRecord): Promise<void> {
    await this.#journal.use('readwrite', async (records) => {
      const heads = records.transaction.objectStore(HEADS);
      const head = await get<Head>(heads, record.job);
      // The same record a second time: a first try that was reported as failed had reached the disk.
      if (sameHead(head, headOf(record))) return;
      if (!precedes(head, record)) {
        throw new JournalError('head-moved', `stored ${head?.count ?? 0}, record ${record.seq}`);
      }
      records.add(record, [record.job, record.seq]);
      heads.put(headOf(record), record.job);
    });
    if (!(await this.#moveCopy(record))) await this.#reconcile(record.job);
  }

  async read(job: string): Promise<JournalRecord[]> {
    const { head, records } = await this.#records(job);
    const last = records[records.length - 1];
    if (!sameHead(head, last && headOf(last)) || records.some((record, seq) => record.seq !== seq)) {
      throw new JournalError('journal-cut', `${records.length} records, head says ${head?.count ?? 0}`);
    }
    await this.#reconcile(job);
    return records;
  }

  /** What is left of a job, whatever its heads say: to be exported when `read` refuses. */
  async remains(job: string): Promise<JournalRecord[]> {
    return (await this.#records(job)).records;
  }

  /** Of every job the head that goes further: a job whose records were removed is still listed by its copy. */
  async heads(): Promise<Head[]> {
    const all = (store: IDBObjectStore) =>
      promisifyRequest<Head[]>(store.transaction.objectStore(HEADS).getAll());
    const further = new Map<string, Head>();
    for (const database of [this.#apart, this.#journal]) {
      for (const head of await database.use('readonly', all)) {
        const other = further.get(head.job);
        if (!other || head.count >= other.count) further.set(head.job, head);
      }
    }
    return [...further.values()];
  }

  async putSeal(job: string, jws: string): Promise<void> {
    await this.#apart.use('readwrite', async (first) => {
      const seals = first.transaction.objectStore(SEALS);
      const present = await get<string>(seals, job);
      if (present === jws) return;
      if (present !== undefined) throw new JournalError('already-sealed');
      seals.add(jws, job);
    });
  }

  async seal(job: string): Promise<string | null> {
    return await this.#apart.use(
      'readonly',
      async (first) => (await get<string>(first.transaction.objectStore(SEALS), job)) ?? null,
    );
  }

  async seals(): Promise<KeptJws[]> {
    return await this.#apart.use('readonly', async (first) => {
      const seals = first.transaction.objectStore(SEALS);
      const [jobs, all] = await Promise.all([
        promisifyRequest(seals.getAllKeys()),
        promisifyRequest<string[]>(seals.getAll()),
      ]);
      return jobs.map((job, at) => ({ job: String(job), jws: all[at] ?? '' }));
    });
  }

  /** Closes both connections; the next call opens fresh ones. */
  close(): void {
    this.#journal.close();
    this.#apart.close();
  }

  #records(job: string): Promise<{ head: Head | undefined; records: JournalRecord[] }> {
    return this.#journal.use('readonly', async (store) => {
      const range = IDBKeyRange.bound([job, 0], [job, Number.POSITIVE_INFINITY]);
      const [head, records] = await Promise.all([
        get<Head>(store.transaction.objectStore(HEADS), job),
        promisifyRequest<JournalRecord[]>(store.getAll(range)),
      ]);
      return { head, records };
    });
  }

  /** The usual way on: the copy stands just before the record and moves onto it. False: it stands elsewhere. */
  #moveCopy(record: JournalRecord): Promise<boolean> {
    return this.#apart.use('readwrite', async (copies) => {
      const copy = await get<Head>(copies, record.job);
      if (sameHead(copy, headOf(record))) return true;
      if (!precedes(copy, record)) return false;
      copies.put(headOf(record), record.job);
      return true;
    });
  }

  /** Holds the two heads of a job together, and brings up a copy that is behind on the same chain. */
  async #reconcile(job: string): Promise<void> {
    // A second window may write between our two reads, never for longer than it takes to lose a race now and then.
    for (let tries = 0; tries < 5; tries++) {
      // The copy first: read after it, the head can only be further on.
      const copy = await this.#apart.use('readonly', (copies) => get<Head>(copies, job));
      const { head, at } = await this.#journal.use('readonly', async (records) => ({
        head: await get<Head>(records.transaction.objectStore(HEADS), job),
        at: copy && (await get<JournalRecord>(records, [job, copy.count - 1])),
      }));
      if (sameHead(copy, head)) return;
      if (copy && (!head || copy.count > head.count)) {
        throw new JournalError('journal-cut', `${head?.count ?? 0} records, ${copy.count} were written`);
      }
      if (copy && at?.hash !== copy.hash)
        throw new JournalError('journal-differs', `at record ${copy.count - 1}`);
      const moved = await this.#apart.use('readwrite', async (copies) => {
        if (!sameHead(await get<Head>(copies, job), copy)) return false;
        copies.put(head, job);
        return true;
      });
      if (moved) return;
    }
    throw storageFault(new Error('The heads would not stand still.'));
  }
}
