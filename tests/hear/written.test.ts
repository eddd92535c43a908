import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { COMMANDS, NUMBERS } from '../../src/bench/teachable.ts';
import { phraseRules } from '../../src/cli/phrase-rules.ts';
import { CALL_MS, CALL_WORDS, called, withCall } from '../../src/hear/call-word.ts';
import type { Phrase } from '../../src/hear/ear.ts';
import { refusalsOf } from '../../src/hear/refusals.ts';
import { shopVerdict } from '../../src/hear/shop.ts';
import { figureWords, matchWritten } from '../../src/hear/written.ts';

const HOLD = 'every line unbroken';
const live: Phrase[] = [
  { text: 'next step', kind: 'word' },
  { text: 'stop work', kind: 'stop' },
  { text: HOLD, kind: 'hold' },
];
const guess = (text: string, confidence = 0.9) => ({ text, confidence });
const heard = (...guesses: { text: string; confidence: number }[]) => {
  const matched = matchWritten(guesses, live);
  return matched && 'heard' in matched ? matched.heard.phrase : null;
};
const refused = (...guesses: { text: string; confidence: number }[]) => {
  const matched = matchWritten(guesses, live);
  return matched && 'nearly' in matched ? matched.nearly.refusal.code : null;
};

describe('what another engine wrote', () => {
  test('a phrase alone counts, whatever its capitals and signs', () => {
    expect(heard(guess(' Next step. '))).toBe('next step');
    expect(heard(guess('Every line, unbroken!'))).toBe(HOLD);
  });

  test('within other talk it counts for nothing, and that is said', () => {
    expect(heard(guess('and the next step is to wait'))).toBeNull();
    expect(refused(guess('and the next step is to wait'))).toBe('in-a-sentence');
    expect(refused(guess('is every line unbroken then'))).toBe('in-a-sentence');
  });

  test('a hold opens for its exact words in the best guess alone', () => {
    expect(heard(guess('every line is unbroken'), guess(HOLD, 0.8))).toBeNull();
    expect(heard(guess('every line on broken'), guess(HOLD, 0.8))).toBeNull();
    expect(refused(guess(HOLD, 0.5))).toBe('too-unsure');
    expect(refused(guess(HOLD, 0))).toBe('too-unsure');
    expect(refused(guess(HOLD), guess('every line not unbroken', 0.2))).toBe('sounds-negated');
  });

  test('no negated or partial form of a hold opens it', () => {
    for (const form of refusalsOf(HOLD)) expect(heard(guess(form), guess(HOLD, 0.9)), form).toBeNull();
  });

  test('nothing but a hold’s own words opens it, whatever is written', () => {
    const some = fc.constantFrom(...HOLD.split(' '), 'not', 'half', 'broken', 'next', 'step', 'the');
    fc.assert(
      fc.property(fc.array(some, { maxLength: 5 }), (words) => {
        expect(heard(guess(words.join(' '))) === HOLD).toBe(words.join(' ') === HOLD);
      }),
    );
  });

  test('a stop may come from any guess', () => {
    expect(heard(guess('shop work', 0.6), guess('stop work', 0.2))).toBe('stop work');
    expect(heard(guess('stop work', 0))).toBe('stop work');
    expect(heard(guess('text step', 0.6), guess('next step', 0.5))).toBeNull();
  });

  test.each([
    ['32', 'three two'],
    ['0.5', 'zero decimal five'],
    ['nine zero', 'nine zero'],
  ])('a figure written %s is %s', (written, words) => {
    expect(figureWords(written)?.join(' ')).toBe(words);
    const figure: Phrase[] = [{ text: '', kind: 'figure' }];
    expect(matchWritten([guess(written)], figure)).toMatchObject({ heard: { phrase: words } });
    expect(matchWritten([guess(written, 0.3)], figure)).toMatchObject({ nearly: {} });
    expect(heard(guess(written))).toBeNull();
  });

  test('what is only partly a figure is none', () => {
    expect(figureWords('about 32')).toBeNull();
    expect(figureWords('32 newton metres')).toBeNull();
  });
});

describe('the call word', () => {
  const word = CALL_WORDS[0] ?? '';
  const at = (phrase: string, startedAt: number) => ({ phrase, startedAt, endedAt: startedAt + 500 });
  const never = Number.NEGATIVE_INFINITY;

  test('without one everything counts, and nothing is added to what is live', () => {
    expect(called(null, never, at('next step', 0), 'word')).toEqual({ kind: 'counts' });
    expect(withCall(null, live)).toBe(live);
    expect(withCall(word, [])).toEqual([]);
    expect(withCall(word, live).map(({ text }) => text)).toContain(word);
  });

  test('an ordinary word and a figure count only shortly after it', () => {
    const call = called(word, never, at(word, 1000), 'word');
    expect(call).toEqual({ kind: 'call', openUntil: 1500 + CALL_MS });
    const until = call.kind === 'call' ? call.openUntil : 0;
    for (const kind of ['word', 'figure'] as const) {
      expect(called(word, until, at('next step', 2000), kind).kind).toBe('counts');
      expect(called(word, until, at('next step', until + 1), kind).kind).toBe('uncalled');
      expect(called(word, never, at('next step', 2000), kind)).toMatchObject({
        says: expect.stringContaining(word),
      });
    }
  });

  test('stopping and hold phrases never need it', () => {
    expect(called(word, never, at('stop work', 0), 'stop').kind).toBe('counts');
    expect(called(word, never, at(HOLD, 0), 'hold').kind).toBe('counts');
  });

  test('no call word sounds like another, nor like anything that is said at every station', () => {
    const said = [...COMMANDS, ...NUMBERS].map(({ text }) => text);
    for (const [i, one] of CALL_WORDS.entries())
      for (const other of [...CALL_WORDS.slice(i + 1), ...said])
        expect(phraseRules.tooClose(one, other), `${one} / ${other}`).toBeNull();
    expect(phraseRules.generic).toEqual(expect.arrayContaining([...CALL_WORDS]));
  });
});

test('what a shop lets a person do by voice', () => {
  expect(shopVerdict(31)).toMatchObject({ stands: 'good', remedy: null });
  expect(shopVerdict(18)).toMatchObject({
    stands: 'some',
    says: expect.stringMatching(/also needs the pedal/),
  });
  expect(shopVerdict(4)).toMatchObject({ stands: 'poor', says: expect.stringMatching(/pedal and keys/) });
});
