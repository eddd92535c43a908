import { expect, test } from 'vitest';
import { choicesIn, matches, noFilter } from '../../src/book/filter.ts';
import { eventful, START, told } from './jobs.ts';

const DAY = 86_400_000;
const plain = told();
const late = told({ at: START + 10 * DAY, by: 'w-ilse', machine: 'LF-07', until: 'standFirm' });
const rich = told(eventful('5d0b3f52-6c1e-4a8e-9a55-1f2f6c0e1a02'));
const all = [plain, late, rich];
const found = (filter: Partial<typeof noFilter>) =>
  all.filter((digest) => matches(digest, { ...noFilter, ...filter }));

test('an empty filter finds all', () => expect(found({})).toEqual(all));

test('machine, person, procedure, outcome', () => {
  expect(found({ machine: 'LF-07' })).toEqual([late, rich]);
  expect(found({ person: 'w-nora' }).length).toBeGreaterThan(0);
  expect(found({ person: 'w-ilse', machine: 'LF-07', outcome: 'open' })).toEqual([late]);
  expect(found({ procedure: 'final-drive-recheck' })).toEqual([]);
});

test('days, both included; a job counts on every day on which it was being done', () => {
  expect(found({ from: '2026-03-12' })).toEqual([late]);
  expect(found({ to: '2026-03-02' })).toEqual([plain, rich]);
  expect(found({ from: '2026-03-02', to: '2026-03-02' })).toEqual([plain, rich]);
  expect(found({ from: '2026-03-03', to: '2026-03-11' })).toEqual([]);
});

test('every word must be found, without regard to capitals and marks on letters', () => {
  expect(found({ text: 'COSMETIC seal' })).toEqual([rich]);
  expect(found({ text: 'cósmetic' })).toEqual([rich]);
  expect(found({ text: 'cosmetic nowhere' })).toEqual([]);
  expect(found({ text: '1a02' })).toEqual([rich]);
  expect(found({ text: 'tw-2' }).length).toBeGreaterThan(0);
});

test('there is to choose from what there is, each once', () => {
  const { machines, people, procedures } = choicesIn(all);
  expect(machines.map(({ id }) => id).sort()).toEqual(['LF-01', 'LF-07']);
  expect(new Set(people.map(({ id }) => id)).size).toBe(people.length);
  expect(procedures).toEqual([{ id: 'final-drive', says: 'Renew chain and sprockets' }]);
});
