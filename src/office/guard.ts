import { fromMoment, toMoment } from '../journal/moment.ts';
import { openData, type PublicJwk } from '../journal/seal.ts';
import { OfficeError } from '../sync/fault.ts';
import { requestShape, SCHEME, type SignedRequest } from '../sync/request.ts';
import { CLOCK_SLACK_MS } from '../sync/wire.ts';
import { sha256 } from './hash.ts';

/** What a request shows before anybody is believed: whose key signed it. */
export interface Signer {
  readonly kid: string;
  readonly jwk: PublicJwk;
}

export interface Asked {
  readonly method: string;
  /** With the part after the question mark, as it came. */
  readonly path: string;
  readonly authorization: string | undefined;
  readonly body: Uint8Array;
}

/** Longest header that is looked at. */
const MOST_HEADER = 4096;

/** Checks what each request is signed with, and lets none through a second time. */
export class Guard {
  readonly #office: string;
  readonly #now: () => number;
  /** nonce -> when it can be forgotten. In order of arrival. */
  readonly #used = new Map<string, number>();

  /** `office`: thumbprint of this office's key. */
  constructor(office: string, now: () => number) {
    this.#office = office;
    this.#now = now;
  }

  /** Whose key signed exactly this request, just now. Throws OfficeError. `enrolling`: the office need not be known yet. */
  async signer({ method, path, authorization, body }: Asked, enrolling = false): Promise<Signer> {
    const [scheme, jws, ...more] = (authorization ?? '').split(' ');
    if (scheme !== SCHEME || !jws || more.length > 0 || jws.length > MOST_HEADER)
      throw new OfficeError('not-signed');
    const opening = await openData<SignedRequest>(jws, requestShape);
    if (!opening.opened) throw new OfficeError('signature-wrong', { what: opening.says });
    const { payload, kid } = opening.opened;
    if (payload.method !== method || payload.path !== path || payload.body !== sha256(body))
      throw new OfficeError('signature-wrong', { what: 'it is that of another request' });
    if (payload.office !== this.#office && !(enrolling && payload.office === ''))
      throw new OfficeError('other-office');
    const now = this.#now();
    const at = fromMoment(payload.at) ?? 0;
    if (Math.abs(now - at) > CLOCK_SLACK_MS) throw new OfficeError('clock-off', { now: toMoment(now) });
    this.#once(`${kid} ${payload.nonce}`, now);
    return { kid, jwk: keyIn(jws) };
  }

  #once(nonce: string, now: number): void {
    for (const [old, until] of this.#used) {
      if (until > now) break;
      this.#used.delete(old);
    }
    if (this.#used.has(nonce)) throw new OfficeError('used-twice');
    this.#used.set(nonce, now + 2 * CLOCK_SLACK_MS);
  }
}

/** The key in the header of a JWS that was opened, and so is known to have one. */
function keyIn(jws: string): PublicJwk {
  const header = Buffer.from(jws.slice(0, jws.indexOf('.')), 'base64url').toString('utf8');
  return (JSON.parse(header) as { jwk: PublicJwk }).jwk;
}

export interface Rate {
  /** Requests that may come at once. */
  readonly burst: number;
  /** How many more become free each second. */
  readonly perSecond: number;
}

/** Counts requests of each asker: a bucket that fills at a steady rate. Those that are full again are forgotten. */
export class Rates {
  readonly #rate: Rate;
  readonly #now: () => number;
  readonly #buckets = new Map<string, { left: number; at: number }>();

  constructor(rate: Rate, now: () => number) {
    this.#rate = rate;
    this.#now = now;
  }

  /** Throws `too-many`, with how many seconds to wait, when this asker comes too often, or brings too much. */
  take(asker: string, amount = 1): void {
    const now = this.#now();
    const { burst, perSecond } = this.#rate;
    const bucket = this.#buckets.get(asker) ?? { left: burst, at: now };
    // A clock that is set back must not make anybody wait for it.
    const seconds = Math.max(0, now - bucket.at) / 1000;
    const left = Math.min(burst, bucket.left + seconds * perSecond);
    if (this.#buckets.size > 10_000) this.#forget(now);
    if (left < amount) {
      this.#buckets.set(asker, { left, at: now });
      throw new OfficeError('too-many', { seconds: Math.ceil((amount - left) / perSecond) });
    }
    this.#buckets.set(asker, { left: left - amount, at: now });
  }

  #forget(now: number): void {
    const { burst, perSecond } = this.#rate;
    const full = now - (burst / perSecond) * 1000;
    for (const [asker, { at }] of this.#buckets) if (at < full) this.#buckets.delete(asker);
  }
}
