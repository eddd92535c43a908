import { createHash, createSign, generateKeyPairSync } from 'node:crypto';
import fc from 'fast-check';
import { base64url } from 'jose';
import { describe, expect, test } from 'vitest';
import { waitAfter } from '../../src/job/back-off.ts';
import { type Asked, MOST_AGE_MS, readAnswer, wentBack } from '../../src/job/passkey/answer.ts';
import { readAuthenticatorData } from '../../src/job/passkey/authenticator-data.ts';
import { isFailure, passkeySentence } from '../../src/job/passkey/fault.ts';
import { fromDer } from '../../src/job/passkey/signature.ts';

const UP = 0x01;
const UV = 0x04;
const BE = 0x08;
const BS = 0x10;

/** Authenticator data as an authenticator makes it. */
function dataOf(over: { rpId?: string; flags?: number; count?: number; rest?: number[] } = {}): Uint8Array {
  const { rpId = 'bench.example', flags = UP | UV, count = 7, rest = [] } = over;
  const counter = new DataView(new ArrayBuffer(4));
  counter.setUint32(0, count);
  return Uint8Array.from([
    ...createHash('sha256').update(rpId).digest(),
    flags,
    ...new Uint8Array(counter.buffer),
    ...rest,
  ]);
}

const asked: Asked = {
  type: 'webauthn.get',
  challenge: base64url.encode(Uint8Array.from({ length: 32 }, (_, n) => n)),
  origin: 'https://bench.example',
  rpId: 'bench.example',
  age: 2000,
};
const client = (over: Record<string, unknown> = {}) =>
  new TextEncoder().encode(
    JSON.stringify({
      type: asked.type,
      challenge: asked.challenge,
      origin: asked.origin,
      crossOrigin: false,
      ...over,
    }),
  );
const code = (clientData: Uint8Array, data: Uint8Array, over: Partial<Asked> = {}) =>
  readAnswer(clientData, data, { ...asked, ...over }).code;

describe('an answer', () => {
  test('that says all it must is taken, with its counter', () => {
    const read = readAnswer(client(), dataOf(), asked);
    expect(read).toMatchObject({ data: { signCount: 7, userVerified: true, credentialId: null } });
    expect(code(client(), dataOf({ flags: UP | UV | BE | BS }))).toBeUndefined();
  });

  test.each<[string, Uint8Array, Uint8Array, Partial<Asked>, string]>([
    ['to another challenge', client({ challenge: 'AAAA' }), dataOf(), {}, 'passkey-stale'],
    ['without a challenge', client({ challenge: undefined }), dataOf(), {}, 'passkey-stale'],
    ['that comes too late', client(), dataOf(), { age: MOST_AGE_MS + 1 }, 'passkey-stale'],
    ['from before the question', client(), dataOf(), { age: -1 }, 'passkey-stale'],
    [
      'of another origin',
      client({ origin: 'https://bench.example.evil' }),
      dataOf(),
      {},
      'passkey-elsewhere',
    ],
    [
      'of the origin by another scheme',
      client({ origin: 'http://bench.example' }),
      dataOf(),
      {},
      'passkey-elsewhere',
    ],
    ['of a page inside another', client({ crossOrigin: true }), dataOf(), {}, 'passkey-elsewhere'],
    [
      'that names a page around it',
      client({ topOrigin: 'https://x.example' }),
      dataOf(),
      {},
      'passkey-elsewhere',
    ],
    ['for another RP', client(), dataOf({ rpId: 'other.example' }), {}, 'passkey-elsewhere'],
    ['of an enrolment', client({ type: 'webauthn.create' }), dataOf(), {}, 'passkey-unreadable'],
    ['without a person present', client(), dataOf({ flags: UV }), {}, 'passkey-unverified'],
    ['without a person verified', client(), dataOf({ flags: UP }), {}, 'passkey-unverified'],
    ['backed up and not fit for it', client(), dataOf({ flags: UP | UV | BS }), {}, 'passkey-unreadable'],
    ['that is no JSON', new TextEncoder().encode('{'), dataOf(), {}, 'passkey-unreadable'],
    ['that is null', new TextEncoder().encode('null'), dataOf(), {}, 'passkey-unreadable'],
    ['that is no UTF-8', Uint8Array.of(0x22, 0xff, 0x22), dataOf(), {}, 'passkey-unreadable'],
    ['with data cut short', client(), dataOf().slice(0, 36), {}, 'passkey-unreadable'],
    ['with data that goes on', client(), dataOf({ rest: [0] }), {}, 'passkey-unreadable'],
  ])('%s is refused', (_, clientData, data, over, wanted) => {
    expect(code(clientData, data, over)).toBe(wanted);
  });

  test('whatever the bytes, authenticator data are read or refused, never an exception', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), (bytes) => {
        const read = readAuthenticatorData(bytes);
        if (bytes.length < 37) expect(read).toBeNull();
        if (read?.credentialId) expect(read.credentialId.length).toBeLessThan(bytes.length - 54);
      }),
    );
  });
});

test('the counter must go up, unless there is none', () => {
  expect(wentBack(0, 0)).toBe(false);
  expect(wentBack(0, 1)).toBe(false);
  expect(wentBack(5, 6)).toBe(false);
  expect(wentBack(5, 5)).toBe(true);
  expect(wentBack(5, 4)).toBe(true);
  expect(wentBack(5, 0)).toBe(true);
});

describe('signatures', () => {
  const { privateKey } = generateKeyPairSync('ec', { namedCurve: 'P-256' });
  const sign = (text: string, dsaEncoding: 'der' | 'ieee-p1363') =>
    createSign('sha256').update(text).sign({ key: privateKey, dsaEncoding });

  test('R and S of DER are the 64 bytes that they stand for, whatever zeros they begin with', () => {
    // The way there, written down a second time: each number with the zero in front that keeps it positive.
    const integer = (bytes: Uint8Array) => {
      let from = 0;
      while (from < bytes.length - 1 && bytes[from] === 0) from++;
      const plain = [...bytes.subarray(from)];
      const digits = (plain[0] ?? 0) >= 0x80 ? [0, ...plain] : plain;
      return [0x02, digits.length, ...digits];
    };
    fc.assert(
      fc.property(
        fc.uint8Array({ minLength: 64, maxLength: 64 }),
        fc.integer({ min: 0, max: 31 }),
        (both, zeros) => {
          both.fill(0, 0, zeros);
          const body = [...integer(both.subarray(0, 32)), ...integer(both.subarray(32))];
          const der = Uint8Array.from([0x30, body.length, ...body]);
          expect(fromDer(der)).toEqual(both);
          expect(fromDer(Uint8Array.from([...der, 0]))).toBeNull();
          expect(fromDer(der.subarray(0, -1))).toBeNull();
        },
      ),
    );
  });

  test('what another program signs is DER that is read', () => {
    for (let n = 0; n < 50; n++) expect(fromDer(sign(`text ${n}`, 'der'))).toHaveLength(64);
    expect(fromDer(sign('text', 'ieee-p1363'))).toBeNull();
  });

  test.each([
    ['a negative number', '3006020180020101'],
    ['a zero too many', '300702020001020101'],
    ['an empty number', '30050200020101'],
    ['one number only', '3003020101'],
  ])('%s is no DER of a signature', (_, hex) => {
    expect(fromDer(Uint8Array.from(Buffer.from(hex, 'hex')))).toBeNull();
  });
});

test('a wrong answer slows further tries down as a wrong PIN does; to have shown nothing does not', () => {
  expect([0, 1, 2, 3, 4, 5, 20].map(waitAfter)).toEqual([0, 0, 0, 5000, 10_000, 20_000, 900_000]);
  expect(isFailure('passkey-stale')).toBe(true);
  expect(isFailure('passkey-copied')).toBe(true);
  expect(isFailure('passkey-cancelled')).toBe(false);
  expect(isFailure('passkey-unknown')).toBe(false);
  expect(passkeySentence('passkey-cancelled')).toMatch(/^[A-Z].*\.$/);
});
