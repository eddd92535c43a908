import type { UseStore } from 'idb-keyval';
import { JournalError } from './fault.ts';

/** Faults that a fresh connection cannot mend: they say something about what we asked for, or about the disk. */
const FINAL = ['QuotaExceededError', 'DataCloneError', 'DataError', 'ConstraintError', 'ReadOnlyError'];

/** A fault of the browser's database in our own words. */
export function storageFault(error: unknown): JournalError {
  if (error instanceof JournalError) return error;
  const { name = '', message = '' } = error instanceof Error ? error : { message: String(error) };
  return new JournalError(
    name === 'QuotaExceededError' ? 'storage-full' : 'storage-failed',
    `${name}: ${message}`,
    error,
  );
}

const mayPass = (error: unknown): boolean =>
  !(error instanceof JournalError) && !(error instanceof Error && FINAL.includes(error.name));

/**
 * One database with several object stores, in the shape of idb-keyval's UseStore: the callback gets the first store,
 * and reaches the others by `store.transaction.objectStore(name)`. Differs from idb-keyval's `createStore` in this:
 *
 * - a write is `durability: 'strict'` and counts only when the transaction is complete: strict commits report a full
 *   disk as `abort`, after every request has succeeded;
 * - a callback that throws or rejects aborts its transaction, so nothing is kept by halves;
 * - a connection that was closed under us (browsers do so to pages in the background), or that could not be opened, is
 *   forgotten, opened again and the work tried once more. The work must therefore be safe to do twice: a transaction
 *   that was reported as failed may be on the disk all the same.
 */
export class Database {
  readonly name: string;
  readonly #stores: readonly string[];
  #connection: Promise<IDBDatabase> | null = null;

  constructor(name: string, ...stores: readonly string[]) {
    this.name = name;
    this.#stores = stores;
  }

  /** Runs the callback in one transaction over all stores; usable wherever idb-keyval takes a custom store. */
  readonly use: UseStore = async (mode, callback) => {
    try {
      return await this.#once(mode, callback);
    } catch (error) {
      if (!mayPass(error)) throw storageFault(error);
      this.close();
    }
    try {
      return await this.#once(mode, callback);
    } catch (error) {
      throw storageFault(error);
    }
  };

  /** Closes the connection; the next use opens a fresh one. */
  close(): void {
    const closing = this.#connection;
    this.#connection = null;
    closing?.then(
      (db) => db.close(),
      () => undefined,
    );
  }

  async #once<T>(
    mode: IDBTransactionMode,
    callback: (store: IDBObjectStore) => T | PromiseLike<T>,
  ): Promise<T> {
    const db = await this.#open();
    const transaction = db.transaction([...this.#stores], mode, { durability: 'strict' });
    const done = new Promise<void>((resolve, reject) => {
      transaction.oncomplete = () => resolve();
      transaction.onabort = () =>
        reject(transaction.error ?? new DOMException('The transaction was aborted.', 'AbortError'));
    });
    // Settled again below: without this an abort that comes before the await counts as unhandled.
    done.catch(() => undefined);
    try {
      const value = await callback(transaction.objectStore(this.#stores[0] ?? ''));
      if (mode === 'readwrite') await done;
      return value;
    } catch (error) {
      try {
        transaction.abort();
      } catch {
        // It has ended already; the error below says why.
      }
      throw error;
    }
  }

  #open(): Promise<IDBDatabase> {
    if (this.#connection) return this.#connection;
    const opening = new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open(this.name, 1);
      request.onupgradeneeded = () => {
        for (const store of this.#stores) request.result.createObjectStore(store);
      };
      request.onblocked = () => reject(new JournalError('storage-blocked'));
      request.onerror = () => reject(request.error);
      request.onsuccess = () => {
        const db = request.result;
        const forget = () => {
          if (this.#connection === opening) this.#connection = null;
        };
        db.onclose = forget;
        db.onversionchange = () => {
          db.close();
          forget();
        };
        resolve(db);
      };
    });
    this.#connection = opening;
    opening.catch(() => {
      if (this.#connection === opening) this.#connection = null;
    });
    return opening;
  }
}
