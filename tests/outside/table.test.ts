import { existsSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { begin, checksTable, end, withTable } from '../tools/checks-table.ts';
import { allChecks } from './checks/index.ts';

const file = new URL('../../DEVELOPERS.md', import.meta.url);

test('the table has one row for every check, source and mark included', () => {
  const rows = checksTable().split('\n').slice(2);
  expect(rows).toHaveLength(allChecks.length);
  for (const row of rows) expect(row.split(/(?<!\\)\|/)).toHaveLength(6);
});

test('the table replaces what stands between its marks, and nothing else', () => {
  const filled = withTable(`before\n${begin}\nstale\n${end}\nafter\n`) ?? '';
  expect(filled.startsWith(`before\n${begin}`)).toBe(true);
  expect(filled.endsWith(`${end}\nafter\n`)).toBe(true);
  expect(filled).not.toContain('stale');
  expect(withTable(filled)).toBe(filled);
  expect(withTable('no marks')).toBeNull();
});

test.runIf(existsSync(file))('DEVELOPERS.md carries the table as generated', () => {
  const text = readFileSync(file, 'utf8');
  expect(withTable(text), 'run npx tsx tests/tools/list-checks.ts --write DEVELOPERS.md').toBe(text);
});
