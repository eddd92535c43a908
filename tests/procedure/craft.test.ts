import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { procedures } from '../../procedures/index.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import { fork, hold, kit, procedure, step, yesNo } from '../../src/procedure/index.ts';
import { ADVICE_CODES } from '../../src/procedure/proof/advice.ts';
import { craftAdvice, MOST_STEPS } from '../../src/procedure/proof/craft.ts';
import { syllables } from '../../src/procedure/proof/craft-words.ts';
import type { Draft } from '../../src/procedure/vocabulary.ts';
import { generate } from './generate.ts';

type Drafts = Readonly<Record<string, Draft>>;

const goggles = { eyes: { calls: 'Goggles', kind: 'protective' } } as const;
const protect = (next: string) => kit({ say: 'Call off.', items: goggles, next });
const act = (say: string, next = 'release') => step({ say, next });
const released = { say: 'Look.', phrase: 'released to rider', witness: 'always', fail: 'again' } as const;
const why = 'A second pair of eyes sees what is really there.';

const well: Drafts = {
  protect: protect('act'),
  act: step({
    say: 'Press the pin out.',
    cautions: [{ word: 'warning', text: 'It flies.' }],
    next: 'release',
  }),
  release: hold({ ...released, why, pass: 'handOver' }),
  again: step({ say: 'Put it right.', rework: true, next: 'act' }),
  handOver: step({ say: 'Hand over.', next: 'complete' }),
};

/** Names of stations are put together here, which the compiler cannot follow: what it would check, the graph checks. */
function made(states: Drafts, initial: string): Definition {
  const head = { title: 'Craft', revision: 1, covers: 'Nothing real.', figures: {}, tools: {} };
  const written = { id: 'craft', ...head, facts: { one: yesNo('One') }, initial, states };
  return (procedure as (written: unknown) => Definition)(written);
}

const advice = (changed: Drafts, initial = 'protect') =>
  craftAdvice(made({ ...well, ...changed }, initial)).map(({ station, code }) => `${station} ${code}`);

const row = (steps: number, last: string): Drafts =>
  Object.fromEntries(
    Array.from({ length: steps }, (_, n) => [
      `s${n}`,
      step({ say: 'Turn it.', next: n + 1 < steps ? `s${n + 1}` : last }),
    ]),
  );

describe('each piece of advice, and only that one', () => {
  test('a procedure written well has none', () => {
    expect(advice({})).toEqual([]);
  });

  test('a sentence longer than one breath; a full stop or a colon gives a new one', () => {
    const half = 'the little lever on the left';
    const said = (say: string) => advice({ act: act(say) });
    expect(said(`Lay ${half} beside ${half} and ${half}.`)).toEqual(['act sentence-long']);
    expect(said(`Lay ${half}. Lay ${half}. Lay ${half}.`)).toEqual([]);
    expect(said(`Lay ${half}: ${half}.`)).toEqual([]);
    const text = `Now ${half} and ${half} and ${half}.`;
    const cautious = step({ say: 'Do.', cautions: [{ word: 'notice', text }], next: 'release' });
    expect(advice({ act: cautious })).toEqual(['act sentence-long']);
  });

  test('two acts joined, and too many sentences', () => {
    expect(advice({ act: act('Turn it and then pull it.') })).toEqual(['act acts-joined']);
    expect(advice({ act: act('Turn it. Pull it. Push it. Lift it.') })).toEqual(['act acts-many']);
    expect(advice({ act: act('Point at one, then at the other.') })).toEqual([]);
  });

  test('a caution that stands in the words comes too late', () => {
    expect(advice({ act: act('Danger: it flies.') })).toEqual(['act caution-in-words']);
    expect(advice({ act: act('Mind the danger of it.') })).toEqual([]);
  });

  test('too many steps in a row; a fork that steers by itself is no pause, one that asks is', () => {
    const end = act('Turn it.');
    // The row ends in `act`, which is one more step.
    const steps = (count: number, last: string) => ({
      protect: protect('s0'),
      act: end,
      ...row(count, last),
    });
    expect(advice(steps(MOST_STEPS - 1, 'act'))).not.toContain('s0 pause-missing');
    expect(advice(steps(MOST_STEPS, 'act'))).toContain('s0 pause-missing');
    const split = (look: boolean) =>
      fork({
        say: 'Which?',
        fact: 'one',
        look,
        ways: [
          { value: true, phrase: 'this one', to: 'act' },
          { value: false, phrase: 'another', to: 'act' },
        ],
      });
    const splitting = (look: boolean) =>
      advice({ ...steps(MOST_STEPS, 'split'), split: split(look) }).includes('s0 pause-missing');
    expect(splitting(false)).toBe(true);
    expect(splitting(true)).toBe(false);
  });

  test('danger before protective equipment', () => {
    expect(advice({}, 'act')).toContain('act protection-late');
  });

  test('a hold whose reason names nothing, or whose phrase says only that someone looked', () => {
    const holding = (phrase: string, reason: string) =>
      advice({ release: hold({ ...released, phrase, why: reason, pass: 'handOver' }) });
    expect(holding('released to rider', 'It matters.')).toEqual(['release why-thin']);
    expect(holding('bolts all checked', why)).toEqual(['release response-vague']);
    expect(holding('bolts at torque', why)).toEqual([]);
  });

  test('a first hold that comes late on the way through', () => {
    const before = { protect: protect('s0'), ...row(MOST_STEPS + 2, 'act') };
    expect(advice(before)).toContain('release first-hold-late');
    const after = { handOver: step({ say: 'Hand over.', next: 's0' }), ...row(MOST_STEPS + 2, 'complete') };
    expect(advice(after)).not.toContain('release first-hold-late');
  });

  test('nobody releases the work, or only in some jobs; the end is not said', () => {
    const alone = hold({ ...released, witness: 'never', why, pass: 'handOver' });
    expect(advice({ release: alone })).toEqual(['null release-missing']);
    const sometimes = hold({ ...released, why, applies: { one: true }, pass: 'handOver' });
    expect(advice({ release: sometimes })).toEqual(['null release-missing']);
    const { handOver: _, ...rest } = well;
    const silent = { ...rest, release: hold({ ...released, why, pass: 'complete' }) };
    expect(craftAdvice(made(silent, 'protect')).map(({ code }) => code)).toEqual(['completion-unsaid']);
  });
});

test.each([
  ['brake', 1],
  ['lever', 2],
  ['tightened', 2],
  ['torque', 1],
  ['caliper', 3],
  ['the', 1],
  ['eye', 1],
  ['machine', 2],
  ['wheel', 1],
  ['unladen', 3],
])('%s has %i syllables', (word, count) => {
  expect(syllables(word)).toBe(count);
});

test('generated procedures never make it throw, and whatever it says is a sentence', () => {
  fc.assert(
    fc.property(fc.nat(100_000), fc.integer({ min: 3, max: 40 }), (seed, stations) => {
      for (const { code, says } of craftAdvice(generate({ stations, seed, facts: 2 }))) {
        expect(ADVICE_CODES).toContain(code);
        expect(says).toMatch(/^["A-Z].*\.$/);
      }
    }),
    { numRuns: 60 },
  );
});

test.each(procedures)('$id: nothing to advise', async ({ load }) => {
  expect(craftAdvice(await load())).toEqual([]);
});
