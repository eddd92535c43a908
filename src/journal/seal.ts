import type { CryptoKey, JWK } from 'jose';
import { base64url, CompactSign, calculateJwkThumbprint, compactVerify, importJWK } from 'jose';
import { COMPLETE, STOPPED } from '../procedure/definition.ts';
import { oneOf, record, type Wanted } from '../procedure/proof/wanted.ts';
import { canonicalBytes, canonicalText } from './canonical.ts';
import { JournalError } from './fault.ts';
import type { FindingCode } from './finding.ts';
import { toMoment } from './moment.ts';
import type { JournalRecord } from './record.ts';
import { HEX_64, matches, misfitIn, moment, plain, UUID, whole } from './shape.ts';
import { decodeUtf8 } from './utf8.ts';

/** What a seal says: this job has so many records, the last one has this hash, and so it ended. */
export interface SealPayload {
  readonly job: string;
  readonly count: number;
  readonly head: string;
  readonly outcome: typeof COMPLETE | typeof STOPPED;
  /** RFC 3339, UTC, milliseconds. */
  readonly sealedAt: string;
  /** Id of the person. */
  readonly sealedBy: string;
}

/** A public ES256 key (RFC 7517), its members in canonical order. */
export interface PublicJwk {
  readonly crv: 'P-256';
  readonly kty: 'EC';
  readonly x: string;
  readonly y: string;
}

/** A device's key: the private half cannot leave the browser, `kid` is the RFC 7638 thumbprint of the public half. */
export interface SigningKey {
  readonly privateKey: CryptoKey;
  readonly publicJwk: PublicJwk;
  readonly kid: string;
}

/** The public half of a key with only the members that count (RFC 7638, section 3.2). Throws `key-unusable`. */
export function publicJwkOf(jwk: JWK): PublicJwk {
  const { kty, crv, x, y } = jwk;
  if (kty !== 'EC' || crv !== 'P-256' || typeof x !== 'string' || typeof y !== 'string') {
    throw new JournalError('key-unusable', 'not a P-256 key');
  }
  return { crv: 'P-256', kty: 'EC', x, y };
}

/** RFC 7638 thumbprint (SHA-256, base64url): the name of a key. */
export const keyId = (jwk: PublicJwk): Promise<string> => calculateJwkThumbprint({ ...jwk });

/** What a seal over these records says. `sealedAt` in ms since 1970. Throws JournalError `not-finished` for an open job. */
export function sealPayload(
  records: readonly JournalRecord[],
  sealedAt: number,
  sealedBy: string,
): SealPayload {
  const last = records[records.length - 1];
  const outcome = last?.station;
  if (!last || (outcome !== COMPLETE && outcome !== STOPPED)) throw new JournalError('not-finished');
  const { job, hash: head } = last;
  return { job, count: records.length, head, outcome, sealedAt: toMoment(sealedAt), sealedBy };
}

/** Signs plain data: compact JWS (RFC 7515), ES256, over its RFC 8785 bytes; kid and public key in the header. */
export async function signData(data: unknown, key: SigningKey): Promise<string> {
  const { privateKey, publicJwk, kid } = key;
  try {
    return await new CompactSign(canonicalBytes(data))
      .setProtectedHeader({ alg: 'ES256', jwk: { ...publicJwk }, kid })
      .sign(privateKey);
  } catch (error) {
    throw new JournalError('key-unusable', String(error), error);
  }
}

/** Signs a seal: the JWS that closes a record file. */
export const signSeal = (payload: SealPayload, key: SigningKey): Promise<string> => signData(payload, key);

export interface OpenedData<T> {
  readonly payload: T;
  readonly kid: string;
}

export type OpenedSeal = OpenedData<SealPayload>;

export type Opening<T> =
  | { readonly opened: OpenedData<T>; readonly code?: never }
  | { readonly opened?: never; readonly code: FindingCode; readonly says: string };

export type SealOpening = Opening<SealPayload>;

const headerShape = record({
  alg: oneOf('ES256'),
  jwk: record({ crv: oneOf('P-256'), kty: oneOf('EC'), x: plain, y: plain }),
  kid: plain,
});

const payloadShape = record({
  job: matches(UUID, 'a UUID'),
  count: whole,
  head: matches(HEX_64, '64 hex digits'),
  outcome: oneOf(COMPLETE, STOPPED),
  sealedAt: moment,
  sealedBy: plain,
});

/** The JSON of one part of a JWS, and its exact bytes. A part has one spelling only: no loose bits, no padding. */
function partOf(encoded: string): { text: string; value: unknown } {
  const bytes = base64url.decode(encoded);
  if (base64url.encode(bytes) !== encoded) throw new Error('this base64url has a second spelling');
  const decoded = decodeUtf8(bytes);
  if (decoded === null) throw new Error('not UTF-8');
  return { text: decoded, value: JSON.parse(decoded) };
}

/** Takes a seal apart and checks its signature with the key that it carries. Never throws. */
export const openSeal = (jws: string): Promise<SealOpening> => openData<SealPayload>(jws, payloadShape);

/** Takes signed data apart, holds it against its shape and checks its signature with the key that it carries. Never throws. */
export async function openData<T>(jws: string, shape: Wanted): Promise<Opening<T>> {
  const unreadable = (why: string): Opening<T> => ({
    code: 'seal-unreadable',
    says: `The seal is not a compact JWS as this record needs it: ${why}.`,
  });
  let payload: T;
  let header: { jwk: PublicJwk; kid: string };
  try {
    const parts = jws.split('.');
    const [first = '', second = '', third = ''] = parts;
    if (parts.length !== 3) return unreadable(`it has ${parts.length} parts instead of 3`);
    const head = partOf(first);
    const body = partOf(second);
    const misfit = misfitIn(headerShape, head.value) ?? misfitIn(shape, body.value);
    if (misfit) return unreadable(misfit);
    if (canonicalText(head.value) !== head.text) return unreadable('its header is not in canonical form');
    if (canonicalText(body.value) !== body.text) return unreadable('its payload is not in canonical form');
    const signature = base64url.decode(third);
    if (signature.length !== 64 || base64url.encode(signature) !== third) {
      return unreadable('its signature is not the 64 bytes of R and S');
    }
    header = head.value as typeof header;
    payload = body.value as T;
  } catch (error) {
    return unreadable(error instanceof Error ? error.message : 'it cannot be decoded');
  }
  try {
    await compactVerify(jws, await importJWK({ ...header.jwk }, 'ES256'), { algorithms: ['ES256'] });
    const kid = await keyId(header.jwk);
    if (kid === header.kid) return { opened: { payload, kid } };
    const says = 'The key id of the seal is not the thumbprint of the key that it carries.';
    return { code: 'key-id-wrong', says };
  } catch {
    return { code: 'seal-broken', says: 'The signature of the seal does not fit what it signs.' };
  }
}
