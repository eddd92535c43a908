import fc from 'fast-check';
import { beforeAll, expect, test } from 'vitest';
import { readRecordFile } from '../../src/journal/file.ts';
import { verifyFile } from '../../src/journal/verify.ts';
import { makeKey, play, sealed, wholeJob } from './play.ts';

let good: Uint8Array<ArrayBuffer>;
let options: Parameters<typeof verifyFile>[1];
beforeAll(async () => {
  const key = await makeKey();
  good = new TextEncoder().encode(await sealed(play(wholeJob), key));
  options = { keys: { keys: [{ ...key.publicJwk }] }, prove: () => [] };
});

test('any one byte changed in any way is found', async () => {
  await fc.assert(
    fc.asyncProperty(fc.nat(good.length - 1), fc.integer({ min: 1, max: 255 }), async (place, change) => {
      const bad = good.slice();
      bad[place] = (bad[place] ?? 0) ^ change;
      expect((await verifyFile(bad, options)).holds).toBe(false);
    }),
    { numRuns: 250 },
  );
}, 60_000);

test('every bit of the end of the seal counts, the loose bits of base64url included', async () => {
  for (let place = good.length - 8; place < good.length; place++) {
    for (let bit = 0; bit < 8; bit++) {
      const bad = good.slice();
      bad[place] = (bad[place] ?? 0) ^ (1 << bit);
      expect((await verifyFile(bad, options)).holds, `byte ${place}, bit ${bit}`).toBe(false);
    }
  }
}, 60_000);

test('the file cut anywhere is found', async () => {
  await fc.assert(
    fc.asyncProperty(fc.nat(good.length - 1), async (length) => {
      expect((await verifyFile(good.subarray(0, length), options)).holds).toBe(false);
    }),
    { numRuns: 60 },
  );
}, 60_000);

test('what is read is what was written', () => {
  const { records, seal, findings } = readRecordFile(good);
  expect(findings).toEqual([]);
  expect(records).toHaveLength(play(wholeJob).length);
  expect(seal?.split('.')).toHaveLength(3);
});

test('noise of any kind is refused and nothing throws', async () => {
  const noise = fc.oneof(
    fc.uint8Array({ maxLength: 200 }),
    fc.json().map((text) => `${text}\n`),
    fc.string({ unit: 'binary', maxLength: 200 }),
  );
  await fc.assert(
    fc.asyncProperty(noise, async (content) => {
      expect((await verifyFile(content)).holds).toBe(false);
    }),
    { numRuns: 500 },
  );
});
