import { describe, expect, test } from 'vitest';
import type { Candidate } from '../../src/hear/decode.ts';
import { judge, needsPress, VOICE_ALONE_DB } from '../../src/hear/judge.ts';

const good: Candidate = {
  text: 'torque confirmed',
  kind: 'hold',
  score: -0.2,
  weakest: -0.5,
  known: null,
  taught: false,
  overRefusal: 20,
  refusal: 'torque not confirmed',
  runnerUp: 'next step',
  runnerUpScore: -3,
  before: 0,
  after: 0,
  early: false,
  startColumn: 40,
  endColumn: 70,
};

describe('what counts as said', () => {
  test('a whole phrase, alone and clear, counts', () => {
    expect(judge(good, 14)).toBeNull();
  });

  test.each([
    ['too-unsure', { score: -3 }],
    ['word-missing', { weakest: -4 }],
    ['sounds-negated', { overRefusal: 3 }],
    ['in-a-sentence', { before: 2 }],
    ['in-a-sentence', { after: 2 }],
    ['in-a-sentence', { before: 0.7, early: true }],
    ['too-close-to-other', { runnerUpScore: 0.2 }],
    ['too-slow', { endColumn: 40 + 50 }],
  ] as const)('%s', (code, change) => {
    expect(judge({ ...good, ...change }, 14)?.code).toBe(code);
  });

  test('an ordinary word may be less sure than a hold needs in its weakest word', () => {
    const word: Candidate = { ...good, kind: 'word', weakest: -3.5, overRefusal: Number.POSITIVE_INFINITY };
    expect(judge(word, 14)).toBeNull();
    expect(judge({ ...word, kind: 'hold' }, 14)?.code).toBe('word-missing');
  });

  const word: Candidate = { ...good, kind: 'word', score: -1.2, overRefusal: Number.POSITIVE_INFINITY };

  test('the shorter the phrase, the surer it must be', () => {
    expect(judge(word, 9)).toBeNull();
    expect(judge(word, 4)?.code).toBe('too-unsure');
    expect(judge(word, 20)).toBeNull();
  });

  test('the model’s own words are a second opinion: where they disagree a word must be surer, where they agree less will do', () => {
    expect(judge({ ...word, known: -8 }, 9)?.code).toBe('too-unsure');
    expect(judge({ ...word, score: -0.1, known: -6 }, 9)).toBeNull();
    expect(judge({ ...word, score: -0.1, known: -9 }, 9)?.code).toBe('too-unsure');
    expect(judge({ ...word, score: -1.8, known: -2 }, 9)).toBeNull();
    expect(judge({ ...word, score: -1.8, known: -4 }, 9)?.code).toBe('too-unsure');
    expect(judge({ ...word, score: -3.1, known: 0 }, 9)?.code).toBe('too-unsure');
  });

  test('where the model’s own words do not speak for it, a word must stand more alone', () => {
    expect(judge({ ...word, score: -0.19, known: -7.8, before: 1 }, 9)?.code).toBe('in-a-sentence');
    expect(judge({ ...word, score: -0.19, known: -7.8, after: 0.9 }, 9)?.code).toBe('in-a-sentence');
    expect(judge({ ...word, score: 0, known: -1, before: 1, after: 0.5 }, 9)).toBeNull();
  });

  test('a hold phrase with room for another word in it does not count', () => {
    expect(judge({ ...good, endColumn: 40 + 49 }, 14)).toBeNull();
    expect(judge({ ...good, kind: 'word', endColumn: 40 + 56 }, 14)).toBeNull();
  });

  test('a person’s own way is not held to the model’s words; a hold never gains by them', () => {
    expect(judge({ ...word, known: -8, taught: true }, 9)).toBeNull();
    expect(judge({ ...good, score: -2.4, known: 0 }, 14)?.code).toBe('too-unsure');
  });

  test('voice alone opens a hold only far over the noise, and never before the ratio is known', () => {
    expect(needsPress(null)).toBe(true);
    expect(needsPress(VOICE_ALONE_DB - 1)).toBe(true);
    expect(needsPress(VOICE_ALONE_DB)).toBe(false);
  });
});
