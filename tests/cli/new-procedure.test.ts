import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import { refusedId, skeleton } from '../../src/cli/skeleton.ts';
import { findings } from '../../src/procedure/proof/findings.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const project = mkdtempSync(join(tmpdir(), 'new-procedure-'));
afterAll(() => rmSync(project, { recursive: true }));

/** A project that has what a procedure stands on, and no procedures. */
symlinkSync(join(root, 'src'), join(project, 'src'));
mkdirSync(join(project, 'tests/procedures'), { recursive: true });
for (const name of ['whole-job.ts', 'training-machine.ts', 'walk.ts', 'driver.ts', 'removal.ts'])
  symlinkSync(join(root, 'tests/procedures', name), join(project, 'tests/procedures', name));

function tool(script: string, ...words: readonly string[]) {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    ['node_modules/tsx/dist/cli.mjs', `src/cli/${script}.ts`, ...words],
    { cwd: root, encoding: 'utf8' },
  );
  return { status, stdout, stderr };
}

const made = tool('new-procedure', 'wheel-bearing', `Renew the "old" wheel's bearings`, '--in', project);
const index = join(project, 'procedures/wheel-bearing/index.ts');
const { default: definition } = await import(pathToFileURL(index).href);

describe('a new procedure', () => {
  test('is a folder with one file a part and a test, and says what to do next', () => {
    expect([made.status, made.stderr]).toEqual([0, '']);
    for (const name of ['index', 'head', 'make-ready', 'task', 'finish'])
      expect(existsSync(join(project, `procedures/wheel-bearing/${name}.ts`)), name).toBe(true);
    expect(made.stdout).toContain('npm run check -- procedures/wheel-bearing/index.ts');
    expect(made.stdout).toContain("load: () => import('./wheel-bearing/index.ts').then(from)");
  });

  test('has a kit, a step, a hold with rework, a reading with rework, and says its title', () => {
    const kinds = Object.values(definition.states as Record<string, { meta?: { kind: string } }>).map(
      ({ meta }) => meta?.kind,
    );
    for (const kind of ['kit', 'step', 'hold', 'reading']) expect(kinds).toContain(kind);
    expect(definition.meta.title).toBe(`Renew the "old" wheel's bearings`);
    expect(definition.id).toBe('wheel-bearing');
  });

  test('passes the check at once', () => {
    const { status, stdout, stderr } = tool('check', index);
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout).toMatch(/: proved: \d+ stations, 2 hold points/);
  });

  test('is written as the formatter would', () => {
    const { status, stdout, stderr } = spawnSync(
      join(root, 'node_modules/.bin/biome'),
      [
        'check',
        `--config-path=${root}`,
        join(project, 'procedures'),
        join(project, 'tests/procedures/wheel-bearing.test.ts'),
      ],
      { cwd: root, encoding: 'utf8' },
    );
    expect(status).toBe(0);
    expect(stdout + stderr).toMatch(/Checked 6 files/);
  });

  test('is not written twice: what is there stays as it is', () => {
    const before = readFileSync(index, 'utf8');
    const { status, stderr } = tool('new-procedure', 'wheel-bearing', 'Another', '--in', project);
    expect(status).toBe(1);
    expect(stderr).toMatch(/^There is a procedure "wheel-bearing" already: .*\.\n$/);
    expect(readFileSync(index, 'utf8')).toBe(before);
  });
});

// Its own test file, run here: whole jobs with each hold failed once.
await import(pathToFileURL(join(project, 'tests/procedures/wheel-bearing.test.ts')).href);

describe('what is refused, in one sentence', () => {
  test.each([
    ['Wheel', 'x', /^"Wheel" cannot be an id: .*\.\n$/],
    ['../evil', 'x', /cannot be an id/],
    ['wheel--bearing', 'x', /cannot be an id/],
    ['9lives', 'x', /cannot be an id/],
    ['wheel', '   ', /^The title is empty: .*\.\n$/],
    ['wheel', 'x'.repeat(81), /^The title is too long/],
    ['a'.repeat(65), 'x', /^The id is too long/],
  ])('%s %s', (id, title, says) => {
    const { status, stdout, stderr } = tool('new-procedure', id, title, '--in', project);
    expect([status, stdout]).toEqual([1, '']);
    expect(stderr).toMatch(says);
  });

  test('without a title: how it is called', () => {
    const { status, stderr } = tool('new-procedure', 'wheel');
    expect([status, stderr]).toEqual([2, 'usage: npm run new-procedure -- ID "Title"\n']);
  });
});

test('every id that is taken is one that a definition may have, and stays in its folder', () => {
  fc.assert(
    fc.property(fc.string({ unit: fc.constantFrom(...'ab9-./A _') }), (id) => {
      if (refusedId(id) !== null) return;
      expect(findings({ ...definition, id })).toEqual([]);
      expect(skeleton(id, 'x').every(({ path }) => !path.includes('..'))).toBe(true);
    }),
    { numRuns: 2000 },
  );
});
