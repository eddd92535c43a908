import type { Page } from 'playwright-core';

/** How a write goes wrong: nothing reaches the disk, or everything does and the report is a lie. */
export type How = 'not stored' | 'stored';
export const HOWS: readonly How[] = ['not stored', 'stored'];

interface Injected {
  undo: (() => void)[];
}

/** Runs in the page: from now on every write of a record fails as told, with an error of this name. */
function breakWritesHere({ how, name, closes }: { how: How; name: string; closes: boolean }): void {
  const injected = globalThis as unknown as Injected;
  injected.undo ??= [];
  const transaction = IDBDatabase.prototype.transaction;
  const add = IDBObjectStore.prototype.add;
  const isJournal = (db: IDBDatabase) => db.name === 'holdfast-journal';
  const failed = () => new DOMException('Injected by a test.', name);
  IDBDatabase.prototype.transaction = function (this: IDBDatabase, ...given) {
    const made = transaction.apply(this, given);
    if (how === 'not stored' || !isJournal(this) || given[1] !== 'readwrite') return made;
    // The commit goes through, and is then reported as an abort.
    let onabort: ((event: Event) => unknown) | null = null;
    Object.defineProperty(made, 'oncomplete', { set: () => undefined });
    Object.defineProperty(made, 'onabort', {
      set: (given) => {
        onabort = given;
      },
    });
    Object.defineProperty(made, 'error', { value: failed() });
    made.addEventListener('complete', (event) => {
      if (closes) this.close();
      onabort?.(event);
    });
    return made;
  };
  IDBObjectStore.prototype.add = function (this: IDBObjectStore, ...given) {
    const request = add.apply(this, given);
    const made = this.transaction;
    if (how === 'not stored' && isJournal(made.db)) {
      Object.defineProperty(made, 'error', { value: failed() });
      request.onsuccess = () => {
        if (closes) made.db.close();
        made.abort();
      };
    }
    return request;
  };
  injected.undo.push(() => {
    IDBDatabase.prototype.transaction = transaction;
    IDBObjectStore.prototype.add = add;
  });
}

export const breakWrites = (page: Page, how: How, name = 'AbortError', closes = false): Promise<void> =>
  page.evaluate(breakWritesHere, { how, name, closes });

/** Everything that was injected into this page is taken back. */
export const unbreak = (page: Page): Promise<void> =>
  page.evaluate(() => {
    const injected = globalThis as unknown as Injected;
    for (const back of injected.undo?.splice(0) ?? []) back();
  });

/** The wall clock of this page from now on: `ms` ahead of the real one. The running clock is left alone. */
export const setClock = (page: Page, ms: number): Promise<void> =>
  page.evaluate((shift) => {
    const injected = globalThis as unknown as Injected;
    injected.undo ??= [];
    const now = Date.now;
    Date.now = () => now() + shift;
    injected.undo.push(() => {
      Date.now = now;
    });
  }, ms);

/** A window that hears nothing from the others and believes to have the right to write: before it is opened. */
export async function muted(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const lock = { name: 'any', mode: 'exclusive' as const };
    navigator.locks.request = ((_: string, __: unknown, work: (lock: Lock) => unknown) =>
      Promise.resolve(work(lock))) as typeof navigator.locks.request;
    BroadcastChannel.prototype.postMessage = () => undefined;
    Object.defineProperty(BroadcastChannel.prototype, 'onmessage', { set: () => undefined });
  });
}

/** Changes who one stored record is by: what a bad sector or a hand with the browser's tools would do. */
export const spoilRecord = (page: Page, job: string, seq: number, by: string): Promise<void> =>
  page.evaluate(
    (spoil) =>
      new Promise<void>((resolve, reject) => {
        const opening = indexedDB.open('holdfast-journal');
        opening.onerror = () => reject(opening.error);
        opening.onsuccess = () => {
          const transaction = opening.result.transaction('records', 'readwrite');
          const store = transaction.objectStore('records');
          const found = store.get([spoil.job, spoil.seq]);
          found.onsuccess = () => {
            Object.assign(globalThis, { spoilt: found.result.by });
            store.put({ ...found.result, by: spoil.by }, [spoil.job, spoil.seq]);
          };
          transaction.oncomplete = () => {
            opening.result.close();
            resolve();
          };
        };
      }),
    { job, seq, by },
  );

/** The browser clears what this app stored, as under pressure for space. */
export const evict = (page: Page, names: readonly string[]): Promise<void> =>
  page.evaluate(async (all) => {
    await Promise.all(
      all.map(
        (name) =>
          new Promise<void>((resolve, reject) => {
            const gone = indexedDB.deleteDatabase(name);
            gone.onsuccess = () => resolve();
            gone.onerror = () => reject(gone.error);
          }),
      ),
    );
  }, names);

interface Ears {
  workers: Worker[];
  tracks: MediaStreamTrack[];
}

/** Runs in the page before the app: keeps hold of the workers that are started and the microphones that are opened. */
export function catchEars(): void {
  const ears: Ears = { workers: [], tracks: [] };
  Object.assign(globalThis, ears);
  const RealWorker = globalThis.Worker;
  globalThis.Worker = class extends RealWorker {
    constructor(url: string | URL, options?: WorkerOptions) {
      super(url, options);
      ears.workers.push(this);
    }
  };
  const { mediaDevices } = navigator;
  const open = mediaDevices?.getUserMedia.bind(mediaDevices);
  if (open)
    mediaDevices.getUserMedia = async (wanted) => {
      const stream = await open(wanted);
      ears.tracks.push(...stream.getTracks());
      return stream;
    };
}

/** Has the app listen, and waits until it does. */
export const listen = (page: Page): Promise<void> =>
  page.evaluate(async () => {
    const app = document.querySelector('hf-app') as unknown as {
      listening: { start(): Promise<void>; state: { on: boolean; fault: string | null } };
    };
    await app.listening.start();
    if (!app.listening.state.on) throw new Error(app.listening.state.fault ?? 'It does not listen.');
  });

/** The worker that listens breaks down; or the microphone is pulled out, which ends its track. */
export const breakEar = (page: Page, what: 'worker' | 'microphone'): Promise<void> =>
  page.evaluate((broken) => {
    const { workers, tracks } = globalThis as unknown as Ears;
    for (const worker of broken === 'worker' ? workers : []) {
      worker.terminate();
      worker.dispatchEvent(new ErrorEvent('error', { message: 'Injected by a test.' }));
    }
    for (const track of broken === 'microphone' ? tracks : []) {
      track.stop();
      track.dispatchEvent(new Event('ended'));
    }
  }, what);
