import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/*
 * Runs the tests group after group. What presses keys, listens and measures in a real browser needs the machine to itself:
 * a long press on a machine busy with property tests would be a longer press. Prints the count of all groups at the end.
 */
const GROUPS = [['pure', 'outside'], ['browser'], ['office'], ['whole']] as const;

const root = fileURLToPath(new URL('../..', import.meta.url));
const cache = `${root}.cache`;
mkdirSync(cache, { recursive: true });

interface Count {
  readonly numPassedTests: number;
  readonly numFailedTests: number;
  readonly numPendingTests: number;
}

let failed = false;
const total = { passed: 0, failed: 0, skipped: 0 };
for (const group of GROUPS) {
  const report = `${cache}/tests-${group.join('-')}.json`;
  rmSync(report, { force: true });
  const projects = group.flatMap((name) => ['--project', name]);
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${report}`];
  const began = performance.now();
  const { status } = spawnSync(
    'npx',
    ['vitest', 'run', '--config', 'tests/vitest.config.ts', ...projects, ...reporters],
    {
      cwd: root,
      stdio: ['ignore', 'inherit', 'inherit'],
    },
  );
  console.log(`${group.join(' and ')}: ${((performance.now() - began) / 1000).toFixed(0)} s`);
  if (status !== 0) failed = true;
  try {
    const count = JSON.parse(readFileSync(report, 'utf8')) as Count;
    total.passed += count.numPassedTests;
    total.failed += count.numFailedTests;
    total.skipped += count.numPendingTests;
  } catch {
    console.error(`The tests of ${group.join(' and ')} did not run to their end.`);
    failed = true;
  }
}
console.log(`${total.passed} passed, ${total.failed} failed, ${total.skipped} skipped`);
process.exit(failed ? 1 : 0);
