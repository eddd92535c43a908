import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { makeKey, play, sealed, wholeJob } from '../journal/play.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'verify-'));
const at = (name: string) => join(folder, name);

beforeAll(async () => {
  const key = await makeKey();
  const good = await sealed(play(wholeJob), key);
  writeFileSync(at('good.holdfast.jsonl'), good);
  writeFileSync(at('bad.holdfast.jsonl'), good.replace('"value":35', '"value":36'));
  writeFileSync(at('ours.json'), JSON.stringify({ keys: [key.publicJwk] }));
  writeFileSync(at('theirs.json'), JSON.stringify({ keys: [(await makeKey()).publicJwk] }));
  writeFileSync(at('no-keys.json'), '[]');
});
afterAll(() => rmSync(folder, { recursive: true }));

function verify(...words: string[]) {
  const run = spawnSync(process.execPath, ['--import', 'tsx', 'src/cli/verify.ts', ...words], {
    cwd: root,
    encoding: 'utf8',
  });
  return {
    exit: run.status,
    out: run.stdout.replaceAll(`${folder}/`, ''),
    err: run.stderr.replaceAll(`${folder}/`, ''),
  };
}

describe('the command', () => {
  test('says in one line that a good record holds, and notes that no keys were given', () => {
    const { exit, out, err } = verify(at('good.holdfast.jsonl'));
    expect(out).toMatch(
      /^good\.holdfast\.jsonl: holds \(45 records, complete, sealed by Cyd \(cyd\) at 2026-\S+Z\)\n$/,
    );
    expect(err).toMatch(/^good\.holdfast\.jsonl:46: note: key-not-checked: [^\n]+\n$/);
    expect(exit).toBe(0);
  });

  test('one line a finding, and exit 1 when one of several files fails', () => {
    const { exit, out } = verify(
      at('bad.holdfast.jsonl'),
      at('good.holdfast.jsonl'),
      '--keys',
      at('ours.json'),
    );
    expect(out).toMatch(
      /^bad\.holdfast\.jsonl:\d+: hash-wrong: This record was changed[^\n]+\ngood\.holdfast\.jsonl: holds/,
    );
    expect(exit).toBe(1);
  });

  test('a key that is not enrolled', () => {
    const { exit, out } = verify(at('good.holdfast.jsonl'), '--keys', at('theirs.json'), '--json');
    const [report] = JSON.parse(out);
    expect(report).toMatchObject({ holds: false, findings: [{ line: 46, code: 'key-not-enrolled' }] });
    expect(exit).toBe(1);
  });

  test.each([
    [[], 'Name at least one record file; usage: npm run verify'],
    [['--loud'], "Unknown option '--loud'"],
    [['missing.jsonl'], 'missing.jsonl cannot be read: there is no such file.'],
    [['src'], 'src cannot be read: it is a folder.'],
    [['package.json', '--keys', at('no-keys.json')], 'is not a JWK Set'],
  ])('%j is answered with one sentence and exit 2', (words, sentence) => {
    const { exit, out, err } = verify(...words);
    expect(err).toContain(sentence.replace(`${folder}/`, ''));
    expect(err.trimEnd().split('\n')).toHaveLength(1);
    expect(out).toBe('');
    expect(exit).toBe(2);
  });
});
