import { bytesToHex, hexToBytes } from '@noble/hashes/utils.js';
import { base64url } from 'jose';
import { beforeAll, describe, expect, test } from 'vitest';
import { type Asked, readAnswer, signedBytes } from '../../src/job/passkey/answer.ts';
import { readAuthenticatorData } from '../../src/job/passkey/authenticator-data.ts';
import { ALGORITHMS, type Algorithm, fromDer } from '../../src/job/passkey/signature.ts';
import { signatureFits } from '../../src/job/passkey/verify-signature.dom.ts';

/*
 * Test vectors of Web Authentication, Level 3 (W3C), section 16: 16.2 ES256, 16.4 the same with "crossOrigin", 16.10 RS256,
 * 16.11 Ed25519, with the RP ID example.org. The values were opened as quoted, with their anchors, in a public test suite;
 * the document itself was not.
 */

interface Vector {
  readonly name: string;
  readonly alg: Algorithm;
  readonly jwk: () => JsonWebKey;
  readonly importAs: EcKeyImportParams | RsaHashedImportParams | { name: string };
  readonly challenge: string;
  readonly authenticatorData: string;
  readonly clientData: string;
  readonly signature: string;
  /** What this bench makes of it: the vectors are of authenticators that verified nobody, or of a page inside another. */
  readonly verdict: string;
}

const ORIGIN = 'https://example.org';
const RP_ID_HASH = 'bfabc37432958b063360d3ad6461c9c4735ae7f8edd46592a5e0f01452b2e4b5';
const b64 = (hex: string) => base64url.encode(hexToBytes(hex));
const P256 = { name: 'ECDSA', namedCurve: 'P-256' };
const ec = (x: string, y: string) => (): JsonWebKey => ({ kty: 'EC', crv: 'P-256', x: b64(x), y: b64(y) });
/** The modulus of the RS256 vector: the product of the Mersenne primes of 1279 and 2203 bits. */
function modulus(): string {
  const hex = ((2n ** 1279n - 1n) * (2n ** 2203n - 1n)).toString(16);
  return hex.length % 2 === 0 ? hex : `0${hex}`;
}

const vectors: readonly Vector[] = [
  {
    name: '16.2 ES256',
    alg: ALGORITHMS.ES256,
    importAs: P256,
    jwk: ec(
      'afefa16f97ca9b2d23eb86ccb64098d20db90856062eb249c33a9b672f26df61',
      '930a56b87a2fca66334b03458abf879717c12cc68ed73290af2e2664796b9220',
    ),
    challenge: '39c0e7521417ba54d43e8dc95174f423dee9bf3cd804ff6d65c857c9abf4d408',
    authenticatorData: `${RP_ID_HASH}1900000000`,
    clientData:
      '7b2274797065223a22776562617574686e2e676574222c226368616c6c656e6765223a224f63446e55685158756c5455506f334a5558543049393770767a7a59425039745a63685879617630314167222c226f726967696e223a2268747470733a2f2f6578616d706c652e6f7267222c2263726f73734f726967696e223a66616c73657d',
    signature:
      '3046022100f50a4e2e4409249c4a853ba361282f09841df4dd4547a13a87780218deffcd380221008480ac0f0b93538174f575bf11a1dd5d78c6e486013f937295ea13653e331e87',
    verdict: 'passkey-unverified',
  },
  {
    name: '16.4 ES256 with crossOrigin',
    alg: ALGORITHMS.ES256,
    importAs: P256,
    jwk: ec(
      '22200a473f90b11078851550d03b4e44a2279f8c4eca27b3153dedfe03e4e97d',
      'cbd0be95e746ad6f5a8191be11756e4c0420e72f65b466d39bc56b8b123a9c6e',
    ),
    challenge: '876aa517ba83fdee65fcffdbca4c84eeae5d54f8041a1fc85c991e5bbb273137',
    authenticatorData: `${RP_ID_HASH}0500000000`,
    clientData:
      '7b2274797065223a22776562617574686e2e676574222c226368616c6c656e6765223a226832716c463771445f65356c5f505f62796b7945377135645650674547685f49584a6b655737736e4d5463222c226f726967696e223a2268747470733a2f2f6578616d706c652e6f7267222c2263726f73734f726967696e223a747275652c22657874726144617461223a22636c69656e74446174614a534f4e206d617920626520657874656e6465642077697468206164646974696f6e616c206669656c647320696e20746865206675747572652c207375636820617320746869733a2039327063545644304162792d713464746d6a36656667227d',
    signature:
      '3046022100eb12fcf23b12764c0f122e22371fab92e283879fd798f38ee1841c951b6e40e7022100c76237ff9db77b3c56f30837cda6a09acfa2e915544e609c0733b1184036d1cf',
    verdict: 'passkey-elsewhere',
  },
  {
    name: '16.10 RS256',
    alg: ALGORITHMS.RS256,
    importAs: { name: 'RSASSA-PKCS1-v1_5', hash: 'SHA-256' },
    jwk: () => ({ kty: 'RSA', n: b64(modulus()), e: 'AQAB' }),
    challenge: '295f59f5fa8fe62c5aca9e27626c78c8da376ae6d8cd2dd29aebad601e1bc4c5',
    authenticatorData: `${RP_ID_HASH}1900000000`,
    clientData:
      '7b2274797065223a22776562617574686e2e676574222c226368616c6c656e6765223a224b56395a39667150356978617970346e596d7834794e6f33617562597a5333536d75757459423462784d55222c226f726967696e223a2268747470733a2f2f6578616d706c652e6f7267222c2263726f73734f726967696e223a66616c73657d',
    signature:
      '01063d52d7c39b4d432fc7063c5d93e582bdcb16889cd71f888d67d880ea730a428498d3bc8e1ee11f2b1ecbe6c292b118c55ffaaddefa8cad0a54dd137c51f1eec673f1bb6c4d1789d6826a222b22d0f585fc901fdc933212e579d199b89d672aa44891333e6a1355536025e82b25590256c3538229b55737083b2f6b9377e49e2472f11952f79fdd0da180b5ffd901b4049a8f081bb40711bef76c62aed943571f2d0575304cb549d68d8892f95086a30f93716aee818f8dc06e96c0d5e0ed4cfa9fd8773d90464b68cf140f7986666ff9c9e3302acd0535d60d769f465e2ab57ef8aabc89fccfef7ba32a64154a8b3d26be2298f470b8cc5377dbe3dfd4b0b45f8f01e63bde6cfc76b62771f9b70aa27cf40152cad93aa5acd784fd4b90f676e2ea828d0bf2400aebbaae4153e5838f537f88b6228346782a93a899be66ec77de45b3efcf311da6321c92e6b0cd11bfe653bf3e98cee8e341f02d67dbb6f9c98d9e8178090cfb5b70fbc6d541599ac794ae2f1d4de1286ec8de8c2daf7b1d15c8438e90d924df5c19045220a4c8438c1b979bbe016cf3d0eeec23c3999d4882cc645b776de930756612cdc6dd398160ff02a6',
    verdict: 'passkey-unverified',
  },
  {
    name: '16.11 Ed25519',
    alg: ALGORITHMS.EdDSA,
    importAs: { name: 'Ed25519' },
    jwk: () => ({
      kty: 'OKP',
      crv: 'Ed25519',
      x: b64('44e06ddd331c36a8dc667bab52bcae63486c916aa5e339e6acebaa84934bf832'),
    }),
    challenge: '895957e01c633a698348a2d8a31a54b7db27e8c1c43b2080d79ae2190267bfd2',
    authenticatorData: `${RP_ID_HASH}0100000000`,
    clientData:
      '7b2274797065223a22776562617574686e2e676574222c226368616c6c656e6765223a2269566c583442786a4f6d6d44534b4c596f7870557439736e364d48454f7943413135726947514a6e763949222c226f726967696e223a2268747470733a2f2f6578616d706c652e6f7267222c2263726f73734f726967696e223a66616c73657d',
    signature:
      'f5c59c7e46c34f6f8cc197101ddf9934fa2595f68eb1913a637e8419eb9ba4cfdfc48f85393bc0d40b011f0d6fecb097d6607525713223a0dc0d453993dae00b',
    verdict: 'passkey-unverified',
  },
];

const own = (hex: string) => Uint8Array.from(hexToBytes(hex));

describe.each(vectors)('$name', ({ alg, jwk, importAs, verdict, ...vector }) => {
  const clientData = own(vector.clientData);
  const data = own(vector.authenticatorData);
  const asked: Asked = {
    type: 'webauthn.get',
    challenge: b64(vector.challenge),
    origin: ORIGIN,
    rpId: 'example.org',
    age: 1000,
  };
  let publicKey: Uint8Array<ArrayBuffer>;
  beforeAll(async () => {
    const key = await crypto.subtle.importKey('jwk', jwk(), importAs, true, ['verify']);
    publicKey = new Uint8Array(await crypto.subtle.exportKey('spki', key));
  });

  test('its signature fits, and does not when any one byte of what was signed is another', async () => {
    const signature = own(vector.signature);
    expect(await signatureFits(publicKey, alg, signature, signedBytes(clientData, data))).toBe(true);
    for (const at of [0, 32, 36]) {
      const other = data.slice();
      other[at] = (other[at] ?? 0) ^ 1;
      expect(await signatureFits(publicKey, alg, signature, signedBytes(clientData, other))).toBe(false);
    }
    const said = clientData.slice();
    said[40] = (said[40] ?? 0) ^ 1;
    expect(await signatureFits(publicKey, alg, signature, signedBytes(said, data))).toBe(false);
    const forged = signature.slice();
    forged[20] = (forged[20] ?? 0) ^ 1;
    expect(await signatureFits(publicKey, alg, forged, signedBytes(clientData, data))).toBe(false);
  });

  test('challenge, origin and RP ID are those of the vector; a bench that wants a verified person refuses it', () => {
    expect(readAnswer(clientData, data, asked)).toEqual({ code: verdict });
    expect(readAnswer(clientData, data, { ...asked, challenge: b64('00') }).code).toBe('passkey-stale');
    expect(readAnswer(clientData, data, { ...asked, origin: 'https://example.com' }).code).toBe(
      'passkey-elsewhere',
    );
  });
});

test('16.2: the flags and the credential id of the enrolment', () => {
  const bytes = hexToBytes(
    `${RP_ID_HASH}59000000008446ccb9ab1db374750b2367ff6f3a1f0020f91f391db4c9b2fde0ea70189cba3fb63f579ba6122b33ad94ff3ec330084be4a5010203262001215820afefa16f97ca9b2d23eb86ccb64098d20db90856062eb249c33a9b672f26df61225820930a56b87a2fca66334b03458abf879717c12cc68ed73290af2e2664796b9220`,
  );
  const read = readAuthenticatorData(bytes);
  expect(read).toMatchObject({
    rpIdHash: RP_ID_HASH,
    userPresent: true,
    userVerified: false,
    backupEligible: true,
    backedUp: true,
    signCount: 0,
  });
  expect(bytesToHex(read?.credentialId ?? new Uint8Array())).toBe(
    'f91f391db4c9b2fde0ea70189cba3fb63f579ba6122b33ad94ff3ec330084be4',
  );
});

test('16.2: R and S of the signature, from DER to 64 bytes', () => {
  expect(bytesToHex(fromDer(own(vectors[0]?.signature ?? '')) ?? new Uint8Array())).toBe(
    'f50a4e2e4409249c4a853ba361282f09841df4dd4547a13a87780218deffcd388480ac0f0b93538174f575bf11a1dd5d78c6e486013f937295ea13653e331e87',
  );
});
