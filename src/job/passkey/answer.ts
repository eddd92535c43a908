import { bytesToHex, concatBytes, sha256, utf8ToBytes } from '../../journal/bytes.ts';
import { decodeUtf8 } from '../../journal/utf8.ts';
import { type AuthenticatorData, readAuthenticatorData } from './authenticator-data.ts';
import type { PasskeyCode } from './fault.ts';

/*
 * What an answer of an authenticator must say before it counts: Web Authentication, Level 3, sections 7.1 (enrolment) and
 * 7.2 (sign-on), steps that concern a page without a server: it asks, and it verifies.
 */

/** What was asked, and where. */
export interface Asked {
  readonly type: 'webauthn.create' | 'webauthn.get';
  /** base64url, as the browser writes it into the answer. */
  readonly challenge: string;
  /** Origin of the page, such as https://bench.example. */
  readonly origin: string;
  readonly rpId: string;
  /** Time from the question to the answer, ms. */
  readonly age: number;
}

/** A question that was asked so long ago is not answered any more, ms. */
export const MOST_AGE_MS = 120_000;

export type Read<T> = ({ readonly code?: never } & T) | { readonly code: PasskeyCode };

function clientDataFault(bytes: Uint8Array, asked: Asked): PasskeyCode | null {
  let data: unknown;
  try {
    data = JSON.parse(decodeUtf8(bytes) ?? '');
  } catch {
    return 'passkey-unreadable';
  }
  if (typeof data !== 'object' || data === null) return 'passkey-unreadable';
  const { type, challenge, origin, crossOrigin, topOrigin } = data as Record<string, unknown>;
  if (type !== asked.type) return 'passkey-unreadable';
  if (challenge !== asked.challenge || asked.age > MOST_AGE_MS || asked.age < 0) return 'passkey-stale';
  // The app is never shown inside another page.
  if (origin !== asked.origin || crossOrigin === true || topOrigin !== undefined) return 'passkey-elsewhere';
  return null;
}

/** Client data and authenticator data of an answer, with all that both kinds of answer must say. */
export function readAnswer(
  clientData: Uint8Array,
  authenticatorData: Uint8Array,
  asked: Asked,
): Read<{ readonly data: AuthenticatorData }> {
  const fault = clientDataFault(clientData, asked);
  if (fault) return { code: fault };
  const data = readAuthenticatorData(authenticatorData);
  if (!data) return { code: 'passkey-unreadable' };
  if (data.rpIdHash !== bytesToHex(sha256(utf8ToBytes(asked.rpId)))) return { code: 'passkey-elsewhere' };
  if (!data.userPresent || !data.userVerified) return { code: 'passkey-unverified' };
  // Backed up without being fit for it: no authenticator says so.
  if (data.backedUp && !data.backupEligible) return { code: 'passkey-unreadable' };
  return { data };
}

/** What the authenticator signed: its data, then SHA-256 of the client data. */
export const signedBytes = (clientData: Uint8Array, authenticatorData: Uint8Array): Uint8Array<ArrayBuffer> =>
  Uint8Array.from(concatBytes(authenticatorData, sha256(clientData)));

/** Did the counter go back, or stand still, against the one that is kept? An authenticator without one always says 0. */
export const wentBack = (kept: number, now: number): boolean => (kept !== 0 || now !== 0) && now <= kept;
