import { describe, expect, test } from 'vitest';
import { makeRecord } from '../../src/journal/chain.ts';
import type { JournalStore } from '../../src/journal/port.ts';
import type { JournalRecord } from '../../src/journal/record.ts';
import { play, toFork } from './play.ts';

export const OTHER_JOB = '00000000-0000-4000-8000-00000000000b';
export const records = play(toFork());
export const other = play(toFork().slice(0, 3), { job: OTHER_JOB });

export const record = (n: number): JournalRecord => records[n] as JournalRecord;

/** A second record after the first, not the one that is in `records`. */
export const rival = (): JournalRecord => makeRecord(record(0), { ...record(1), via: 'pedal' });

const moved = expect.objectContaining({ code: 'head-moved' });

/** What every journal store must do. `make` gives an empty store. */
export function storeContract(make: () => JournalStore | Promise<JournalStore>): void {
  describe('every journal store', () => {
    test('gives back what was appended, job by job, in order', async () => {
      const store = await make();
      for (let n = 0; n < records.length; n++) {
        await store.append(record(n));
        const mixed = other[n];
        if (mixed) await store.append(mixed);
      }
      expect(await store.read(record(0).job)).toEqual(records);
      expect(await store.read(OTHER_JOB)).toEqual(other);
      expect(await store.read('nobody')).toEqual([]);
    });

    test('keeps the order of keys', async () => {
      const store = await make();
      await store.append(record(0));
      expect(JSON.stringify(await store.read(record(0).job))).toBe(JSON.stringify(records.slice(0, 1)));
    });

    test('tells the heads of all jobs', async () => {
      const store = await make();
      expect(await store.heads()).toEqual([]);
      for (const one of [...records, ...other]) await store.append(one);
      const heads = (await store.heads()).sort((a, b) => a.count - b.count);
      expect(heads).toEqual([
        { job: OTHER_JOB, count: other.length, hash: other[other.length - 1]?.hash },
        { job: record(0).job, count: records.length, hash: records[records.length - 1]?.hash },
      ]);
    });

    test('refuses a record that does not follow the head, and keeps what it has', async () => {
      const store = await make();
      await expect(store.append(record(1))).rejects.toEqual(moved);
      await store.append(record(0));
      await expect(store.append(record(2))).rejects.toEqual(moved);
      await store.append(record(1));
      await expect(store.append(rival())).rejects.toEqual(moved);
      await expect(store.append(record(0))).rejects.toEqual(moved);
      expect(await store.read(record(0).job)).toEqual(records.slice(0, 2));
    });

    test('takes the same record a second time as done', async () => {
      const store = await make();
      await store.append(record(0));
      await store.append(record(1));
      await store.append(record(1));
      expect(await store.read(record(0).job)).toEqual(records.slice(0, 2));
    });

    test('of two who append at once one wins', async () => {
      const store = await make();
      await store.append(record(0));
      const both = await Promise.allSettled([store.append(record(1)), store.append(rival())]);
      expect(both.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
      expect(await store.read(record(0).job)).toHaveLength(2);
    });

    test('keeps one seal a job', async () => {
      const store = await make();
      expect(await store.seal(OTHER_JOB)).toBeNull();
      await store.putSeal(OTHER_JOB, 'a.b.c');
      await store.putSeal(OTHER_JOB, 'a.b.c');
      const sealed = expect.objectContaining({ code: 'already-sealed' });
      await expect(store.putSeal(OTHER_JOB, 'd.e.f')).rejects.toEqual(sealed);
      expect(await store.seal(OTHER_JOB)).toBe('a.b.c');
      expect(await store.seal(record(0).job)).toBeNull();
      expect(await store.seals()).toEqual([{ job: OTHER_JOB, jws: 'a.b.c' }]);
    });
  });
}
