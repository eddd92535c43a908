import { createStore, type UseStore } from 'idb-keyval';
import type { Phrase } from '../hear/ear.ts';
import { type Lexicon, lexicon } from '../hear/lexicon.ts';
import type { Take } from '../hear/taker.ts';
import { TAKES, type Way, waysOf } from '../hear/teach.ts';

/** A take as it is kept: its phones, and its sound, so that it outlives the model that heard them. */
export interface KeptTake {
  readonly phones: readonly number[];
  /** 16-bit, mono, 16 kHz: on this device only. */
  readonly samples: Int16Array;
  /** Which weights heard the phones. */
  readonly model: string;
  /** ms since 1970 */
  readonly at: number;
}

interface Kept {
  readonly person: string;
  readonly text: string;
  readonly kind: Phrase['kind'];
  readonly takes: readonly KeptTake[];
}

const to16 = (samples: Float32Array): Int16Array =>
  Int16Array.from(samples, (v) => Math.round(Math.max(-1, Math.min(1, v)) * 32767));
const from16 = (samples: Int16Array): Float32Array => Float32Array.from(samples, (v) => v / 32767);

const asked = <T>(request: IDBRequest<T>): Promise<T> =>
  new Promise((done, refuse) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => refuse(request.error);
  });
const done = (transaction: IDBTransaction): Promise<void> =>
  new Promise((ended, refuse) => {
    transaction.oncomplete = () => ended();
    transaction.onabort = () => refuse(transaction.error);
  });

/** People's takes, in a database of their own: key `[person, text]`. */
export class Voices {
  readonly #store: UseStore;
  readonly #words: Lexicon;
  readonly #model: string;

  /** `table` word -> phones; `model` names the weights in use. */
  constructor(table: Readonly<Record<string, string>>, model: string, name = 'holdfast') {
    this.#store = createStore(`${name}-voices`, 'takes');
    this.#words = lexicon(table);
    this.#model = model;
  }

  get words(): Lexicon {
    return this.#words;
  }

  #all(person: string): Promise<Kept[]> {
    const range = IDBKeyRange.bound([person], [person, []]);
    return this.#store('readonly', (store) => asked(store.getAll(range) as IDBRequest<Kept[]>));
  }

  #put(kept: Kept): Promise<void> {
    return this.#store('readwrite', (store) => {
      store.put(kept, [kept.person, kept.text]);
      return done(store.transaction);
    });
  }

  /** Takes of each phrase that this person has taught. */
  async takes(person: string): Promise<ReadonlyMap<string, readonly KeptTake[]>> {
    return new Map((await this.#all(person)).map(({ text, takes }) => [text, takes]));
  }

  /** Keeps a take; the oldest goes when there are more than a phrase is taught with. */
  async keep(person: string, { text, kind }: Phrase, take: Take, at: number): Promise<readonly KeptTake[]> {
    const before = (await this.takes(person)).get(text) ?? [];
    const kept = { phones: take.phones, samples: to16(take.samples), model: this.#model, at };
    const takes = [...before, kept].slice(-TAKES);
    await this.#put({ person, text, kind, takes });
    return takes;
  }

  /** Begins a phrase anew: its takes are gone. */
  async drop(person: string, text: string): Promise<void> {
    await this.#store('readwrite', (store) => {
      store.delete([person, text]);
      return done(store.transaction);
    });
  }

  /** Everything of this person's voice is gone. */
  async forget(person: string): Promise<void> {
    await this.#store('readwrite', (store) => {
      store.delete(IDBKeyRange.bound([person], [person, []]));
      return done(store.transaction);
    });
  }

  /** What the takes teach. Takes that another model heard are read anew by `read` first, and kept so; null leaves them. */
  async ways(
    person: string,
    read: ((samples: Float32Array) => Promise<readonly number[]>) | null,
  ): Promise<ReadonlyMap<string, readonly Way[]>> {
    const ways = new Map<string, readonly Way[]>();
    for (const kept of await this.#all(person)) {
      const stale = kept.takes.some(({ model }) => model !== this.#model);
      const takes = stale && read ? await this.#readAnew(kept, read) : kept.takes;
      const phones = takes.map((take) => take.phones);
      ways.set(kept.text, waysOf(kept, phones, this.#words));
    }
    return ways;
  }

  async #readAnew(
    kept: Kept,
    read: (samples: Float32Array) => Promise<readonly number[]>,
  ): Promise<readonly KeptTake[]> {
    const takes: KeptTake[] = [];
    for (const take of kept.takes)
      takes.push({ ...take, phones: await read(from16(take.samples)), model: this.#model });
    await this.#put({ ...kept, takes });
    return takes;
  }
}

/** A name for the weights: takes remember which ones heard them. */
export async function modelName(weights: ArrayBuffer): Promise<string> {
  const hash = new Uint8Array(await crypto.subtle.digest('SHA-256', weights));
  return Array.from(hash.subarray(0, 8), (byte) => byte.toString(16).padStart(2, '0')).join('');
}
