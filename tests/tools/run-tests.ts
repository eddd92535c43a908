import { mkdirSync, readdirSync } from 'node:fs';
import { join, relative } from 'node:path';
import { buildApp, buildPage } from '../../src/cli/app-files.ts';
import { type Group, runGroup } from './run-group.ts';

/*
 * Runs the groups of tests, several at once. Most of the time of the whole app goes by in waiting: for a pedal that is kept
 * down, for a sentence that is spoken. What only reckons fills those gaps at a lower priority, so that a press stays as long
 * as it is meant to be. Within a lane one group follows another. Prints the count of all tests at the end.
 */
const BESIDE = ['voice', 'teach', 'kill', 'looks', 'enrol'].map((name) => `tests/whole/${name}.test.ts`);
const LANES: readonly (readonly Group[])[] = [
  // What is spoken goes by the clock, whoever has the processor; the files are dealt out so that both lanes take as long.
  [
    { name: 'whole, beside', projects: ['whole'], only: BESIDE },
    { name: 'browser', projects: ['browser'] },
  ],
  [{ name: 'whole', projects: ['whole'], without: BESIDE }],
  [
    { name: 'office', projects: ['office'], yields: true },
    // Last, and two files at once: it takes what the others leave as they end.
    { name: 'pure and outside', projects: ['pure', 'outside'], yields: true, workers: 2 },
  ],
];

const root = join(import.meta.dirname, '../..');
mkdirSync(join(root, '.cache'), { recursive: true });

// Built once, here: a test that finds its sources newer would build anew under the feet of another.
await buildApp();
await buildPage();

const began = performance.now();
const seconds = () => `${((performance.now() - began) / 1000).toFixed(0)} s`;

const lane = async (groups: readonly Group[]) => {
  const results = [];
  for (const group of groups) {
    console.log(`${seconds()}: ${group.name} begins`);
    const result = await runGroup(root, group);
    console.log(`\n===== ${group.name}, ended at ${seconds()}\n${result.output.trim()}`);
    console.log(`${group.name}: ${result.seconds.toFixed(0)} s, ${result.wrong ?? 'all passed'}\n`);
    results.push(result);
  }
  return results;
};
const results = (await Promise.all(LANES.map(lane))).flat();

const wrong = results.flatMap(({ name, wrong: what }) => (what === null ? [] : [`${name}: ${what}`]));
// A file that no group takes in would be a test that is never run.
const run = new Set(results.flatMap(({ files }) => files.map((file) => relative(root, file))));
const all = readdirSync(join(root, 'tests'), { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.test.ts'))
  .map((file) => join('tests', file));
wrong.push(...all.filter((file) => !run.has(file)).map((file) => `${file} was not run`));
for (const line of wrong) console.error(line);

const sum = (of: 'passed' | 'failed' | 'skipped') => results.reduce((total, one) => total + one[of], 0);
console.log(`${sum('passed')} passed, ${sum('failed')} failed, ${sum('skipped')} skipped`);
process.exitCode = wrong.length > 0 ? 1 : 0;
