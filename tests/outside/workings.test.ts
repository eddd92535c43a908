import { describe, expect, test } from 'vitest';
import { workings } from '../../src/trade/workings.ts';
import { allChecks } from './checks/index.ts';
import { marks } from './register.ts';

describe.each(workings().map(({ name }) => name))('%s against the outside', (name) => {
  const checks = allChecks.filter(({ working }) => working === name);

  test('has a check', () => {
    expect(checks.length).toBeGreaterThan(0);
  });

  for (const one of checks) test(`${one.says} [${one.source}]`, () => one.run());
});

test('every check names its source, how well it is known, and a working that exists', () => {
  const names = new Set(workings().map(({ name }) => name));
  for (const { working, says, source, mark } of allChecks) {
    expect(names).toContain(working);
    expect(says.length, working).toBeGreaterThan(5);
    expect(source.trim().length, `${working}: ${says}`).toBeGreaterThan(5);
    expect(marks).toContain(mark);
  }
});

test('no check is registered twice', () => {
  const keys = allChecks.map(({ working, says }) => `${working}: ${says}`);
  expect(new Set(keys).size).toBe(keys.length);
});

test('every working has a check that does not rest on our own arithmetic, bar the ones of pure geometry', () => {
  const geometry = ['centre-distance', 'ratio-change'];
  const bare = workings()
    .map(({ name }) => name)
    .filter((name) => !allChecks.some(({ working, mark }) => working === name && mark !== 'computed'));
  expect(bare.filter((name) => !geometry.includes(name))).toEqual([]);
});
