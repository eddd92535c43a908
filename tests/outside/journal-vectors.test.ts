import { base64url, compactVerify, importJWK } from 'jose';
import { describe, expect, test } from 'vitest';
import { canonicalBytes, canonicalText } from '../../src/journal/canonical.ts';
import { hashOf, sha256Hex } from '../../src/journal/hash.ts';
import { fromMoment, toMoment } from '../../src/journal/moment.ts';
import { keyId, openSeal, publicJwkOf, sealPayload, signSeal } from '../../src/journal/seal.ts';
import { makeKey, play, wholeJob } from '../journal/play.ts';

const utf8 = (text: string) => new TextEncoder().encode(text);

describe('SHA-256: examples of FIPS 180-4 (document from memory; values as printed in public test suites)', () => {
  test.each([
    ['', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
    ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
    [
      'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
      '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
    ],
    ['a'.repeat(1_000_000), 'cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0'],
  ])('%.20s', (text, hash) => expect(sha256Hex(utf8(text))).toBe(hash));
});

const double = (bits: string) => new DataView(Uint8Array.from(Buffer.from(bits, 'hex')).buffer).getFloat64(0);

describe('RFC 8785, appendix B: numbers', () => {
  test.each([
    ['0000000000000000', '0'],
    ['8000000000000000', '0'],
    ['0000000000000001', '5e-324'],
    ['8000000000000001', '-5e-324'],
    ['7fefffffffffffff', '1.7976931348623157e+308'],
    ['ffefffffffffffff', '-1.7976931348623157e+308'],
    ['4340000000000000', '9007199254740992'],
    ['c340000000000000', '-9007199254740992'],
    ['4430000000000000', '295147905179352830000'],
    ['44b52d02c7e14af5', '9.999999999999997e+22'],
    ['44b52d02c7e14af6', '1e+23'],
    ['44b52d02c7e14af7', '1.0000000000000001e+23'],
    ['444b1ae4d6e2ef4e', '999999999999999700000'],
    ['444b1ae4d6e2ef4f', '999999999999999900000'],
    ['444b1ae4d6e2ef50', '1e+21'],
    ['3eb0c6f7a0b5ed8c', '9.999999999999997e-7'],
    ['3eb0c6f7a0b5ed8d', '0.000001'],
    ['41b3de4355555553', '333333333.3333332'],
    ['41b3de4355555554', '333333333.33333325'],
    ['41b3de4355555555', '333333333.3333333'],
    ['41b3de4355555556', '333333333.3333334'],
    ['41b3de4355555557', '333333333.33333343'],
    ['becbf647612f3696', '-0.0000033333333333333333'],
    ['43143ff3c1cb0959', '1424953923781206.2'],
  ])('%s is %s', (bits, text) => expect(canonicalText(double(bits))).toBe(text));

  test.each(['7fffffffffffffff', '7ff0000000000000', 'fff0000000000000'])('%s is refused', (bits) => {
    expect(() => canonicalText(double(bits))).toThrow(expect.objectContaining({ code: 'not-json' }));
  });
});

describe('RFC 8785, section 3.2 (3.2.2 as in public test vectors; 3.2.3 from memory)', () => {
  test('3.2.2, sample object: text and the SHA-256 of its 118 bytes', () => {
    const sample = JSON.parse(`{
      "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
      "string": "\\u20ac$\\u000F\\u000aA'\\u0042\\u0022\\u005c\\\\\\"\\/",
      "literals": [null, true, false]
    }`);
    const text =
      '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}';
    expect(canonicalText(sample)).toBe(text);
    expect(canonicalBytes(sample)).toHaveLength(118);
    expect(hashOf(sample)).toBe('2d5e01a318d0f0879ab568c4be289c8b1f64ef8921a53c6277d5e069978baacb');
  });

  test('3.2.3, keys are sorted by UTF-16 units', () => {
    const keys = ['\u20ac', '\r', '\ufb33', '1', '\u{1f600}', '\u0080', '\u00f6'];
    const sorted = Object.keys(JSON.parse(canonicalText(Object.fromEntries(keys.map((key) => [key, 0])))));
    // A JavaScript object puts "1" first whatever its text says: look at the text.
    const text = canonicalText(Object.fromEntries(keys.map((key) => [key, 0])));
    const order = ['\r', '1', '\u0080', '\u00f6', '\u20ac', '\u{1f600}', '\ufb33'];
    expect(sorted.toSorted()).toEqual(order.toSorted());
    expect(text).toBe(`{${order.map((key) => `${JSON.stringify(key)}:0`).join()}}`);
  });
});

const rfc7515 = {
  jwk: {
    kty: 'EC',
    crv: 'P-256',
    x: 'f83OJ3D2xF1Bg8vub9tLe1gHMzV76e8Tus9uPHvRVEU',
    y: 'x_FEzRu9m36HLN_tue659LNpXW6pCyStikYjKIWI5a0',
  },
  header: 'eyJhbGciOiJFUzI1NiJ9',
  payload: 'eyJpc3MiOiJqb2UiLA0KICJleHAiOjEzMDA4MTkzODAsDQogImh0dHA6Ly9leGFtcGxlLmNvbS9pc19yb290Ijp0cnVlfQ',
  signature: 'DtEhU3ljbEg8L38VWAfUAqOyKAM6-Xx-F4GawxaepmXFCgfTjDxw5djxLa8ISlSApmWQxfKTUJqPP3-Kg6NU1Q',
};

describe('RFC 7515, appendix A.3: ES256', () => {
  const { jwk, header, payload, signature } = rfc7515;
  const verified = async (jws: string) => compactVerify(jws, await importJWK(jwk, 'ES256'));

  test('the published signature verifies, and not over another payload', async () => {
    await expect(verified(`${header}.${payload}.${signature}`)).resolves.toBeTruthy();
    await expect(verified(`${header}.${payload.replace('J', 'K')}.${signature}`)).rejects.toThrow();
  });

  test('as a seal it is refused: it lacks the key, and says nothing about a record', async () => {
    expect((await openSeal(`${header}.${payload}.${signature}`)).code).toBe('seal-unreadable');
  });

  test('RFC 7638 thumbprint of that key: by jose, and by the rule of section 3 with our own SHA-256', async () => {
    expect(await keyId(publicJwkOf(jwk))).toBe('oKIywvGUpTVTyxMQ3bwIIeQUudfr_CkLMjCE19ECD-U');
    expect(hashOf(jwk)).toBe(
      Buffer.from('oKIywvGUpTVTyxMQ3bwIIeQUudfr_CkLMjCE19ECD-U', 'base64url').toString('hex'),
    );
  });
});

describe('our own seal by the rules of RFC 7515 and RFC 7518', () => {
  test('is taken by a plain JOSE library; R and S in DER (RFC 7518, 3.4 asks for 64 bytes) are refused', async () => {
    const key = await makeKey();
    const seal = await signSeal(sealPayload(play(wholeJob), 1_795_000_900_000, 'cyd'), key);
    const { payload, protectedHeader } = await compactVerify(
      seal,
      await importJWK({ ...key.publicJwk }, 'ES256'),
    );
    expect(protectedHeader).toEqual({ alg: 'ES256', kid: key.kid, jwk: key.publicJwk });
    expect(new TextDecoder().decode(payload)).toBe(
      canonicalText(JSON.parse(new TextDecoder().decode(payload))),
    );
    expect((await openSeal(seal)).opened?.kid).toBe(key.kid);

    const [header, body, signature = ''] = seal.split('.');
    const raw = base64url.decode(signature);
    const part = (bytes: Uint8Array) => {
      const signed = (bytes[0] ?? 0) > 0x7f ? [0, ...bytes] : [...bytes];
      return [0x02, signed.length, ...signed];
    };
    const inner = [...part(raw.subarray(0, 32)), ...part(raw.subarray(32))];
    const der = base64url.encode(Uint8Array.from([0x30, inner.length, ...inner]));
    expect((await openSeal(`${header}.${body}.${der}`)).code).toBe('seal-unreadable');
  });
});

describe('RFC 3339, section 5.8: of its examples none is in the one form that records use', () => {
  test.each([
    '1985-04-12T23:20:50.52Z',
    '1996-12-19T16:39:57-08:00',
    '1990-12-31T23:59:60Z',
    '1990-12-31T15:59:60-08:00',
    '1937-01-01T12:00:27.87+00:20',
  ])('%s', (text) => expect(fromMoment(text)).toBeNull());

  test('1996-12-19T16:39:57-08:00 is 1996-12-20T00:39:57Z', () => {
    expect(toMoment(Date.parse('1996-12-19T16:39:57-08:00'))).toBe('1996-12-20T00:39:57.000Z');
  });
});
