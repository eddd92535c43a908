import { afterEach, expect, test } from 'vitest';
import { deviceKey } from '../../src/journal/keys.dom.ts';
import { verifyFile } from '../../src/journal/verify.ts';
import { play, sealed, wholeJob } from '../journal/play.ts';

const names: string[] = [];
const fresh = () => {
  const name = `test-${crypto.randomUUID()}`;
  names.push(name);
  return name;
};

afterEach(async () => {
  for (const name of names.splice(0)) {
    await new Promise((resolve) => {
      indexedDB.deleteDatabase(`${name}-key`).onsuccess = resolve;
    });
  }
});

test('the key is made once, also when two windows ask at the same time, and stays', async () => {
  const name = fresh();
  const [one, two] = await Promise.all([deviceKey(name), deviceKey(name)]);
  expect(one.kid).toMatch(/^[\w-]{43}$/);
  expect(two.kid).toBe(one.kid);
  expect((await deviceKey(name)).kid).toBe(one.kid);
  expect((await deviceKey(fresh())).kid).not.toBe(one.kid);
});

test('the private half cannot leave the browser', async () => {
  const { privateKey } = await deviceKey(fresh());
  expect(privateKey).toMatchObject({ type: 'private', extractable: false, usages: ['sign'] });
  await expect(crypto.subtle.exportKey('jwk', privateKey as CryptoKey)).rejects.toThrow();
  await expect(crypto.subtle.exportKey('pkcs8', privateKey as CryptoKey)).rejects.toThrow();
});

test('a record sealed with it verifies here', async () => {
  const key = await deviceKey(fresh());
  const file = await sealed(play(wholeJob), key);
  const report = await verifyFile(file, { keys: { keys: [{ ...key.publicJwk }] } });
  expect(report.findings).toEqual([]);
  expect(report.record?.kid).toBe(key.kid);
});
