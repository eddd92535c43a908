import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { phoneDistance, phraseDistance, TOO_CLOSE } from '../../src/hear/distance.ts';
import { spell } from '../../src/hear/lexicon.ts';
import { PHONES } from '../../src/hear/phones.ts';

const WORDS: Record<string, string> = {
  torque: 'T AO R K',
  confirmed: 'K AH N F ER M D',
  not: 'N AA T',
  five: 'F AY V',
  nine: 'N AY N',
  locked: 'L AA K T',
  unlocked: 'AH N L AA K T',
  brake: 'B R EY K',
  lever: 'L EH V ER',
  firm: 'F ER M',
  next: 'N EH K S T',
  step: 'S T EH P',
  stop: 'S T AA P',
  say: 'S EY',
  again: 'AH G EH N',
};
const phones = (w: string) => WORDS[w]?.split(' ') ?? spell(w);

describe('phoneme distance', () => {
  test('a phone and its voiced twin are nearer than a stop and a vowel', () => {
    expect(phoneDistance('P', 'B')).toBeLessThan(phoneDistance('P', 'S'));
    expect(phoneDistance('P', 'S')).toBeLessThan(phoneDistance('P', 'AA'));
    expect(phoneDistance('IH', 'IY')).toBeLessThan(phoneDistance('IY', 'AA'));
  });

  test('is symmetric, zero only for the same phone, never above one', () => {
    for (const p of PHONES) {
      for (const q of PHONES) {
        const d = phoneDistance(p, q);
        expect(d).toBe(phoneDistance(q, p));
        expect(d === 0).toBe(p === q);
        expect(d).toBeLessThanOrEqual(1.1);
      }
    }
  });

  test('a phrase and its own negation are too close to live together', () => {
    expect(phraseDistance('torque confirmed', 'torque not confirmed', phones)).toBeLessThan(TOO_CLOSE);
    expect(phraseDistance('locked', 'unlocked', phones)).toBeLessThan(TOO_CLOSE);
  });

  test('five and nine are close, which is why fife and niner exist', () => {
    expect(phraseDistance('five', 'nine', phones)).toBeLessThan(phraseDistance('five', 'stop', phones));
  });

  test('commands chosen to differ do differ', () => {
    expect(phraseDistance('brake lever firm', 'torque confirmed', phones)).toBeGreaterThan(TOO_CLOSE);
    expect(phraseDistance('next step', 'say again', phones)).toBeGreaterThan(TOO_CLOSE);
  });

  test('phrases: symmetric, zero for the same, within 0 and 1.1', () => {
    const phrase = fc
      .array(fc.constantFrom(...Object.keys(WORDS)), { minLength: 1, maxLength: 4 })
      .map((w) => w.join(' '));
    fc.assert(
      fc.property(phrase, phrase, (a, b) => {
        const d = phraseDistance(a, b, phones);
        expect(d).toBeCloseTo(phraseDistance(b, a, phones), 9);
        expect(d).toBeGreaterThanOrEqual(0);
        expect(d).toBeLessThanOrEqual(1.1);
        if (a === b) expect(d).toBe(0);
      }),
    );
  });
});
