import { mkdir, readFile, rename, writeFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { exportJWK, generateKeyPair, importJWK, type JWK } from 'jose';
import { keyId, publicJwkOf, type SigningKey } from '../journal/seal.ts';

/**
 * The office's own key, ES256: what comes down to the benches is signed with it. Made once, kept in a file that only the
 * office's user can read. Whoever loses it must enrol every bench anew: keep a copy where backups are kept.
 */
export async function officeKey(path: string): Promise<SigningKey> {
  const jwk = (await keptKey(path)) ?? (await newKey(path));
  const key = await importJWK(jwk, 'ES256');
  if (key instanceof Uint8Array) throw new Error(`${path} holds no ES256 key.`);
  const publicJwk = publicJwkOf(jwk);
  return { privateKey: key, publicJwk, kid: await keyId(publicJwk) };
}

async function keptKey(path: string): Promise<JWK | null> {
  try {
    return JSON.parse(await readFile(path, 'utf8')) as JWK;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw new Error(
      `The office's key in ${path} cannot be read: put back the copy of it, do not make a new one.`,
      {
        cause: error,
      },
    );
  }
}

async function newKey(path: string): Promise<JWK> {
  const { privateKey } = await generateKeyPair('ES256', { extractable: true });
  const jwk = await exportJWK(privateKey);
  await mkdir(dirname(path), { recursive: true });
  // Whole or not at all: half a key would be worse than none.
  await writeFile(`${path}.new`, JSON.stringify(jwk), { mode: 0o600 });
  await rename(`${path}.new`, path);
  return jwk;
}
