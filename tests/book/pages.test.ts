import { expect, test } from 'vitest';
import { back, firstPage, type Page, pageOf, picked, turned, type Way } from '../../src/book/pages.ts';

const record = (job: string, as: 'report' | 'story' = 'report'): Page => ({ at: 'record', job, as });

test('a record is read on top of the list, another view of it takes its place, and back leads to the list', () => {
  const first = turned(firstPage, record('a'));
  const story = turned(first, record('a', 'story'));
  expect(pageOf(story)).toEqual(record('a', 'story'));
  expect(story).toHaveLength(2);
  expect(back(story)).toEqual(firstPage);
  expect(back(firstPage)).toBeNull();
});

test('chapters lead back to the jobs, and from there out of the book', () => {
  const log = turned(turned(firstPage, record('a')), { at: 'log' });
  expect(log).toEqual([{ at: 'log' }]);
  expect(back(log)).toEqual(firstPage);
  const compare = turned(firstPage, { at: 'compare', a: 'a', b: 'b' });
  expect(back(turned(compare, record('b')) as Way)).toEqual(compare);
});

test('two at most are picked: a third takes the place of the first, a second pick undoes the first', () => {
  expect(picked([], 'a')).toEqual(['a']);
  expect(picked(['a', 'b'], 'c')).toEqual(['b', 'c']);
  expect(picked(['a', 'b'], 'a')).toEqual(['b']);
});
