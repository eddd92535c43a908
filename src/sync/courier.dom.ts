import { gzipSync } from 'fflate';
import { sha256Hex } from '../journal/hash.ts';
import { toMoment } from '../journal/moment.ts';
import type { SigningKey } from '../journal/seal.ts';
import { signData } from '../journal/seal.ts';
import { isOfficeCode, OfficeError } from './fault.ts';
import { SCHEME, type SignedRequest } from './request.ts';
import { API } from './wire.ts';

/** How long an answer may take before the line counts as cut, ms. */
const PATIENCE_MS = 30_000;

/** The office did not answer, or not in a way that it speaks: it will be tried again. */
export class NoAnswer extends Error {
  constructor(cause: unknown) {
    super('The office does not answer: work goes on here, and it will be tried again.', { cause });
    this.name = 'NoAnswer';
  }
}

export interface CourierPorts {
  /** Scheme and host of the office, without a slash at the end; empty: where this page comes from. */
  readonly origin: string;
  /** Thumbprint of the office's key; empty while enrolling. */
  readonly office: string;
  key(): Promise<SigningKey>;
  /** Wall clock, ms since 1970. */
  now(): number;
  fetch(url: string, init: RequestInit): Promise<Response>;
}

export type Parcel =
  | { readonly type: 'application/json' | 'application/x-ndjson'; readonly text: string }
  /** Photos and sound, packed already, as they are. */
  | { readonly type: string; readonly bytes: Uint8Array };

export const json = (value: unknown): Parcel => ({ type: 'application/json', text: JSON.stringify(value) });

/** Carries signed requests to the office, and its answers back. */
export class Courier {
  readonly #ports: CourierPorts;
  /** How far the office's clock is ahead of ours, ms: learnt when it complains, so that a wrong clock stops nothing. */
  #ahead = 0;

  constructor(ports: CourierPorts) {
    this.#ports = ports;
  }

  /** Asks, and gives the JSON of the answer. Throws OfficeError for a refusal, NoAnswer for everything else. */
  async ask<T>(method: SignedRequest['method'], path: string, parcel: Parcel | null = null): Promise<T> {
    const response = await this.stream(method, path, parcel);
    try {
      return (await response.json()) as T;
    } catch (error) {
      throw new NoAnswer(error);
    }
  }

  /** Asks, and gives the text of the answer. */
  async text(method: SignedRequest['method'], path: string): Promise<string> {
    const response = await this.stream(method, path, null);
    try {
      return await response.text();
    } catch (error) {
      throw new NoAnswer(error);
    }
  }

  /** Asks, and gives an answer that is good, its body still to be read. */
  async stream(method: SignedRequest['method'], path: string, parcel: Parcel | null): Promise<Response> {
    const response = await this.#send(method, path, parcel);
    if (response.ok) return response;
    const refusal = await refusalIn(response);
    const told = refusal.detail.now;
    if (refusal.code !== 'clock-off' || typeof told !== 'string') throw refusal;
    this.#ahead = Date.parse(told) - this.#ports.now();
    const again = await this.#send(method, path, parcel);
    if (again.ok) return again;
    throw await refusalIn(again);
  }

  async #send(method: SignedRequest['method'], path: string, parcel: Parcel | null): Promise<Response> {
    const { origin, office, key, now, fetch } = this.#ports;
    const body = bodyOf(parcel);
    const whole = `${API}${path}`;
    const request: SignedRequest = {
      method,
      path: whole,
      body: sha256Hex(body),
      at: toMoment(Math.trunc(now() + this.#ahead)),
      nonce: crypto.randomUUID(),
      office,
    };
    const authorization = `${SCHEME} ${await signData(request, await key())}`;
    const sent: Record<string, string> = parcel ? { 'Content-Type': parcel.type } : {};
    if (parcel && 'text' in parcel) sent['Content-Encoding'] = 'gzip';
    try {
      return await fetch(`${origin}${whole}`, {
        method,
        headers: { Authorization: authorization, ...sent },
        ...(parcel ? { body } : {}),
        cache: 'no-store',
        credentials: 'omit',
        redirect: 'error',
        signal: AbortSignal.timeout(PATIENCE_MS),
      });
    } catch (error) {
      throw new NoAnswer(error);
    }
  }
}

function bodyOf(parcel: Parcel | null): Uint8Array<ArrayBuffer> {
  if (!parcel) return new Uint8Array();
  return 'text' in parcel ? gzipSync(new TextEncoder().encode(parcel.text)) : new Uint8Array(parcel.bytes);
}

async function refusalIn(response: Response): Promise<OfficeError> {
  let answer: unknown;
  try {
    answer = await response.json();
  } catch (error) {
    throw new NoAnswer(error);
  }
  const { code, says: _, ...detail } = (answer ?? {}) as Record<string, string | number | null>;
  if (!isOfficeCode(code)) throw new NoAnswer(new Error(`Answer ${response.status}`));
  return new OfficeError(code, detail);
}
