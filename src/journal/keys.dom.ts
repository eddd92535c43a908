import { get } from 'idb-keyval';
import { exportJWK, generateKeyPair } from 'jose';
import { Database } from './database.dom.ts';
import { JournalError } from './fault.ts';
import type { SigningKey } from './seal.ts';
import { keyId, publicJwkOf } from './seal.ts';

const SLOT = 'device';

async function makeKey(): Promise<SigningKey> {
  try {
    const { privateKey, publicKey } = await generateKeyPair('ES256', { extractable: false });
    const publicJwk = publicJwkOf(await exportJWK(publicKey));
    return { privateKey, publicJwk, kid: await keyId(publicJwk) };
  } catch (error) {
    throw new JournalError('key-unusable', String(error), error);
  }
}

/**
 * The signing key of this device: made once, kept in the browser's database, and not extractable, so that it can sign
 * here and be copied nowhere. Clearing the site's data loses it; a new one must then be enrolled. Two windows that ask
 * at the same time get the same key. Throws JournalError `not-secure`, `key-unusable`, or those of the storage.
 */
export async function deviceKey(name = 'holdfast'): Promise<SigningKey> {
  if (!globalThis.crypto?.subtle) throw new JournalError('not-secure');
  const database = new Database(`${name}-key`, 'keys');
  try {
    const present = await get<SigningKey>(SLOT, database.use);
    if (present) return present;
    // Made before the transaction: awaiting anything else inside would end it.
    const made = await makeKey();
    return await database.use('readwrite', async (keys) => {
      const winner = await new Promise<SigningKey | undefined>((resolve, reject) => {
        const request = keys.get(SLOT);
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
      if (!winner) keys.add(made, SLOT);
      return winner ?? made;
    });
  } finally {
    database.close();
  }
}
