import { waitAfter, waitSentence } from './back-off.ts';
import type { SentPin } from './workshop.ts';

/** One object store and a way to use it inside a transaction (the function shape of idb-keyval's stores). */
export type UsePins = <T>(
  mode: IDBTransactionMode,
  work: (store: IDBObjectStore) => T | PromiseLike<T>,
) => Promise<T>;

/** A PIN as it is kept: never the PIN, only a slow salted hash of it. */
interface KeptPin {
  readonly salt: Uint8Array<ArrayBuffer>;
  readonly hash: Uint8Array;
  readonly rounds: number;
  readonly failures: number;
  /** No try counts before this moment, ms since 1970. */
  readonly waitUntil: number;
}

export type PinAnswer =
  | { readonly outcome: 'right' }
  | { readonly outcome: 'wrong' | 'unknown' }
  | { readonly outcome: 'wait'; readonly seconds: number };

/** PBKDF2 with HMAC-SHA-256: rounds as the OWASP password storage cheat sheet has it (from memory). */
const ROUNDS = 600_000;

async function stretch(pin: string, salt: Uint8Array<ArrayBuffer>, rounds: number): Promise<Uint8Array> {
  const key = await crypto.subtle.importKey('raw', new TextEncoder().encode(pin), 'PBKDF2', false, [
    'deriveBits',
  ]);
  const bits = await crypto.subtle.deriveBits(
    { name: 'PBKDF2', hash: 'SHA-256', salt, iterations: rounds },
    key,
    256,
  );
  return new Uint8Array(bits);
}

const toHex = (bytes: Uint8Array): string =>
  [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
const fromHex = (text: string): Uint8Array<ArrayBuffer> =>
  Uint8Array.from(text.match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));

function same(a: Uint8Array, b: Uint8Array): boolean {
  let different = a.length ^ b.length;
  for (let at = 0; at < a.length; at++) different |= (a[at] ?? 0) ^ (b[at] ?? 0);
  return different === 0;
}

/** What is kept of a PIN, to be sent to a bench. @throws Error when it is not 4 to 8 digits */
export async function hashPin(pin: string): Promise<SentPin> {
  if (!/^\d{4,8}$/.test(pin)) throw new Error('A PIN has 4 to 8 digits: choose another.');
  const salt = crypto.getRandomValues(new Uint8Array(16));
  const hash = await stretch(pin, salt, ROUNDS);
  return { salt: toHex(salt), hash: toHex(hash), rounds: ROUNDS };
}

export interface Pins {
  /** Sets or replaces the PIN of a person. @throws Error when it is not 4 to 8 digits */
  enrol(person: string, pin: string): Promise<void>;
  /** Takes a PIN that was set elsewhere. The one that is here already keeps its count of failures. */
  adopt(person: string, pin: SentPin): Promise<void>;
  /** Is this the person's PIN? Failures are counted and slow further tries down. */
  check(person: string, pin: string, now: number): Promise<PinAnswer>;
}

const fresh = ({ salt, hash, rounds }: SentPin): KeptPin => ({
  salt: fromHex(salt),
  hash: fromHex(hash),
  rounds,
  failures: 0,
  waitUntil: 0,
});

export function browserPins(use: UsePins): Pins {
  const request = <T>(made: IDBRequest<T>) =>
    new Promise<T>((resolve, reject) => {
      made.onsuccess = () => resolve(made.result);
      made.onerror = () => reject(made.error);
    });
  const keyOf = (person: string) => `pin:${person}`;
  const read = (person: string) =>
    use('readonly', (store) => request<KeptPin | undefined>(store.get(keyOf(person))));
  const keep = (person: string, pin: KeptPin) =>
    use('readwrite', (store) => request(store.put(pin, keyOf(person))));

  return {
    async enrol(person, pin) {
      await keep(person, fresh(await hashPin(pin)));
    },
    async adopt(person, pin) {
      const here = await read(person);
      const next = fresh(pin);
      if (!here || !same(here.salt, next.salt)) await keep(person, next);
    },
    async check(person, pin, now) {
      const kept = await read(person);
      if (!kept) return { outcome: 'unknown' };
      if (now < kept.waitUntil) return { outcome: 'wait', seconds: Math.ceil((kept.waitUntil - now) / 1000) };
      const right = same(await stretch(pin, kept.salt, kept.rounds), kept.hash);
      const failures = right ? 0 : kept.failures + 1;
      // Read again before writing would only matter to two windows trying at once: both failures then count as one.
      await keep(person, { ...kept, failures, waitUntil: right ? 0 : now + waitAfter(failures) });
      return { outcome: right ? 'right' : 'wrong' };
    },
  };
}

/** What a person is told when a PIN was not taken; null when it was right. */
export function pinSentence(answer: PinAnswer): string | null {
  switch (answer.outcome) {
    case 'right':
      return null;
    case 'wait':
      return waitSentence(answer.seconds);
    case 'unknown':
      return 'No PIN was set for this person on this bench: the supervisor sets one.';
    case 'wrong':
      return 'That PIN is not right: try again.';
  }
}
