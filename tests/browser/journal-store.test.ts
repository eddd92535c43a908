import { afterEach, describe, expect, test } from 'vitest';
import { IdbJournalStore } from '../../src/journal/store.dom.ts';
import { OTHER_JOB, other, record, records, rival, storeContract } from '../journal/store-contract.ts';

let count = 0;
const open: { name: string; store: IdbJournalStore }[] = [];

const named = (name: string) => {
  const store = new IdbJournalStore(name);
  open.push({ name, store });
  return store;
};
const fresh = () => {
  const name = `test-${crypto.randomUUID()}-${count++}`;
  return { name, store: named(name) };
};

const drop = (database: string) =>
  new Promise<void>((resolve, reject) => {
    const request = indexedDB.deleteDatabase(database);
    request.onsuccess = () => resolve();
    request.onerror = () => reject(request.error);
    // One that has still work to do makes way when it is done; one that never does would hold us up for good.
    request.onblocked = () =>
      setTimeout(() => reject(new Error(`A connection to ${database} does not make way.`)), 3000);
  });

/** Reaches under the store, as somebody with the browser's tools would. */
function under<T>(database: string, work: (transaction: IDBTransaction) => IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(database);
    request.onerror = () => reject(request.error);
    request.onsuccess = () => {
      const db = request.result;
      const transaction = db.transaction([...db.objectStoreNames], 'readwrite');
      const result = work(transaction);
      transaction.oncomplete = () => {
        db.close();
        resolve(result.result);
      };
      transaction.onabort = () => reject(transaction.error);
    };
  });
}

/** Replaces a method of a browser's class until the end of the test. */
const undo: (() => void)[] = [];
function meddle<O, K extends keyof O>(owner: O, method: K, make: (real: O[K]) => O[K]): void {
  const real = owner[method];
  owner[method] = make(real);
  undo.push(() => {
    owner[method] = real;
  });
}

afterEach(async () => {
  for (const back of undo.splice(0)) back();
  for (const { name, store } of open.splice(0)) {
    store.close();
    await drop(`${name}-journal`);
    await drop(`${name}-heads`);
  }
});

const job = record(0).job;
const faulty = (code: string) => expect.objectContaining({ name: 'JournalError', code });

storeContract(() => fresh().store);

describe('the browser gets in the way', () => {
  test('connections closed under us are opened again, reading and writing', async () => {
    const connections: IDBDatabase[] = [];
    meddle(
      IDBDatabase.prototype,
      'transaction',
      (real) =>
        function (this: IDBDatabase, ...given) {
          connections.push(this);
          return real.apply(this, given);
        },
    );
    const { store } = fresh();
    await store.append(record(0));
    for (const connection of connections) connection.close();
    await store.append(record(1));
    for (const connection of connections) connection.close();
    expect(await store.read(job)).toEqual(records.slice(0, 2));
  });

  test('a connection told to make way for another version does so, and the next call goes on', async () => {
    const { name, store } = fresh();
    await store.append(record(0));
    await drop(`${name}-heads`);
    await store.append(record(1));
    expect(await store.read(job)).toEqual(records.slice(0, 2));
  });

  test('a database that cannot be opened is tried once more, and not given up for ever', async () => {
    const { store } = fresh();
    let failures = 3;
    meddle(
      IDBFactory.prototype,
      'open',
      (real) =>
        function (this: IDBFactory, ...given) {
          if (failures-- > 0) throw new DOMException('Connection to the server lost.', 'UnknownError');
          return real.apply(this, given);
        },
    );
    await expect(store.append(record(0))).rejects.toEqual(faulty('storage-failed'));
    await store.append(record(0));
    expect(await store.read(job)).toEqual(records.slice(0, 1));
  });

  /** Aborts the next transactions that write to the records: before they are stored, or reported so though they are. */
  function abortWrites(times: number, name = 'AbortError') {
    let left = times;
    meddle(
      IDBObjectStore.prototype,
      'add',
      (real) =>
        function (this: IDBObjectStore, ...given) {
          const request = real.apply(this, given);
          if (left-- > 0) {
            const { transaction } = this;
            Object.defineProperty(transaction, 'error', { value: new DOMException('No.', name) });
            request.onsuccess = () => transaction.abort();
          }
          return request;
        },
    );
  }

  test('a transaction that is aborted after its requests succeeded is tried again', async () => {
    const { store } = fresh();
    abortWrites(1);
    await store.append(record(0));
    expect(await store.read(job)).toEqual(records.slice(0, 1));
  });

  test('aborted twice it is reported, with nothing stored, and can be done later', async () => {
    const { store } = fresh();
    abortWrites(2);
    await expect(store.append(record(0))).rejects.toEqual(faulty('storage-failed'));
    expect(await store.read(job)).toEqual([]);
    expect(await store.heads()).toEqual([]);
    await store.append(record(0));
    expect(await store.read(job)).toHaveLength(1);
  });

  test('a full disk is reported as such, without a second try', async () => {
    const { store } = fresh();
    abortWrites(1, 'QuotaExceededError');
    await expect(store.append(record(0))).rejects.toEqual(faulty('storage-full'));
    await store.append(record(0));
  });

  test('reported as failed but stored: the second try finds the record there and is content', async () => {
    const { name, store } = fresh();
    let lies = 1;
    let writes = 0;
    meddle(
      IDBDatabase.prototype,
      'transaction',
      (real) =>
        function (this: IDBDatabase, ...given) {
          const transaction = real.apply(this, given);
          if (this.name !== `${name}-journal` || given[1] !== 'readwrite') return transaction;
          writes++;
          if (lies-- > 0) {
            let onabort: ((event: Event) => unknown) | null = null;
            Object.defineProperty(transaction, 'oncomplete', { set: () => undefined });
            Object.defineProperty(transaction, 'onabort', { set: (given) => (onabort = given) });
            transaction.addEventListener('complete', (event) => onabort?.(event));
          }
          return transaction;
        },
    );
    await store.append(record(0));
    expect(writes).toBe(2);
    expect(await store.read(job)).toEqual(records.slice(0, 1));
  });

  test('writes ask for strict durability', async () => {
    const asked: unknown[] = [];
    meddle(
      IDBDatabase.prototype,
      'transaction',
      (real) =>
        function (this: IDBDatabase, ...given) {
          const transaction = real.apply(this, given);
          if (given[1] === 'readwrite') asked.push(transaction.durability);
          return transaction;
        },
    );
    await fresh().store.append(record(0));
    expect(asked).toEqual(['strict', 'strict']);
  });
});

describe('two windows', () => {
  test('race for each record: one wins every time, and the loser goes on after reading again', async () => {
    const { name, store } = fresh();
    const second = named(name);
    for (let n = 0; n < records.length; n++) {
      const [first, ...rest] = n % 2 ? [store, second] : [second, store];
      const results = await Promise.allSettled([first?.append(record(n)), rest[0]?.append(record(n))]);
      // The same record from both: done is done.
      expect(results.map(({ status }) => status)).toEqual(['fulfilled', 'fulfilled']);
    }
    expect(await second.read(job)).toEqual(records);
  });

  test('with different records: exactly one is kept', async () => {
    const { name, store } = fresh();
    const second = named(name);
    await store.append(record(0));
    const results = await Promise.allSettled([store.append(record(1)), second.append(rival())]);
    expect(results.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
    const lost = results.find((result) => result.status === 'rejected');
    expect(lost?.reason).toEqual(faulty('head-moved'));
    expect(await store.read(job)).toEqual(await second.read(job));
    expect(await store.read(job)).toHaveLength(2);
  });
});

describe('somebody was here', () => {
  const filled = async () => {
    const made = fresh();
    for (const one of [...records.slice(0, 6), ...other]) await made.store.append(one);
    return made;
  };

  test('the whole journal is deleted: the job is still listed, reading says what is missing, writing is refused', async () => {
    const { name, store } = await filled();
    await drop(`${name}-journal`);
    await expect(store.read(job)).rejects.toEqual(faulty('journal-cut'));
    await expect(store.append(record(6))).rejects.toEqual(faulty('head-moved'));
    expect((await store.heads()).map((head) => head.count).sort()).toEqual([other.length, 6]);
    expect(await store.remains(job)).toEqual([]);
  });

  test('the tail is cut and the head set back with it: the copy gives it away', async () => {
    const { name, store } = await filled();
    await under(`${name}-journal`, (transaction) => {
      transaction.objectStore('records').delete([job, 5]);
      return transaction.objectStore('heads').put({ job, count: 5, hash: record(4).hash }, job);
    });
    await expect(store.read(job)).rejects.toEqual(faulty('journal-cut'));
    expect(await store.remains(job)).toEqual(records.slice(0, 5));
    await expect(store.append(record(5))).resolves.toBeUndefined(); // Just what was cut: whole again.
    expect(await store.read(job)).toHaveLength(6);
  });

  test('after a cut tail something else is appended: refused, and the copy keeps the old head', async () => {
    const { name, store } = await filled();
    await under(`${name}-journal`, (transaction) => {
      for (let n = 1; n < 6; n++) transaction.objectStore('records').delete([job, n]);
      return transaction.objectStore('heads').put({ job, count: 1, hash: record(0).hash }, job);
    });
    await expect(store.append(rival())).rejects.toEqual(faulty('journal-cut'));
    await expect(store.read(job)).rejects.toEqual(faulty('journal-cut'));
  });

  test('the tail is exchanged for another of the same length', async () => {
    const { name, store } = fresh();
    await store.append(record(0));
    await store.append(record(1));
    await under(`${name}-journal`, (transaction) => {
      transaction.objectStore('records').put(rival(), [job, 1]);
      return transaction.objectStore('heads').put({ job, count: 2, hash: rival().hash }, job);
    });
    await expect(store.read(job)).rejects.toEqual(faulty('journal-differs'));
  });

  test('a record in the middle, or the last one, is removed and the heads are left alone', async () => {
    for (const seq of [2, 5]) {
      const { name, store } = await filled();
      await under(`${name}-journal`, (transaction) => transaction.objectStore('records').delete([job, seq]));
      await expect(store.read(job)).rejects.toEqual(faulty('journal-cut'));
      expect(await store.read(OTHER_JOB)).toEqual(other);
    }
  });
});

describe('the app is ended between record and copy', () => {
  test.each([1, 3])('a copy that is %i behind on the same chain is brought up', async (behind) => {
    const { name, store } = fresh();
    for (const one of records.slice(0, 6)) await store.append(one);
    const hash = record(5 - behind).hash;
    const copy = () => under(`${name}-heads`, (transaction) => transaction.objectStore('heads').get(job));
    await under(`${name}-heads`, (transaction) =>
      transaction.objectStore('heads').put({ job, count: 6 - behind, hash }, job),
    );
    if (behind === 1) expect(await store.read(job)).toHaveLength(6);
    else await store.append(record(6));
    const count = behind === 1 ? 6 : 7;
    expect(await copy()).toEqual({ job, count, hash: record(count - 1).hash });
  });
});
