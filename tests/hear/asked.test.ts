import { describe, expect, test } from 'vitest';
import { answerTo } from '../../src/bench/answers.ts';
import { type Around, type Ask, freshConsole } from '../../src/bench/console.ts';
import { heardAt, livePhrases, READ_ON, TAP, wordsSpoken } from '../../src/bench/voice.ts';
import { END_OF_NOTE } from '../../src/hear/command-words.ts';
import { viewOf } from '../../src/job/view.ts';
import { jobAt } from '../browser/bench-job.ts';

// Everything that can be asked for with the voice is answered with the voice, or with what lies over the station.

const around = (station: string, change: Partial<Around> = {}): Around => ({
  view: viewOf(jobAt(station), 'ada'),
  people: [],
  worker: 'ada',
  visited: [],
  fresh: () => true,
  before: 'start',
  voided: 0,
  witnesses: [],
  back: null,
  ...change,
});
const STEP = around('slack');
const say = (text: string, where: Around, console = freshConsole) => {
  const live = livePhrases(console, where, { station: 1, over: 2 }).find((one) => one.text === text);
  if (!live) throw new Error(`"${text}" cannot be said here.`);
  return heardAt(console, { text, kind: live.kind, score: 1, runnerUp: null, runnerUpScore: 0 }, where);
};

describe('asked with the voice', () => {
  test.each([
    ['say again', { kind: 'speak', what: 'again' }],
    ['how much', { kind: 'speak', what: 'howMuch' }],
    ['what can I say', { kind: 'speak', what: 'words' }],
    ['pause the job', { kind: 'event', event: { type: 'pause' } }],
    ['one step back', { kind: 'event', event: { type: 'open', station: 'start' } }],
    ['take note', { kind: 'capture', what: 'voice' }],
  ])('%s', (text, effect) => {
    expect(say(text, STEP).effects).toEqual([effect]);
  });

  test('tell me why, where there is a reason', () => {
    const where = around('ratio');
    expect(say('tell me why', where).effects).toEqual([{ kind: 'speak', what: 'why' }]);
    expect(answerTo('why', where.view, freshConsole, null, () => []).join(' ').length).toBeGreaterThan(3);
  });

  test('trouble here opens its question, and its answers are said by their numbers', () => {
    const { console } = say('trouble here', STEP);
    expect(console.talk).toMatchObject({ about: 'trouble' });
    expect(say('number two', STEP, console).effects).toMatchObject([
      { kind: 'event', event: { type: 'trouble' } },
    ]);
  });

  test.each<Ask>(['again', 'howMuch', 'words', 'picture'])('%s is told aloud', (what) => {
    const told = answerTo(what, STEP.view, freshConsole, null, () => livePhrases(freshConsole, STEP));
    expect(told.join(' ').length).toBeGreaterThan(3);
  });
});

test('going back over a hold point is asked, and said again it goes', () => {
  const where = around('slack', { voided: 2 });
  const { console, effects } = say('one step back', where);
  expect([console.over, effects]).toEqual(['back', []]);
  expect(say('one step back', where, console).effects).toEqual([
    { kind: 'event', event: { type: 'open', station: 'start' } },
  ]);
});

test('what lies over the station is read on by voice only while there is more of it', () => {
  const why = { ...freshConsole, over: 'why' as const };
  const live = (pages: number, page: number) =>
    livePhrases({ ...why, overPage: page }, STEP, { station: 1, over: pages }).map(({ text }) => text);
  expect(live(2, 0)).toContain(READ_ON);
  expect(live(2, 1)).not.toContain(READ_ON);
  expect(live(1, 0)).not.toContain(READ_ON);
  expect(TAP).toMatchObject({ kind: 'tap', key: 'go' });
});

test.each(['slack', 'torque'])(
  'what can be said at %s is told in one breath, and no hold phrase with it',
  (station) => {
    const live = livePhrases(freshConsole, around(station));
    const told = wordsSpoken(live);
    expect(told).toHaveLength(1);
    const breaths = (told[0] ?? '').split(/[.,:;?!]+/).map((one) => one.trim());
    const words = live.map(({ text }) => text).filter(Boolean);
    expect(breaths.filter((one) => words.includes(one))).toEqual([]);
    for (const { text, kind } of live)
      if (kind === 'hold') expect(told[0]).not.toContain(text);
      else expect(told[0]).toContain(text);
  },
);

test('the end of a note is the phrase that the bench listens for', () => {
  expect(END_OF_NOTE).toBe('end of note');
});
