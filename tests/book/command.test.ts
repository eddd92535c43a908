import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { unzipSync, zipSync } from 'fflate';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { makeBundle } from '../../src/book/bundle.ts';
import { certificates } from '../../src/book/certificates.ts';
import { digestOf } from '../../src/book/digest.ts';
import { extended } from '../../src/book/seal-log.ts';
import { makeKey } from '../journal/play.ts';
import { START, seal, tell } from './jobs.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'verify-bundle-'));
const at = (name: string) => join(folder, name);

beforeAll(async () => {
  const key = await makeKey();
  const records = tell();
  const sealed = await seal(records, key);
  const digest = digestOf(records, sealed);
  const { job } = digest;
  const bundle = await makeBundle(
    {
      workshop: 'Low Fold Riding School',
      from: '2026-03-01',
      to: '2026-03-31',
      digests: [digest],
      log: extended([], [{ job, seal: sealed.jws, sealedAt: sealed.payload.sealedAt }]),
      attached: new Map(),
      certify: certificates(),
    },
    {
      by: { id: 'w-nora', name: 'Nora Vance', role: 'supervisor', how: 'pin' },
      at: START + 86_400_000,
      key,
      base64: () => '',
    },
  );
  const bad = unzipSync(bundle);
  for (const [name, bytes] of Object.entries(bad)) {
    if (name.endsWith('.jsonl'))
      bad[name] = new TextEncoder().encode(new TextDecoder().decode(bytes).replace('w-tomas', 'w-pia00'));
  }
  writeFileSync(at('good.zip'), bundle);
  writeFileSync(at('bad.zip'), zipSync(bad));
  writeFileSync(at('keys.json'), JSON.stringify({ keys: [key.publicJwk] }));
}, 60_000);
afterAll(() => rmSync(folder, { recursive: true }));

function verify(...words: string[]) {
  const run = spawnSync(process.execPath, ['--import', 'tsx', 'src/cli/verify.ts', ...words], {
    cwd: root,
    encoding: 'utf8',
  });
  return { exit: run.status, out: run.stdout.replaceAll(`${folder}/`, ''), err: run.stderr };
}

test('the command says in one line that a bundle holds', () => {
  const { exit, out, err } = verify(at('good.zip'), '--keys', at('keys.json'));
  expect(out).toBe(
    'good.zip: holds (bundle of 1 record, 2026-03-01 to 2026-03-31, sealed by Nora Vance (w-nora) at 2026-03-03T08:00:00.000Z)\n',
  );
  expect([exit, err]).toEqual([0, '']);
});

test('what is wrong inside a bundle is named by file and line, and the exit is 1', () => {
  const { exit, out } = verify(at('bad.zip'), '--keys', at('keys.json'));
  expect(out).toMatch(/^bad\.zip!records\/LF-01-\S+\.holdfast\.jsonl: file-differs: /);
  expect(out).toMatch(/bad\.zip!records\/LF-01-\S+\.holdfast\.jsonl:1: hash-wrong: /);
  expect(exit).toBe(1);
  const [report] = JSON.parse(verify(at('bad.zip'), '--json').out);
  expect(report).toMatchObject({ file: at('bad.zip').replace(`${folder}/`, ''), holds: false });
});
