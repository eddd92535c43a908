import { beforeAll, describe, expect, test } from 'vitest';
import { logSeals } from '../../src/book/log-at-sealing.dom.ts';
import { browserLog } from '../../src/book/log-memory.dom.ts';
import { extended, logTree, rootCode } from '../../src/book/seal-log.ts';
import { deviceKey } from '../../src/journal/keys.dom.ts';
import type { SigningKey } from '../../src/journal/seal.ts';
import { IdbJournalStore } from '../../src/journal/store.dom.ts';
import { START, seal, tell } from '../book/jobs.ts';

const DAY = 86_400_000;
const jobOf = (n: number) => `5d0b3f52-6c1e-4a8e-9a55-1f2f6c0e1a${String(n).padStart(2, '0')}`;
let key: SigningKey;
beforeAll(async () => {
  key = await deviceKey(`log-${crypto.randomUUID()}`);
});

const wait = <T>(request: IDBRequest<T>): Promise<T> =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });

/** A bench of its own, and a way to finish and seal jobs on it. */
function bench() {
  const name = `log-${crypto.randomUUID()}`;
  const store = new IdbJournalStore(name);
  const finish = async (n: number) => {
    const records = tell({ job: jobOf(n), at: START + n * DAY });
    for (const record of records) await store.append(record);
    const { jws, payload } = await seal(records, key);
    await store.putSeal(jobOf(n), jws);
    return { job: jobOf(n), seal: jws, sealedAt: payload.sealedAt };
  };
  const look = () => logSeals(store, browserLog(name));
  /** What somebody does who has the browser's databases open. */
  const meddle = async (database: string, work: (db: IDBDatabase) => Promise<unknown>) => {
    const db = await wait(indexedDB.open(`${name}-${database}`));
    await work(db);
    db.close();
  };
  return { name, store, finish, look, meddle };
}

describe('the log at sealing, in the real databases', () => {
  test('grows with every seal, by the same code that the book has', async () => {
    const { name, finish, look } = bench();
    const seals = [await finish(1)];
    expect((await look()).code).toMatch(/^1 · /);
    seals.push(await finish(2), await finish(3));
    const { code, faults } = await look();
    const log = extended([], seals);
    expect(code).toBe(rootCode({ count: 3, root: logTree(log).root() }));
    expect(faults).toEqual([]);
    expect((await browserLog(name).look(seals)).log).toEqual(log);
  });

  test('a seal that was exchanged or removed is named at the next sealing', async () => {
    const { finish, look, meddle, store } = bench();
    await finish(1);
    await finish(2);
    await look();
    const other = await seal(tell({ job: jobOf(1), at: START + 9 * DAY }), key);
    store.close();
    await meddle('heads', (db) => {
      const seals = db.transaction('seals', 'readwrite').objectStore('seals');
      seals.delete(jobOf(2));
      return wait(seals.put(other.jws, jobOf(1)));
    });
    await finish(3);
    const { code, faults } = await look();
    expect(code).toMatch(/^3 · /);
    expect(faults).toEqual([
      `Seal 1 of the log is another: job ${jobOf(1)} was replaced.`,
      `Seal 2 of the log is gone: job ${jobOf(2)} was removed.`,
    ]);
  });

  test('a log that was written anew does not fit the root that was seen, at every sealing from then on', async () => {
    const { finish, look, meddle } = bench();
    await finish(1);
    await finish(2);
    await look();
    await meddle('log', async (db) => {
      const store = db.transaction('log', 'readwrite').objectStore('log');
      const kept = await wait(store.get('log'));
      await wait(store.put({ ...kept, entries: kept.entries.toReversed() }, 'log'));
    });
    for (const n of [3, 4]) {
      await finish(n);
      expect((await look()).faults[0]).toContain('history was changed');
    }
  });

  test('a log that cannot be written leaves the seal as it is, and is made good at the next look', async () => {
    const { name, store, finish, look } = bench();
    const seals = [await finish(1)];
    const first = await look();
    // The database of the log is held open at a version that this app cannot read.
    const held = await wait(indexedDB.open(`${name}-log`, 9));
    seals.push(await finish(2));
    await expect(look()).rejects.toMatchObject({ code: 'storage-failed' });
    expect(await store.seal(jobOf(2))).toBe(seals[1]?.seal);
    held.close();
    await wait(indexedDB.deleteDatabase(`${name}-log`));
    const { code, faults } = await look();
    expect([code, faults]).toEqual([rootCode({ count: 2, root: logTree(extended([], seals)).root() }), []]);
    expect(first.code).toBe(rootCode({ count: 1, root: logTree(extended([], seals)).root(1) }));
  });

  test('two windows that seal at once make one log', async () => {
    const { finish, look } = bench();
    await finish(1);
    await finish(2);
    const [a, b] = await Promise.all([look(), look()]);
    expect(a).toEqual(b);
    expect(a.code).toMatch(/^2 · /);
  });
});
