import { Database } from '../../journal/database.dom.ts';
import type { Algorithm } from './signature.ts';

/** A passkey as this bench keeps it: nothing of it is secret. */
export interface KeptPasskey {
  /** Credential id, base64url. */
  readonly id: string;
  /** Id of the person. */
  readonly person: string;
  /** SubjectPublicKeyInfo, DER. */
  readonly publicKey: Uint8Array<ArrayBuffer>;
  readonly alg: Algorithm;
  /** The highest counter that was seen. */
  readonly signCount: number;
  /** Its counter went back: it counts for nothing until it is taken away. */
  readonly copied: boolean;
  /** How the browser reaches it: usb, nfc, ble, internal, hybrid. */
  readonly transports: readonly string[];
  /** ms since 1970 */
  readonly enrolledAt: number;
}

/** Failures of a person in a row, as for PINs. */
export interface Tries {
  readonly failures: number;
  /** No try counts before this moment, ms since 1970. */
  readonly waitUntil: number;
}

const KEYS = 'keys';
const TRIES = 'tries';

const asked = <T>(request: IDBRequest<T>): Promise<T> =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });

/** Passkeys in a database of their own. */
export class PasskeyStore {
  readonly #database: Database;

  constructor(name: string) {
    this.#database = new Database(`${name}-passkeys`, KEYS, TRIES);
  }

  all(): Promise<KeptPasskey[]> {
    return this.#database.use('readonly', (keys) => asked<KeptPasskey[]>(keys.getAll()));
  }

  async of(person: string): Promise<KeptPasskey[]> {
    return (await this.all()).filter((one) => one.person === person);
  }

  /** Rejects when this credential is here already, for whomever. */
  async add(passkey: KeptPasskey): Promise<void> {
    await this.#database.use('readwrite', (keys) => asked(keys.add(passkey, passkey.id)));
  }

  async remove(id: string): Promise<void> {
    await this.#database.use('readwrite', (keys) => asked(keys.delete(id)));
  }

  /** Changes a passkey in one transaction, by what is kept now; `change` returns null to leave it. Returns what was kept. */
  change(id: string, change: (kept: KeptPasskey) => KeptPasskey | null): Promise<KeptPasskey | null> {
    return this.#database.use('readwrite', async (keys) => {
      const kept = await asked<KeptPasskey | undefined>(keys.get(id));
      const next = kept ? change(kept) : null;
      if (next) keys.put(next, id);
      return kept ?? null;
    });
  }

  async tries(person: string): Promise<Tries> {
    const kept = await this.#database.use('readonly', (keys) =>
      asked<Tries | undefined>(keys.transaction.objectStore(TRIES).get(person)),
    );
    return kept ?? { failures: 0, waitUntil: 0 };
  }

  /** Counts a try of this person: what comes next is made of what is kept now. */
  async tried(person: string, next: (kept: Tries) => Tries): Promise<void> {
    await this.#database.use('readwrite', async (keys) => {
      const store = keys.transaction.objectStore(TRIES);
      const kept = (await asked<Tries | undefined>(store.get(person))) ?? { failures: 0, waitUntil: 0 };
      store.put(next(kept), person);
    });
  }
}
