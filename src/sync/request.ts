import { matches, moment, plain } from '../journal/shape.ts';
import { oneOf, record } from '../procedure/proof/wanted.ts';

/**
 * What a device signs with each request (compact JWS, ES256, as a seal is signed): which request it is, and when. Nobody
 * who only carries it can make another of it: the body is bound by its hash, the address with its question by `path`, the
 * office by its key's name.
 */
export interface SignedRequest {
  readonly method: string;
  /** With the part after the question mark. */
  readonly path: string;
  /** SHA-256 of the body as it travels, lower-case hex; of no bytes when there is none. */
  readonly body: string;
  /** RFC 3339, UTC, milliseconds, by the clock that the office told. */
  readonly at: string;
  /** Never the same twice. */
  readonly nonce: string;
  /** RFC 7638 thumbprint of the office's key; empty while enrolling, when it is not known yet. */
  readonly office: string;
}

export const requestShape = record({
  method: oneOf('GET', 'POST', 'PUT'),
  path: plain,
  body: matches(/^[0-9a-f]{64}$/, '64 hex digits'),
  at: moment,
  nonce: matches(/^[0-9A-Za-z_-]{16,64}$/, 'a nonce of 16 to 64 signs'),
  office: plain,
});

/** The word before the JWS in the Authorization header. */
export const SCHEME = 'Holdfast';
