/** COSE algorithm numbers (IANA COSE registry) that are taken, the preferred one first. */
export const ALGORITHMS = { ES256: -7, EdDSA: -8, RS256: -257 } as const;

export type Algorithm = (typeof ALGORITHMS)[keyof typeof ALGORITHMS];

export const isAlgorithm = (alg: number): alg is Algorithm =>
  Object.values(ALGORITHMS).some((known) => known === alg);

const SEQUENCE = 0x30;
const INTEGER = 0x02;

/** One DER INTEGER of a signature as 32 bytes, and what follows it; null when it is no positive integer of that size. */
function integerAt(bytes: Uint8Array, at: number): { value: Uint8Array; next: number } | null {
  const length = bytes[at + 1] ?? 0;
  const next = at + 2 + length;
  if (bytes[at] !== INTEGER || length === 0 || length > 33 || next > bytes.length) return null;
  const digits = bytes.subarray(at + 2, next);
  const [first = 0, second = 0] = digits;
  // DER: no negative number, and no zero in front but the one that keeps the number positive.
  if (first >= 0x80 || (first === 0 && length > 1 && second < 0x80)) return null;
  const plain = first === 0 ? digits.subarray(1) : digits;
  if (plain.length > 32) return null;
  const value = new Uint8Array(32);
  value.set(plain, 32 - plain.length);
  return { value, next };
}

/**
 * An ECDSA signature on P-256 from the DER form that authenticators give (Ecdsa-Sig-Value of RFC 3279, section 2.2.3) to
 * the 64 bytes R‖S that Web Crypto takes. Null for what is not DER.
 */
export function fromDer(bytes: Uint8Array): Uint8Array<ArrayBuffer> | null {
  if (bytes[0] !== SEQUENCE || bytes[1] !== bytes.length - 2) return null;
  const r = integerAt(bytes, 2);
  const s = r && integerAt(bytes, r.next);
  if (!r || !s || s.next !== bytes.length) return null;
  const both = new Uint8Array(64);
  both.set(r.value, 0);
  both.set(s.value, 32);
  return both;
}
