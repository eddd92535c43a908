import { describe, expect, test } from 'vitest';
import type { Candidate } from '../../src/hear/decode.ts';
import { judge, leastScore, needsPress, VOICE_ALONE_DB } from '../../src/hear/judge.ts';

const good: Candidate = {
  text: 'torque confirmed',
  kind: 'hold',
  score: -0.2,
  weakest: -0.5,
  overRefusal: 20,
  refusal: 'torque not confirmed',
  runnerUp: 'next step',
  runnerUpScore: -3,
  before: 0,
  after: 0,
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
    ['too-close-to-other', { runnerUpScore: -0.1 }],
  ] as const)('%s', (code, change) => {
    expect(judge({ ...good, ...change }, 14)?.code).toBe(code);
  });

  test('an ordinary word may be less sure than a hold needs in its weakest word', () => {
    const word: Candidate = { ...good, kind: 'word', weakest: -2.8, overRefusal: Number.POSITIVE_INFINITY };
    expect(judge(word, 14)).toBeNull();
    expect(judge({ ...word, kind: 'hold' }, 14)?.code).toBe('word-missing');
  });

  test('the shorter the phrase, the surer it must be', () => {
    expect(leastScore('word', 4)).toBeGreaterThan(leastScore('word', 9));
    expect(leastScore('word', 20)).toBe(leastScore('word', 9));
  });

  test('voice alone opens a hold only far over the noise, and never before the ratio is known', () => {
    expect(needsPress(null)).toBe(true);
    expect(needsPress(VOICE_ALONE_DB - 1)).toBe(true);
    expect(needsPress(VOICE_ALONE_DB)).toBe(false);
  });
});
