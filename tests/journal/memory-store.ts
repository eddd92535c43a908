import { JournalError } from '../../src/journal/fault.ts';
import type { Head, JournalStore, KeptJws } from '../../src/journal/port.ts';
import type { JournalRecord } from '../../src/journal/record.ts';
import { FIRST_PREV } from '../../src/journal/record.ts';

/** A journal store that forgets: for tests of what stands on the port. Keeps the same contract as the real one. */
export class MemoryStore implements JournalStore {
  readonly #jobs = new Map<string, JournalRecord[]>();
  readonly #seals = new Map<string, string>();

  async append(record: JournalRecord): Promise<void> {
    const records = this.#jobs.get(record.job) ?? [];
    const last = records[records.length - 1];
    if (last?.seq === record.seq && last.hash === record.hash) return;
    if (record.seq !== records.length || record.prev !== (last?.hash ?? FIRST_PREV)) {
      throw new JournalError('head-moved', `stored ${records.length}, record ${record.seq}`);
    }
    this.#jobs.set(record.job, [...records, structuredClone(record)]);
  }

  async read(job: string): Promise<JournalRecord[]> {
    return structuredClone(this.#jobs.get(job) ?? []);
  }

  remains(job: string): Promise<JournalRecord[]> {
    return this.read(job);
  }

  async heads(): Promise<Head[]> {
    return [...this.#jobs].flatMap(([job, records]) => {
      const last = records[records.length - 1];
      return last ? [{ job, count: records.length, hash: last.hash }] : [];
    });
  }

  async putSeal(job: string, jws: string): Promise<void> {
    if ((this.#seals.get(job) ?? jws) !== jws) throw new JournalError('already-sealed');
    this.#seals.set(job, jws);
  }

  async seal(job: string): Promise<string | null> {
    return this.#seals.get(job) ?? null;
  }

  async seals(): Promise<KeptJws[]> {
    return [...this.#seals].map(([job, jws]) => ({ job, jws }));
  }
}
