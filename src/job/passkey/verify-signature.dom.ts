import { ALGORITHMS, type Algorithm, fromDer } from './signature.ts';

interface Way {
  readonly key: { readonly name: string; readonly namedCurve?: string; readonly hash?: string };
  readonly sign: { readonly name: string; readonly hash?: string };
}

/** How Web Crypto calls them. */
const WAYS: Readonly<Record<Algorithm, Way>> = {
  [ALGORITHMS.ES256]: {
    key: { name: 'ECDSA', namedCurve: 'P-256' },
    sign: { name: 'ECDSA', hash: 'SHA-256' },
  },
  [ALGORITHMS.EdDSA]: { key: { name: 'Ed25519' }, sign: { name: 'Ed25519' } },
  [ALGORITHMS.RS256]: {
    key: { name: 'RSASSA-PKCS1-v1_5', hash: 'SHA-256' },
    sign: { name: 'RSASSA-PKCS1-v1_5' },
  },
};

/** `publicKey`: SubjectPublicKeyInfo, DER. False for a signature that does not fit, and for a key that is none. */
export async function signatureFits(
  publicKey: Uint8Array<ArrayBuffer>,
  alg: Algorithm,
  signature: Uint8Array<ArrayBuffer>,
  signed: Uint8Array<ArrayBuffer>,
): Promise<boolean> {
  const { key, sign } = WAYS[alg];
  const plain = alg === ALGORITHMS.ES256 ? fromDer(signature) : signature;
  if (!plain) return false;
  try {
    const imported = await crypto.subtle.importKey('spki', publicKey, key, false, ['verify']);
    return await crypto.subtle.verify(sign, imported, plain, signed);
  } catch {
    return false;
  }
}
