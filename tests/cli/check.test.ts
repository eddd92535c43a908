import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, test } from 'vitest';
import type { Certificate } from '../../src/procedure/proof/certificate.ts';
import { sample } from '../procedure/sample.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'check-'));
afterAll(() => rmSync(folder, { recursive: true }));

function check(...words: string[]) {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    ['node_modules/tsx/dist/cli.mjs', 'src/cli/check.ts', ...words],
    { cwd: root, encoding: 'utf8' },
  );
  return { status, lines: stdout.trimEnd().split('\n'), stdout, stderr };
}

function file(name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

const good = file('good.json', JSON.stringify(sample));
const bypassed = structuredClone(sample) as { states: Record<string, { on: Record<string, unknown> }> };
const clipWay = bypassed.states.clipWay;
if (clipWay) clipWay.on.advance = [{ target: 'slack' }];
const bad = file('bad.json', JSON.stringify(bypassed));

test('without a file it proves the procedures that are shipped', () => {
  const { status, lines, stderr } = check();
  expect([status, stderr]).toEqual([0, '']);
  expect(lines.length).toBeGreaterThanOrEqual(2);
  const proved =
    /^procedures\/[\w-]+\/index\.ts: proved: \d+ stations, \d+ hold points, \d+ combinations of facts, \d+ ms$/;
  for (const line of lines) expect(line).toMatch(proved);
});

test('a finding is one line with file, station and sentence, and exit 1', () => {
  const { status, lines, stderr } = check(bad);
  expect([status, stderr]).toEqual([1, '']);
  expect(lines).toContain(
    `${bad}: clipWay: The job can be finished without this hold point (link = clip): which, clipWay, slack: close that way.`,
  );
  for (const line of lines) expect(line).toMatch(/^\S+\.json: [\w ]+: [A-Z"].*\.$/);
});

test('for machines: JSON with findings, or with the certificate', () => {
  const { status, stdout } = check(good, bad, '--json');
  expect(status).toBe(1);
  const [one, other] = JSON.parse(stdout) as {
    proved: boolean;
    findings: unknown[];
    certificate: Certificate | null;
  }[];
  expect(one?.proved).toBe(true);
  expect(one?.findings).toEqual([]);
  expect(one?.certificate?.holds).toEqual(['clipWay', 'torque']);
  expect(other?.proved).toBe(false);
  expect(other?.certificate).toBeNull();
});

test('the certificate as a table', () => {
  const { status, stdout } = check(good, '--certificate');
  expect(status).toBe(0);
  expect(stdout).toContain(
    'Certificate of hold points: Sample with every kind of station (sample, revision 1)',
  );
  expect(stdout).toMatch(/^clip +● +● +9$/m);
  expect(stdout).toMatch(/^rivet +· +● +8$/m);
});

test.each([
  ['nothing.json', null, 'cannot be read'],
  ['broken.json', '{"id":', 'is not JSON'],
  ['empty.ts', 'export {};', 'has no default export'],
  ['throws.ts', 'throw new Error("boom");', 'cannot be loaded: boom'],
  ['notes.txt', 'hello', 'neither a TypeScript module nor JSON'],
])('%s: exit 2 and a sentence', (name, text, says) => {
  const path = text === null ? join(folder, name) : file(name, text);
  const { status, stdout, stderr } = check(path);
  expect([status, stdout]).toEqual([2, '']);
  expect(stderr.trimEnd().split('\n')).toHaveLength(1);
  expect(stderr).toContain(says);
});

test('an option that does not exist: exit 2', () => {
  expect(check('--prove').status).toBe(2);
});

test('signs in a file that could rewrite a terminal are not printed', () => {
  const name = `${String.fromCharCode(27)}[2J`;
  const path = file('signs.json', JSON.stringify({ ...sample, states: { ...sample.states, [name]: {} } }));
  const { status, stdout } = check(path);
  expect(status).toBe(1);
  expect(stdout).not.toContain(name);
});

test('a procedure that is proved but not well written gets warnings, each a line of its own, and still exit 0', () => {
  const { status, lines } = check(good);
  expect(status).toBe(0);
  const warnings = lines.filter((line) => line.startsWith('warning: '));
  expect(warnings).toContain(
    `warning: ${good}: the whole procedure: No hold point asks for a second person in every job: let one release the work before it ends.`,
  );
  const { stdout } = check('--json', good);
  const [result] = JSON.parse(stdout) as { warnings: { code: string }[]; proved: boolean }[];
  expect(result?.proved).toBe(true);
  expect(result?.warnings.map(({ code }) => code)).toContain('release-missing');
});
