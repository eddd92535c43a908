import { exportJWK, generateKeyPair } from 'jose';
import { beforeAll, describe, expect, test } from 'vitest';
import finalDrive from '../../procedures/final-drive/index.ts';
import recheck from '../../procedures/final-drive-recheck/index.ts';
import { openingRecord } from '../../src/job/open-job.ts';
import { canonicalText } from '../../src/journal/canonical.ts';
import { keyCode, loadPublished, publish } from '../../src/journal/published.ts';
import { keyId, publicJwkOf, type SigningKey, signData } from '../../src/journal/seal.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import { certify, revisionHash } from '../../src/procedure/proof/certificate.ts';
import { checkProcedure } from '../../src/procedure/proof/findings.ts';
import { stationOrder } from '../../src/procedure/publish/order.ts';
import { type PublishedFile, revisionOf, takenBy } from '../../src/procedure/publish/published.ts';
import { seeded } from './generate.ts';
import { mutantsOf } from './mutants.ts';
import { NOON, sample, sampleInput } from './sample.ts';

async function newKey(): Promise<SigningKey> {
  const { privateKey, publicKey } = await generateKeyPair('ES256', { extractable: true });
  const publicJwk = publicJwkOf(await exportJWK(publicKey));
  return { privateKey, publicJwk, kid: await keyId(publicJwk) };
}

function proved(definition: Definition) {
  const { revision } = revisionOf(definition);
  if (!revision) throw new Error('not proved');
  return revision;
}

let key: SigningKey;
let other: SigningKey;
let text: string;
let file: PublishedFile;

beforeAll(async () => {
  [key, other] = await Promise.all([newKey(), newKey()]);
  text = await publish(proved(sample), 'Ada', NOON, key);
  file = JSON.parse(text);
});

const load = (content: unknown, enrolled: readonly string[] = [key.kid]) =>
  loadPublished(typeof content === 'string' ? content : JSON.stringify(content), new Set(enrolled));
const codeOf = async (content: unknown, enrolled?: readonly string[]) =>
  (await load(content, enrolled)).refused?.code ?? 'taken';

/** Sealed by somebody who changes the file before they seal it. */
async function sealedAfter(definition: Definition, certificate = file.certificate, by = key) {
  const sealedHash = revisionHash(definition);
  const seal = await signData(
    {
      procedure: definition.id,
      revision: definition.meta.revision,
      hash: sealedHash,
      publishedAt: '2026-11-25T09:00:00.000Z',
      publishedBy: 'Ada',
    },
    by,
  );
  return { definition, hash: sealedHash, certificate, seal };
}

test('what is published is taken again, as the same revision', async () => {
  const loaded = await load(text);
  expect(loaded.refused).toBeUndefined();
  expect(loaded.revision?.hash).toBe(file.hash);
  expect(loaded.revision?.definition).toEqual(sample);
  expect(loaded.author).toEqual({ name: 'Ada', kid: key.kid });
  expect(text).toBe(`${canonicalText(file)}\n`);
});

test('the file has one spelling, and layout and order of keys do not matter to who reads it', async () => {
  expect(await codeOf(JSON.stringify(file, null, 2))).toBe('taken');
  const turned = Object.fromEntries(Object.entries(file.definition.states).reverse());
  expect(await codeOf({ ...file, definition: { ...file.definition, states: turned } })).toBe('taken');
});

describe('what is refused, with the reason', () => {
  test.each<[string, () => unknown, string]>([
    ['no JSON', () => '{"definition":', 'not-published'],
    ['something else', () => ({ hello: 1 }), 'not-published'],
    ['something besides', () => ({ ...file, note: 'x' }), 'not-published'],
    ['a bare definition', () => sample, 'not-published'],
    [
      'no seal',
      () => ({ definition: file.definition, hash: file.hash, certificate: file.certificate }),
      'unsigned',
    ],
    ['an empty seal', () => ({ ...file, seal: '' }), 'unsigned'],
    ['a seal of nonsense', () => ({ ...file, seal: 'a.b.c' }), 'seal-broken'],
    ['a seal with one sign changed', () => ({ ...file, seal: flipped(file.seal) }), 'seal-broken'],
    ['another hash', () => ({ ...file, hash: '0'.repeat(64) }), 'tampered'],
    [
      'a phrase changed',
      () => JSON.parse(JSON.stringify(file).replace('open end trails', 'open end leads')),
      'tampered',
    ],
    [
      'a certificate changed',
      () => ({
        ...file,
        certificate: { ...file.certificate, combinations: file.certificate.combinations + 1 },
      }),
      'tampered',
    ],
    [
      'a certificate without a hold',
      () => ({ ...file, certificate: { ...file.certificate, holds: [] } }),
      'tampered',
    ],
  ])('%s', async (_, content, code) => {
    const loaded = await load(content());
    expect(loaded.refused?.code).toBe(code);
    expect(loaded.refused?.sentence).toMatch(/^[A-Z].*\.$/);
  });

  test('a procedure that cannot be proved, though its author sealed it', async () => {
    const bypass = { target: 'slack', guard: { type: 'advances', params: { station: 'clipWay' } } };
    const clipWay = sample.states.clipWay ?? {};
    const harmed = {
      ...sample,
      states: { ...sample.states, clipWay: { ...clipWay, on: { ...clipWay.on, advance: [bypass] } } },
    } as Definition;
    const { refused } = await load(await sealedAfter(harmed));
    expect(refused?.code).toBe('unproved');
    expect(refused?.sentence).toContain('clipWay');
  });

  test('a certificate of another revision under a seal that holds', async () => {
    const wider = { ...sample, meta: { ...sample.meta, covers: 'Something else.' } };
    expect(await codeOf(await sealedAfter(wider))).toBe('tampered');
    expect(await codeOf(await sealedAfter(wider, proved(wider).certificate))).toBe('taken');
  });

  test('a drawing that this app does not have, before anybody is asked to enrol its author', async () => {
    const [at = ''] = Object.keys(sample.states);
    const state = sample.states[at] ?? {};
    const drawn = {
      ...sample,
      states: { ...sample.states, [at]: { ...state, meta: { ...state.meta, drawing: 'elsewhere.svg' } } },
    } as Definition;
    const content = JSON.stringify(await sealedAfter(drawn, proved(drawn).certificate));
    const weigh = (drawings?: ReadonlySet<string>, enrolled: readonly string[] = []) =>
      loadPublished(content, new Set(enrolled), drawings ? { drawings } : {});
    const { refused } = await weigh(new Set(['chain.svg']));
    expect(refused).toEqual({
      code: 'drawing-unknown',
      sentence: `This app has no drawing “elsewhere.svg”, which the station “${at}” shows: bring the app up to date, or ask the author for a revision without it.`,
    });
    expect((await weigh(new Set(['elsewhere.svg']), [key.kid])).refused).toBeUndefined();
    // Where it is not known which drawings there are, none is missed.
    expect((await weigh(undefined, [key.kid])).refused).toBeUndefined();
  });

  test('an author whose key is not enrolled; their key is shown, so that it can be', async () => {
    const loaded = await load(text, [other.kid]);
    expect(loaded.refused?.code).toBe('author-unknown');
    expect(loaded.refused && loaded.author).toEqual({ name: 'Ada', kid: key.kid });
    expect(keyCode(key.kid)).toMatch(/^([0-9a-f]{4} ){4}[0-9a-f]{4}$/);
    expect(keyCode(key.kid)).not.toBe(keyCode(other.kid));
  });

  test('somebody else’s seal over the same procedure', async () => {
    expect(await codeOf(await sealedAfter(sample, file.certificate, other))).toBe('author-unknown');
  });

  test('no fault that the check rejects gets in by way of a published file', async () => {
    const mutants = mutantsOf(sample, seeded(11)).filter((_one, at) => at % 5 === 0);
    let refused = 0;
    for (const { definition, operator } of mutants) {
      if (checkProcedure(definition).findings.length === 0) continue;
      refused++;
      const content = await sealedAfter(definition).catch(() => null);
      if (content) expect(['unproved', 'not-published'], operator).toContain(await codeOf(content));
    }
    expect(refused).toBeGreaterThan(20);
  });
});

/** The last sign but one of the signature changed: the last one may have bits that count for nothing. */
function flipped(seal: string): string {
  const at = seal.length - 3;
  return `${seal.slice(0, at)}${seal[at] === 'A' ? 'B' : 'A'}${seal.slice(at + 1)}`;
}

describe('a published revision never changes', () => {
  const known = [
    { id: 'sample', revision: 1, hash: 'a' },
    { id: 'sample', revision: 4, hash: 'b' },
  ];

  test('the same id and revision with another hash is refused, and the next number is named', () => {
    const refusal = takenBy(proved(sample), known);
    expect(refusal?.code).toBe('revision-taken');
    expect(refusal?.sentence).toContain('revision 5');
  });

  test('the very same is no conflict, nor is a new revision or another procedure', () => {
    const revision = proved(sample);
    expect(takenBy(revision, [{ id: 'sample', revision: 1, hash: revision.hash }])).toBeNull();
    expect(takenBy(proved({ ...sample, meta: { ...sample.meta, revision: 2 } }), known)).toBeNull();
    expect(takenBy(proved({ ...sample, id: 'other' }), known)).toBeNull();
  });
});

describe('the certificate goes with the revision', () => {
  test.each([
    ['sample', sample],
    ['final-drive', finalDrive],
    ['final-drive-recheck', recheck],
  ])(
    '%s: the same whatever the order of keys, and its holds stand in the order of the job',
    (_, definition) => {
      const { certificate } = proved(definition);
      const turned = Object.fromEntries(Object.entries(definition.states).reverse());
      expect(proved({ ...definition, states: turned }).certificate).toEqual(certificate);
      const order = stationOrder(definition);
      const places = certificate.holds.map((hold) => order.indexOf(hold));
      expect(places).toEqual(places.toSorted((a, b) => a - b));
    },
  );

  test('a record names it: by the hash of the procedure that it carries, from which anyone gets the same certificate', () => {
    const { definition, certificate, hash } = proved(sample);
    const { facts, figures, people, tools } = sampleInput;
    const card = { id: 'M-1', says: 'Machine 1', plate: 'Nothing real', facts, figures };
    const record = openingRecord(
      '0b0e4a52-1c1e-4a8e-9a55-1f2f6c0e1aff',
      { definition, card, workshop: { name: 'Test', machines: [], people, tools } },
      { at: NOON, by: 'ada', via: 'keys' },
      'test',
    );
    if (record.event.type !== 'job.opened') throw new Error('no opening');
    expect(record.event.procedureHash).toBe(certificate.hash);
    expect(record.event.procedureHash).toBe(hash);
    const carried = JSON.parse(canonicalText(record.event.procedure)) as Definition;
    expect(proved(carried).certificate).toEqual(certificate);
    const { proof } = checkProcedure(carried);
    expect(proof && certify(carried, proof).hash).toBe(hash);
  });
});

test('stations come in the order of the job: nothing before what leads to it, unless the way leads back', () => {
  expect(stationOrder(sample)).toEqual([
    ...['kit', 'card', 'ratio', 'bolts', 'cure', 'which', 'clipWay', 'refit'],
    ...['slack', 'adjust', 'torque', 'loosen'],
  ]);
  for (const definition of [finalDrive, recheck]) {
    const order = stationOrder(definition);
    expect(order.toSorted()).toEqual(
      Object.keys(definition.states)
        .filter((name) => definition.states[name]?.meta)
        .sort(),
    );
    expect(order[0]).toBe(definition.initial);
  }
});
