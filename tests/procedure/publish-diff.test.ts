import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import finalDrive from '../../procedures/final-drive/index.ts';
import recheck from '../../procedures/final-drive-recheck/index.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import { hold, procedure, step } from '../../src/procedure/index.ts';
import { differences, GROUPS, type Group } from '../../src/procedure/publish/diff.ts';
import type { Station } from '../../src/procedure/station.ts';
import { seeded } from './generate.ts';
import { mutantsOf } from './mutants.ts';
import { sample } from './sample.ts';

const all = [
  ['sample', sample],
  ['final-drive', finalDrive],
  ['final-drive-recheck', recheck],
] as const;

/** The sample with one station changed. */
function altered(name: string, change: Partial<Station>): Definition {
  const state = sample.states[name];
  const states = { ...sample.states, [name]: { ...state, meta: { ...state?.meta, ...change } } };
  return { ...sample, states } as Definition;
}

const lines = (before: Definition, after: Definition) =>
  differences(before, after).map(({ group, says }) => `${group}: ${says}`);

describe('nothing is told of what is the same, and everything else is', () => {
  test.each(all)('%s: equal data, in whatever order its keys are, differs in nothing', (_, definition) => {
    expect(differences(definition, definition)).toEqual([]);
    expect(differences(definition, structuredClone(definition))).toEqual([]);
    const turned = Object.fromEntries(Object.entries(definition.states).reverse());
    expect(differences(definition, { ...definition, states: turned })).toEqual([]);
  });

  test.each(all)(
    '%s: every single mutation gives at least one line',
    (_, definition) => {
      const mutants = mutantsOf(definition, seeded(7));
      const real = mutants.filter((one) => JSON.stringify(one.definition) !== JSON.stringify(definition));
      const silent = real.filter((one) => differences(definition, one.definition).length === 0);
      expect(silent.map(({ operator, at }) => `${operator} at ${at}`)).toEqual([]);
      expect(real.length).toBeGreaterThan(100);
    },
    60_000,
  );

  test('so does any change of a text or a number anywhere', () => {
    const places: (readonly (string | number)[])[] = [];
    const walk = (value: unknown, path: readonly (string | number)[]): void => {
      if (typeof value === 'string' || typeof value === 'number') places.push(path);
      else if (typeof value === 'object' && value !== null)
        for (const [key, inner] of Object.entries(value))
          walk(inner, [...path, Array.isArray(value) ? Number(key) : key]);
    };
    walk(sample, []);
    fc.assert(
      fc.property(fc.constantFrom(...places), (path) => {
        const copy = structuredClone(sample) as unknown as Record<string | number, unknown>;
        let at = copy;
        for (const key of path.slice(0, -1)) at = at[key] as typeof at;
        const key = path[path.length - 1] ?? '';
        at[key] = typeof at[key] === 'number' ? (at[key] as number) + 1 : `${at[key]}x`;
        expect(differences(sample, copy as unknown as Definition).length).toBeGreaterThan(0);
      }),
      { numRuns: 400 },
    );
  });

  test('what was changed and changed back is told both ways', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 2 ** 30 }), fc.nat(), (seed, at) => {
        const mutants = mutantsOf(sample, seeded(seed));
        const mutant = mutants[at % mutants.length]?.definition ?? sample;
        const [there, back] = [differences(sample, mutant), differences(mutant, sample)];
        expect(there.length > 0).toBe(back.length > 0);
      }),
      { numRuns: 200 },
    );
  });
});

describe('what only a person can judge is told where a person looks first', () => {
  const GROUP_OF: Readonly<Record<string, Group>> = {
    'ask for no witness': 'hold',
    'apply for one value only': 'hold',
    'allow a concession': 'hold',
    'make a hold an ordinary step': 'hold',
    'a wider tolerance': 'limit',
    'a wider upper limit': 'limit',
    'a lower limit that is lower': 'limit',
    'any tool': 'limit',
    'take the limits away': 'limit',
    'another unit': 'limit',
  };
  const rank = (group: Group) => GROUPS.findIndex(({ key }) => key === group);

  test.each(all)('%s', (_, definition) => {
    const judged = mutantsOf(definition, seeded(3)).filter(({ judgement }) => judgement);
    const met = new Set<string>();
    for (const { operator, definition: mutant } of judged) {
      const wanted = GROUP_OF[operator];
      expect(wanted, operator).toBeDefined();
      const found = differences(definition, mutant).map(({ group }) => group);
      expect(Math.min(...found.map(rank)), operator).toBeLessThanOrEqual(rank(wanted ?? 'build'));
      met.add(operator);
    }
    expect(met.size).toBeGreaterThan(3);
  });

  test.each(all)('%s: the gravest first', (_, definition) => {
    for (const { definition: mutant } of mutantsOf(definition, seeded(5)).slice(0, 200)) {
      const ranks = differences(definition, mutant).map(({ group }) => rank(group));
      expect(ranks).toEqual(ranks.toSorted((a, b) => a - b));
    }
  });
});

describe('in words', () => {
  test.each<[string, string, Partial<Station>, string]>([
    [
      'limits',
      'slack',
      { measure: { name: 'slack', label: 'Slack', unit: 'mm', min: 30, max: 61, tool: 'steelRule' } },
      'limit: Reading “Measure the slack.”: Slack: was 30 to 40 mm, is now 30 to 61 mm.',
    ],
    [
      'the phrase',
      'clipWay',
      { phrase: 'closed end leads' },
      'hold: Hold point “Check the clip: its open end must trail.”: the phrase was “open end trails”, is now “closed end leads”.',
    ],
    [
      'the witness',
      'clipWay',
      { witness: 'never' },
      'hold: Hold point “Check the clip: its open end must trail.”: was a witness when an apprentice does the work, is now no witness.',
    ],
    [
      'when it applies',
      'clipWay',
      { applies: { link: 'clip', sealed: true } },
      'hold: Hold point “Check the clip: its open end must trail.”: it applies: was when Joining link: clip, is now when Joining link: clip and Sealed chain: yes.',
    ],
    [
      'a caution',
      'refit',
      { cautions: [{ word: 'warning', text: 'The clip can fly off.' }] },
      'caution: Step “Turn the clip round.”: new warning: “The clip can fly off.”',
    ],
    [
      'a reworded step',
      'refit',
      { say: 'Take the clip off and turn it round.' },
      'word: Step “Take the clip off and turn it round.”: reworded: was “Turn the clip round.”, is now “Take the clip off and turn it round.”',
    ],
    ['a wait', 'cure', { minutes: 5 }, 'work: Wait “Let the thread locker set.”: minutes was 10, is now 5.'],
  ])('%s', (_, name, change, line) => {
    expect(lines(sample, altered(name, change))).toEqual([line]);
  });

  test('the kit', () => {
    const kit = sample.states.kit?.meta;
    if (kit?.kind !== 'kit') throw new Error('no kit');
    const items = [...kit.items.slice(1), { key: 'stand', calls: 'Rear stand', kind: 'tool' as const }];
    expect(lines(sample, altered('kit', { items }))).toEqual([
      'kit: Kit “Call off what you need.”: new: Rear stand.',
      'kit: Kit “Call off what you need.”: no longer asked for: Gloves.',
    ]);
  });

  test('the revision, and a tool that need not be calibrated any more', () => {
    const tools = { ...sample.meta.tools, torqueWrench: { says: 'torque wrench' } };
    expect(lines(sample, { ...sample, meta: { ...sample.meta, revision: 2, tools } })).toEqual([
      'limit: Torque wrench: calibrated was yes, is now nothing.',
      'head: Revision was 1, is now 2.',
    ]);
  });
});

describe('stations that come and go', () => {
  const head = {
    id: 'short',
    title: 'Short',
    revision: 1,
    covers: 'Nothing.',
    facts: {},
    figures: {},
    tools: {},
    initial: 'a' as const,
  };
  const done = step({ say: 'Hand over.', next: 'complete' });
  const check = hold({
    say: 'Nut tight?',
    phrase: 'nut is tight',
    why: 'It comes off.',
    pass: 'c',
    fail: 'a',
  });
  const short = procedure({ ...head, states: { a: step({ say: 'Fit the nut.', next: 'c' }), c: done } });
  const long = procedure({
    ...head,
    states: { a: step({ say: 'Fit the nut.', next: 'b' }), b: check, c: done },
  });

  test('a hold that is put in is one line, and so is one that is taken out', () => {
    expect(lines(short, long)).toEqual(['hold: New: the hold point “Nut tight?”, after “Fit the nut.”']);
    expect(lines(long, short)).toEqual([
      'hold: Gone: the hold point “Nut tight?”; it came after “Fit the nut.”',
    ]);
  });

  test('a hold that is left in but gone round is told as a way that leads elsewhere', () => {
    const round = { ...long, states: { ...long.states, a: short.states.a } } as Definition;
    expect(lines(long, round)).toEqual([
      'way: Step “Fit the nut.”: when done it goes to “Hand over.”; it went to “Nut tight?”',
    ]);
  });

  test('a station that becomes another kind', () => {
    const plain = procedure({
      ...head,
      states: {
        a: step({ say: 'Fit the nut.', next: 'b' }),
        b: step({ say: 'Nut tight?', next: 'c' }),
        c: done,
      },
    });
    expect(lines(long, plain)[0]).toBe('hold: Step “Nut tight?”: no longer a hold point: it is now a step.');
    expect(lines(plain, long)[0]).toBe(
      'hold: Hold point “Nut tight?”: now a hold point, was a step; it opens for “nut is tight”.',
    );
  });
});
