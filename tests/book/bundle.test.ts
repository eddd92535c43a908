import { createHash } from 'node:crypto';
import { unzipSync, zipSync } from 'fflate';
import { compactVerify, importJWK } from 'jose';
import { beforeAll, describe, expect, test } from 'vitest';
import { type BundleOrder, makeBundle } from '../../src/book/bundle.ts';
import { certificates } from '../../src/book/certificates.ts';
import { type Digest, digestOf } from '../../src/book/digest.ts';
import type { Manifest, Signer } from '../../src/book/manifest.ts';
import { extended } from '../../src/book/seal-log.ts';
import { isZip, unpack } from '../../src/book/unpack.ts';
import { verifyBundle } from '../../src/book/verify-bundle.ts';
import { canonicalBytes } from '../../src/journal/canonical.ts';
import { hashOf } from '../../src/journal/hash.ts';
import { proofOf } from '../../src/journal/proved.ts';
import { type SigningKey, signData } from '../../src/journal/seal.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import { makeKey } from '../journal/play.ts';
import { checkAsStranger } from '../journal/stranger.ts';
import { eventful, START, seal, tell } from './jobs.ts';

const DAY = 86_400_000;
const photo = Uint8Array.of(0x89, 0x50, 0x4e, 0x47);
const photoHash = createHash('sha256').update(photo).digest('hex');
const nora: Signer = { id: 'w-nora', name: 'Nora Vance', role: 'supervisor', how: 'pin' };
const base64 = (bytes: Uint8Array) => Buffer.from(bytes).toString('base64');

let key: SigningKey;
let order: BundleOrder;
let bundle: Uint8Array;
let files: Record<string, Uint8Array>;
const sealing = () => ({ by: nora, at: START + 40 * DAY, key, base64 });

/** A job whose photo is at hand. */
function withPhoto() {
  const telling = eventful('5d0b3f52-6c1e-4a8e-9a55-1f2f6c0e1a02');
  const before = Object.fromEntries(
    Object.entries(telling.before ?? {}).map(([station, deeds]) => [
      station,
      deeds.map((deed) =>
        deed.type === 'attach' ? { ...deed, sha256: photoHash, bytes: photo.length } : deed,
      ),
    ]),
  );
  return tell({ ...telling, at: START + DAY, before });
}

beforeAll(async () => {
  key = await makeKey();
  const records = [
    tell(),
    withPhoto(),
    tell({ job: '5d0b3f52-6c1e-4a8e-9a55-1f2f6c0e1a03', at: START + 60 * DAY }),
  ];
  const digests: Digest[] = [];
  for (const one of records) digests.push(digestOf(one, await seal(one, key)));
  digests.push(digestOf(tell({ job: '5d0b3f52-6c1e-4a8e-9a55-1f2f6c0e1a04', until: 'standFirm' })));
  const seals = digests.flatMap(({ job, sealed }) =>
    sealed ? [{ job, seal: sealed.jws, sealedAt: sealed.payload.sealedAt }] : [],
  );
  order = {
    workshop: 'Low Fold Riding School',
    from: '2026-03-01',
    to: '2026-03-31',
    digests,
    log: extended([], seals),
    attached: new Map([[photoHash, photo]]),
    certify: certificates(),
  };
  bundle = await makeBundle(order, sealing());
  files = unzipSync(bundle);
}, 60_000);

const proofs = new Map<string, ReturnType<typeof proofOf>>();
/** The real proof, run once a procedure. */
const prove = (definition: Definition) => {
  const hash = hashOf(definition);
  const found = proofs.get(hash) ?? proofOf(definition);
  proofs.set(hash, found);
  return found;
};
const options = () => ({ keys: { keys: [{ ...key.publicJwk }] }, prove });
const text = (name: string) => new TextDecoder().decode(files[name]);

describe('a bundle of a month', () => {
  test('holds, with the sealed jobs of that month, their reports, tables, certificates and photos', async () => {
    const report = await verifyBundle(bundle, options());
    expect(report).toMatchObject({ holds: true, findings: [], kid: key.kid });
    expect(report.records).toHaveLength(2);
    expect(report.remarks).toEqual(['Not in the bundle, because not sealed yet: 1 job of these days.']);
    expect(
      Object.keys(files)
        .map((name) => name.replace(/-[0-9a-f-]{36}\./, '-JOB.'))
        .sort(),
    ).toEqual([
      `attachments/${photoHash}.png`,
      expect.stringMatching(/^certificates\/final-drive-1-[0-9a-f]{8}\.txt$/),
      expect.stringMatching(/^certificates\/final-drive-1-[0-9a-f]{8}\.txt$/),
      'log.json',
      'manifest.json',
      'manifest.jws',
      'read-me.txt',
      'records/LF-01-2026-03-02-JOB.holdfast.jsonl',
      'records/LF-07-2026-03-03-JOB.holdfast.jsonl',
      'reports/LF-01-2026-03-02-JOB.html',
      'reports/LF-07-2026-03-03-JOB.html',
      'tables/jobs.csv',
      'tables/nonconformances.csv',
      'tables/parts.csv',
      'tables/readings.csv',
      'tables/records.csv',
    ]);
  });

  test('its tables have a line a job and a record, end lines in CR LF and run no formula', () => {
    expect(text('tables/jobs.csv').split('\r\n')).toHaveLength(1 + 2 + 1);
    const count = order.digests.slice(0, 2).reduce((sum, { records }) => sum + records.length, 0);
    expect(text('tables/records.csv').split('\r\n')).toHaveLength(1 + count + 1);
    expect(text('tables/records.csv')).toContain('note: =cmd|first time');
    expect(text('tables/nonconformances.csv')).toContain('CONCESSION: used as it is');
    expect(text('read-me.txt')).toContain("has an apostrophe (') put before it");
  });

  test('the report in it shows the photo, and escapes what people typed', () => {
    const [name = ''] = Object.keys(files).filter((one) => one.startsWith('reports/LF-07'));
    expect(text(name)).toContain(`data:image/png;base64,${base64(photo)}`);
    expect(text(name)).not.toContain('<hold>');
    expect(text(name)).toContain("default-src 'none'");
  });

  test('only a supervisor seals one', async () => {
    const ilse = { ...nora, id: 'w-ilse', role: 'mechanic' } as const;
    await expect(makeBundle(order, { ...sealing(), by: ilse })).rejects.toMatchObject({
      code: 'not-authorised',
    });
  });

  test('a badge alone seals none, a passkey does', async () => {
    const by = (how: Signer['how']) => ({ ...sealing(), by: { ...nora, how } });
    await expect(makeBundle(order, by('badge'))).rejects.toMatchObject({ code: 'not-authorised' });
    const report = await verifyBundle(await makeBundle(order, by('passkey')), options());
    expect([report.findings, report.manifest?.signedBy.how]).toEqual([[], 'passkey']);
  });

  test('a seal that is not the one in the log is not packed', async () => {
    const log = order.log.map((entry, at) => (at === 0 ? { ...entry, leaf: '0'.repeat(64) } : entry));
    await expect(makeBundle({ ...order, log }, sealing())).rejects.toMatchObject({ code: 'journal-differs' });
  });
});

test('somebody with SHA-256 and a JOSE library alone can check a bundle, its records and the log', async () => {
  const sha256 = (...parts: Uint8Array[]) => {
    const hash = createHash('sha256');
    for (const part of parts) hash.update(part);
    return hash.digest();
  };
  const jws = text('manifest.jws').trim();
  const header = JSON.parse(Buffer.from(jws.split('.')[0] ?? '', 'base64url').toString());
  const { payload } = await compactVerify(jws, await importJWK(header.jwk, 'ES256'));
  expect(Buffer.from(payload).equals(files['manifest.json'] ?? Buffer.alloc(0))).toBe(true);
  const manifest = JSON.parse(text('manifest.json')) as Manifest;
  expect(manifest.files.map(({ name }) => name).sort()).toEqual(
    Object.keys(files)
      .filter((name) => !name.startsWith('manifest.'))
      .sort(),
  );
  for (const { name, bytes, sha256: wanted } of manifest.files) {
    expect([name, files[name]?.length]).toEqual([name, bytes]);
    expect(sha256(files[name] ?? new Uint8Array()).toString('hex')).toBe(wanted);
  }
  const log = JSON.parse(text('log.json'));
  expect([log.count, log.root]).toEqual([manifest.log.count, manifest.log.root]);
  for (const { file, index, proof } of log.seals) {
    await checkAsStranger(text(file));
    const seal = JSON.parse(text(file).trim().split('\n').at(-1) ?? '').seal;
    // RFC 9162, 2.1.3.2, for a stranger: from the leaf up.
    let hash = sha256(Uint8Array.of(0), Buffer.from(seal));
    let [fn, sn] = [index, log.count - 1];
    for (const hex of proof) {
      const next = Buffer.from(hex, 'hex');
      if (fn % 2 === 1 || fn === sn) {
        hash = sha256(Uint8Array.of(1), next, hash);
        while (fn % 2 === 0 && fn !== 0) [fn, sn] = [fn >> 1, sn >> 1];
      } else hash = sha256(Uint8Array.of(1), hash, next);
      [fn, sn] = [fn >> 1, sn >> 1];
    }
    expect([sn, hash.toString('hex')]).toEqual([0, log.root]);
  }
});

describe('what is changed afterwards is found', () => {
  const named = (start: string) => Object.keys(files).find((name) => name.startsWith(start)) ?? '';
  const packed = (change: (all: Record<string, Uint8Array>) => void) => {
    const all = { ...files };
    change(all);
    return zipSync(all);
  };
  const flipped = (bytes: Uint8Array | undefined) => {
    const copy = Uint8Array.from(bytes ?? []);
    const at = copy.length >> 1;
    copy[at] = (copy[at] ?? 0) ^ 1;
    return copy;
  };
  const codes = async (bytes: Uint8Array) => {
    const report = await verifyBundle(bytes, options());
    expect(report.holds).toBe(false);
    return report.findings.map(({ code }) => code);
  };
  /** The list made anew over what is there, and signed with a key. */
  const resealed = async (
    all: Record<string, Uint8Array>,
    by: SigningKey,
    change: Partial<Manifest> = {},
  ) => {
    const manifest = { ...(JSON.parse(text('manifest.json')) as Manifest), ...change };
    const list = Object.entries(all)
      .filter(([name]) => !name.startsWith('manifest.'))
      .map(([name, bytes]) => ({
        name,
        bytes: bytes.length,
        sha256: createHash('sha256').update(bytes).digest('hex'),
      }));
    const next = { ...manifest, files: list };
    return zipSync({
      ...all,
      'manifest.json': canonicalBytes(next),
      'manifest.jws': new TextEncoder().encode(await signData(next, by)),
    });
  };

  test('any one file with one bit changed', async () => {
    for (const name of Object.keys(files)) {
      const found = await codes(packed((all) => Object.assign(all, { [name]: flipped(files[name]) })));
      const wanted =
        name === 'manifest.jws'
          ? /^(seal-broken|seal-unreadable)$/
          : name === 'manifest.json'
            ? /^manifest-differs$/
            : /^(file-differs|log-unreadable)$/;
      expect([name, found[0]]).toEqual([name, expect.stringMatching(wanted)]);
    }
  });

  test('a file taken out, or put in', async () => {
    const record = named('records/LF-01');
    expect(await codes(packed((all) => Reflect.deleteProperty(all, record)))).toContain('file-missing');
    expect(await codes(packed((all) => Object.assign(all, { 'reports/more.html': photo })))).toEqual([
      'file-unlisted',
    ]);
    expect(await codes(packed((all) => Reflect.deleteProperty(all, 'manifest.jws')))).toEqual([
      'manifest-missing',
    ]);
  });

  test('sealed anew with a key that is not enrolled', async () => {
    expect(await codes(await resealed(files, await makeKey()))).toEqual(['key-not-enrolled']);
  });

  test('sealed anew with the right key: a record exchanged is not in the log, a photo exchanged is not the one named', async () => {
    const record = named('records/LF-01');
    const other = await codes(
      await resealed({ ...files, [record]: files[named('records/LF-07')] ?? new Uint8Array() }, key),
    );
    expect(other).toEqual(['not-in-log']);
    const shot = named('attachments/');
    expect(await codes(await resealed({ ...files, [shot]: Uint8Array.of(1, 2, 3, 4) }, key))).toEqual([
      'attachment-differs',
    ]);
  });

  test('sealed by somebody who may not', async () => {
    const signedBy = { ...nora, role: 'mechanic' as const };
    expect(await codes(await resealed(files, key, { signedBy }))).toEqual(['not-authorised']);
  });

  test('sealed by a badge', async () => {
    const signedBy = { ...nora, how: 'badge' as const };
    expect(await codes(await resealed(files, key, { signedBy }))).toEqual(['not-authorised']);
  });

  test('sealed over another root', async () => {
    const log = { count: 3, root: '1'.repeat(64) };
    expect(await codes(await resealed(files, key, { log }))).toEqual(['log-differs']);
  });

  test('a list with a field too many', async () => {
    const found = await codes(await resealed(files, key, { more: 1 } as Partial<Manifest>));
    expect(found).toEqual(['seal-unreadable']);
  });
});

describe('what is no bundle', () => {
  test('is said to be none, and never thrown on', async () => {
    expect((await verifyBundle(new Uint8Array())).findings).toMatchObject([{ code: 'zip-unreadable' }]);
    expect((await verifyBundle(zipSync({}))).findings).toMatchObject([{ code: 'manifest-missing' }]);
    expect((await verifyBundle(zipSync({ 'a.txt': photo }))).findings).toMatchObject([
      { code: 'manifest-missing' },
    ]);
    for (let cut = 10; cut < bundle.length; cut += 997) {
      expect((await verifyBundle(bundle.subarray(0, cut))).holds).toBe(false);
    }
    expect([isZip(bundle), isZip(files['log.json'] ?? photo)]).toEqual([true, false]);
  });

  test('names that lead elsewhere, and sizes that would fill the memory, are left out', () => {
    const names = ['../up.txt', '/top.txt', 'a/../b', 'c:\\d', 'a//b', ' x', 'é.txt'];
    for (const name of names) {
      expect([name, unpack(zipSync({ [name]: photo })).findings[0]?.code]).toEqual([name, 'name-unusable']);
    }
    // No packer of ours writes this name: put into the finished zip, in both places.
    const named = Buffer.from(zipSync({ '1_proto__': photo }));
    for (let at = named.indexOf('1_proto__'); at >= 0; at = named.indexOf('1_proto__'))
      named.write('__proto__', at);
    expect(unpack(named).findings[0]?.code).toBe('name-unusable');
    const zip = zipSync({ 'a.txt': photo });
    // The size of what is packed stands twice: here the directory at the end says four gigabytes less a little.
    const at = zip.length - 22 - (46 + 5);
    new DataView(zip.buffer, zip.byteOffset).setUint32(at + 24, 0xfffffff0, true);
    expect(unpack(zip).findings[0]?.code).toBe('bundle-too-large');
  });
});
