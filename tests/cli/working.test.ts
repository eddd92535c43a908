import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));

function working(...words: string[]) {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    ['node_modules/tsx/dist/cli.mjs', 'src/cli/working.ts', ...words],
    {
      cwd: root,
      encoding: 'utf8',
    },
  );
  return { status, stdout, stderr };
}

test('runs a working and prints one line of JSON', () => {
  const { status, stdout, stderr } = working('final-ratio', '{"front":14,"rear":50}');
  expect([status, stderr]).toEqual([0, '']);
  expect(stdout.trim().split('\n')).toHaveLength(1);
  expect(JSON.parse(stdout)).toEqual({ ratio: 3.57142857143 });
});

test('explains a working with the numbers filled in', () => {
  const { status, stdout } = working('final-ratio', '{"front":14,"rear":50}', '--explain');
  expect([status, stdout]).toEqual([0, 'ratio = 50 / 14 = 3.571\n']);
});

test.each([
  [['final-ratio', '{"front":14}'], /^missing-input: "rear" is missing/],
  [['final-ratio', '{"front":14.5,"rear":50}'], /^teeth-not-whole: /],
  [['final-ratio', '{"front":1e999,"rear":50}'], /^not-finite: /],
  [['final-ratio', '{"front":14,'], /^not-understood: The input is not JSON/],
  [['final-ratio'], /^not-understood: Give the input of final-ratio/],
  [['chain-song', '{}'], /^unknown-working: /],
  [['--lisst'], /^not-understood: "--lisst"/],
])('bad input %j: exit 1 and one line', (words, line) => {
  const { status, stdout, stderr } = working(...words);
  expect([status, stdout]).toEqual([1, '']);
  expect(stderr).toMatch(line);
  expect(stderr.trim().split('\n')).toHaveLength(1);
});

test('lists every working with inputs and units, for people and for machines', () => {
  const { stdout } = working('--list');
  expect(stdout).toContain('chain-length: Chain length for a centre distance');
  expect(stdout).toContain('centre [mm]');
  const list = JSON.parse(working('--list', '--json').stdout) as {
    name: string;
    inputs: { unit: string }[];
    outputs: unknown[];
  }[];
  expect(list.length).toBeGreaterThanOrEqual(21);
  for (const one of list) {
    expect(one.inputs.length).toBeGreaterThan(0);
    expect(one.outputs.length).toBeGreaterThan(0);
    for (const input of one.inputs) expect(input.unit).toBeTypeOf('string');
  }
});
