import { readFile, writeFile } from 'node:fs/promises';
import { exportJWK, generateKeyPair, importJWK, type JWK } from 'jose';
import { keyId, publicJwkOf, type SigningKey } from '../journal/seal.ts';
import { Unreadable } from './load-procedure.ts';

/** An author's key as it lies on their disk: a private JWK (RFC 7517) that also says whose it is. */
export interface AuthorKey {
  readonly key: SigningKey;
  readonly name: string | null;
}

/** Reads a private ES256 key. Throws Unreadable. */
export async function readKeyFile(file: string): Promise<AuthorKey> {
  const text = await readFile(file, 'utf8').catch(() => {
    throw new Unreadable('the key cannot be read: check its name, or make one with --new-key.');
  });
  try {
    const jwk = JSON.parse(text) as JWK & { name?: unknown };
    if (typeof jwk.d !== 'string') throw new Error('no private half');
    const publicJwk = publicJwkOf(jwk);
    const privateKey = await importJWK({ ...publicJwk, d: jwk.d }, 'ES256');
    if (privateKey instanceof Uint8Array) throw new Error('a secret, not a key pair');
    const name = typeof jwk.name === 'string' && jwk.name.trim() !== '' ? jwk.name : null;
    return { key: { privateKey, publicJwk, kid: await keyId(publicJwk) }, name };
  } catch {
    throw new Unreadable('this is no private P-256 key as a JWK: make one with --new-key.');
  }
}

/** Makes a key and writes it where nothing is yet, for its owner's eyes only. Throws Unreadable. */
export async function makeKeyFile(file: string, name: string): Promise<string> {
  const { privateKey } = await generateKeyPair('ES256', { extractable: true });
  const jwk = await exportJWK(privateKey);
  const text = `${JSON.stringify({ name, ...jwk }, null, 2)}\n`;
  await writeFile(file, text, { mode: 0o600, flag: 'wx' }).catch(() => {
    throw new Unreadable('the key cannot be written there: is there a file of that name already?');
  });
  return keyId(publicJwkOf(jwk));
}
