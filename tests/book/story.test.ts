import { describe, expect, test } from 'vitest';
import { compare } from '../../src/book/compare.ts';
import { digestOf } from '../../src/book/digest.ts';
import { storyOf } from '../../src/book/story.ts';
import { spanInWords } from '../../src/book/words.ts';
import { randomJob } from '../journal/random-jobs.ts';
import { eventful, START, tell, told } from './jobs.ts';

describe('a record as a story', () => {
  const digest = digestOf(tell(eventful()));
  const chapters = storyOf(digest);
  const lines = chapters.flatMap(({ lines }) => lines);

  test('has a line for every record, refusals with their reason, in order', () => {
    expect(lines.map(({ seq }) => seq)).toEqual(digest.records.map(({ seq }) => seq));
    expect(lines.filter(({ refused }) => refused !== null)).toHaveLength(3);
    for (let seed = 1; seed < 15; seed++) {
      const other = digestOf(randomJob(seed));
      expect(storyOf(other).flatMap((chapter) => chapter.lines)).toHaveLength(other.records.length);
    }
  });

  test('names people, items and stations by their words, and a chapter tells of one station', () => {
    expect(lines[0]?.words).toBe('opened the job “Renew chain and sprockets” on Road machine 7');
    expect(lines.some(({ words }) => /^called off .+, TW-2$/.test(words))).toBe(true);
    expect(
      lines.some(({ words, who }) => words.startsWith('decided concession') && who === 'Nora Vance'),
    ).toBe(true);
    for (const [at, { station }] of chapters.entries()) expect(chapters[at - 1]?.station).not.toBe(station);
  });
});

describe('two records side by side', () => {
  const a = told();
  const b = told({ at: START + 86_400_000, pace: 60_000, by: 'w-pia' });

  test('a record does not differ from itself', () => {
    const same = compare(a, a);
    const pairs = [same.about, same.facts, same.readings, same.holds, same.refusals, same.tools].flat();
    expect(pairs.filter(({ differs }) => differs)).toEqual([]);
    expect(same.times.every((pair) => pair.a === pair.b)).toBe(true);
  });

  test('times, people and what was refused show', () => {
    const { about, times } = compare(a, b);
    expect(about.filter(({ differs }) => differs).map(({ what }) => what)).toEqual([
      'Opened',
      'People',
      'From first to last record',
    ]);
    expect(times.find(({ station }) => station === 'standFirm')).toMatchObject({ a: 40_000, b: 60_000 });
    const { refusals, holds, readings } = compare(a, digestOf(tell(eventful())));
    expect(refusals.map(({ what, a, b }) => [what, a, b])).toContainEqual(['wrong-phrase', '–', '1']);
    expect(holds.some(({ b }) => b.startsWith('CONCEDED'))).toBe(true);
    expect(readings.length).toBeGreaterThan(0);
  });
});

test('lengths of time for people', () => {
  expect([0, 59_400, 59_600, 3_599_000, 3_600_000, 90_000_000, 172_800_000].map(spanInWords)).toEqual([
    '0 s',
    '59 s',
    '1 min 00 s',
    '59 min 59 s',
    '1 h 00 min',
    '25 h 00 min',
    '2 d 0 h',
  ]);
});
