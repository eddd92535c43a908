import canonicalize from 'canonicalize';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Definition } from '../../src/procedure/definition.ts';
import {
  fork,
  hold,
  kit,
  lookUp,
  oneOf,
  procedure,
  reading,
  step,
  working,
} from '../../src/procedure/index.ts';
import { FINDING_CODES, type FindingCode } from '../../src/procedure/proof/finding.ts';
import { checkProcedure, findings } from '../../src/procedure/proof/findings.ts';
import { plainRules, rulesBySound } from '../../src/procedure/proof/phrases.ts';
import { COMBINATION_LIMIT, prove } from '../../src/procedure/proof/prove.ts';
import { tangle } from './generate.ts';
import { sample } from './sample.ts';

/** The sample as JSON that may be harmed: every part can be reached and changed. */
// biome-ignore lint/suspicious/noExplicitAny: harmed JSON has no type.
type Harmed = any;

const harmed = (harm: (definition: Harmed) => void): unknown => {
  const copy = structuredClone(sample) as Harmed;
  harm(copy);
  return copy;
};

const bolts = { says: 'Bolts', unit: '', plausible: [3, 12] } as const;

/** A short procedure of given states, for faults that need a whole way of their own. */
const short = (states: Harmed, more: Harmed = {}): Definition =>
  procedure({
    id: 'short',
    title: 'Short',
    revision: 1,
    covers: 'Nothing real.',
    facts: { link: oneOf('Joining link', 'clip', 'rivet') },
    figures: {},
    tools: {},
    initial: Object.keys(states)[0],
    states,
    ...more,
  } as never) as Definition;

const aStep = (next: string) => step({ say: 'Do it.', next });
const aFork = (clip: string, rivet: string, look = false) =>
  fork({
    say: 'Which?',
    fact: 'link',
    look,
    ways: [
      { value: 'clip', phrase: 'clip link', to: clip },
      { value: 'rivet', phrase: 'riveted link', to: rivet },
    ],
  });
const aHold = (pass: string, fail: string, more: Harmed = {}) =>
  hold({ say: 'Look.', phrase: 'open end trails', why: 'So.', pass, fail, ...more });
const repair = (next: string) => step({ say: 'Put right.', rework: true, next });
const ratio = (next: string, noAnswer: string, inputs: Harmed) =>
  working({ say: 'Look.', working: 'final-ratio', inputs, answers: [], next, noAnswer });
const slack = (inside: string, outside: string, measure: Harmed = {}) =>
  reading({
    say: 'Measure.',
    measure: { name: 'slack', label: 'Slack', unit: 'mm', min: 1, max: 2, ...measure },
    inside,
    outside,
  });

/** For each code a procedure with that fault, and the station at which it must be found. */
const faults: Record<FindingCode, readonly [station: string | null, value: unknown]> = {
  'not-a-procedure': ['kit', harmed((d) => delete d.states.kit.meta.say)],
  'name-unusable': ['toString', short({ toString: aStep('complete') })],
  'start-unknown': [null, harmed((d) => (d.initial = 'complete'))],
  'ends-altered': ['complete', harmed((d) => (d.states.complete.on = {}))],
  'everywhere-altered': [null, harmed((d) => d.on.open.pop())],
  'way-missing': ['torque', harmed((d) => delete d.states.torque.on.fail)],
  'way-extra': ['torque', harmed((d) => (d.states.torque.on.note = [{ target: 'complete' }]))],
  'way-altered': ['clipWay', harmed((d) => delete d.states.clipWay.on.confirm[0].guard)],
  'arrival-altered': ['slack', harmed((d) => (d.states.slack.entry = []))],
  'state-altered': ['clipWay', harmed((d) => (d.states.clipWay.type = 'final'))],
  'tags-altered': ['clipWay', harmed((d) => delete d.states.clipWay.tags)],
  'fork-incomplete': [
    'which',
    harmed((d) => {
      d.states.which.meta.choices.pop();
      d.states.which.on.choose.pop();
    }),
  ],
  'fork-overlaps': ['which', harmed((d) => (d.states.which.meta.choices[1].value = 'clip'))],
  'target-unknown': ['adjust', harmed((d) => (d.states.adjust.on.advance[0].target = 'nowhere'))],
  'fact-unknown': ['which', harmed((d) => delete d.meta.facts.link)],
  'fact-value-unknown': ['clipWay', harmed((d) => (d.states.clipWay.meta.applies.link = 'glue'))],
  'figure-unknown': ['torque', harmed((d) => (d.states.torque.meta.measure.target.figure = 'guess'))],
  'tool-unknown': ['slack', harmed((d) => (d.states.slack.meta.measure.tool = 'spoon'))],
  'part-not-in-kit': ['adjust', harmed((d) => (d.states.adjust.meta.fits = 'gloves'))],
  'drawing-unknown': ['slack', harmed((d) => (d.states.slack.meta.drawing = 'none.svg'))],
  'unit-unknown': ['slack', harmed((d) => (d.states.slack.meta.measure.unit = 'furlong'))],
  'unit-differs': ['torque', harmed((d) => (d.states.torque.meta.measure.unit = 'ft·lbf'))],
  'working-unknown': ['ratio', harmed((d) => (d.states.ratio.meta.working = 'guess'))],
  'working-input-unknown': ['ratio', harmed((d) => (d.states.ratio.meta.inputs.middle = 3))],
  'working-input-missing': ['ratio', harmed((d) => delete d.states.ratio.meta.inputs.rear)],
  'working-input-kind': ['ratio', harmed((d) => (d.states.ratio.meta.inputs.rear = 40.5))],
  'output-unknown': ['ratio', harmed((d) => (d.states.ratio.meta.answers[0].key = 'luck'))],
  'reading-unknown': ['torque', harmed((d) => (d.states.torque.meta.measure.max = { reading: 'none' }))],
  'result-unknown': ['cure', harmed((d) => (d.states.cure.meta.minutes = { result: 'kit', of: 'x' }))],
  'procedure-unknown': [
    null,
    harmed((d) => (d.meta.followUp = { procedure: 'none', says: 'Look again.', afterHours: 1 })),
  ],
  'name-taken': ['torque', harmed((d) => (d.states.torque.meta.measure.name = 'slack'))],
  'name-unused': [null, harmed((d) => (d.meta.figures.spare = bolts))],
  'range-empty': [null, harmed((d) => (d.meta.figures.bolts.plausible = [12, 3]))],
  'limits-impossible': ['slack', harmed((d) => (d.states.slack.meta.measure.min = 50))],
  'limits-missing': ['torque', harmed((d) => delete d.states.torque.meta.measure.tolerancePercent)],
  'limits-twice': ['torque', harmed((d) => (d.states.torque.meta.measure.min = 1))],
  'tolerance-without-target': ['torque', harmed((d) => delete d.states.torque.meta.measure.target)],
  'tolerance-impossible': ['torque', harmed((d) => (d.states.torque.meta.measure.tolerancePercent = 0))],
  'target-outside': ['slack', harmed((d) => (d.states.slack.meta.measure.target = 99))],
  'amount-impossible': ['cure', harmed((d) => (d.states.cure.meta.minutes = 0))],
  'list-empty': ['bolts', harmed((d) => (d.states.bolts.meta.passes = []))],
  'figure-not-looked-up': ['bolts', harmed((d) => d.states.card.meta.needs.splice(1, 1))],
  'reading-not-taken': [
    'later',
    short({
      which: aFork('first', 'later'),
      first: slack('later', 'first'),
      later: slack('complete', 'later', { name: 'again', max: { reading: 'slack' } }),
    }),
  ],
  'result-not-computed': [
    'first',
    short({
      first: step({
        say: 'Do it.',
        shows: [{ label: 'Ratio', amount: { result: 'after', of: 'ratio' }, unit: '' }],
        next: 'after',
      }),
      after: ratio('complete', 'first', { front: 13, rear: 48 }),
    }),
  ],
  'fact-read-too-early': [
    'first',
    short({
      first: aFork('one', 'one'),
      one: aStep('after'),
      after: aFork('complete', 'two', true),
      two: aStep('complete'),
    }),
  ],
  'fact-not-asked': [
    'cut',
    short({
      cut: working({
        say: 'Look.',
        working: 'chain-cut',
        inputs: { link: { fact: 'link' } },
        answers: [],
        next: 'complete',
        noAnswer: 'cut',
      }),
    }),
  ],
  'hold-can-be-missed': [
    'check',
    short({ first: slack('check', 'complete'), check: aHold('complete', 'mend'), mend: repair('check') }),
  ],
  'hold-never-met': [
    'check',
    short({
      which: aFork('check', 'other'),
      check: aHold('complete', 'mend', { applies: { link: 'rivet' } }),
      mend: repair('check'),
      other: aStep('complete'),
    }),
  ],
  'rework-does-not-return': [
    'check',
    short({ check: aHold('last', 'mend'), mend: repair('last'), last: aStep('complete') }),
  ],
  'dead-end': [
    'round',
    short({ first: slack('complete', 'round'), round: aStep('round2'), round2: aStep('round') }),
  ],
  'complete-out-of-reach': [null, short({ first: aStep('first') }, { initial: 'first' })],
  'never-reached': ['lost', short({ first: aStep('complete'), lost: aStep('complete') })],
  'loop-without-a-person': [
    'which',
    short({ which: aFork('again', 'complete'), again: aFork('which', 'complete') }),
  ],
  'too-many-combinations': ['f0', tangle(13)],
  'phrase-generic': ['clipWay', harmed((d) => (d.states.clipWay.meta.phrase = 'the next step'))],
  'phrases-too-close': [
    'clipWay',
    harmed((d) => (d.states.clipWay.meta.phrase = 'axle torque not confirmed')),
  ],
  'phrase-unsayable': ['clipWay', harmed((d) => (d.states.clipWay.meta.phrase = 'a = b'))],
  'advance-beside-hold': ['clipWay', harmed((d) => (d.states.clipWay.on.advance = [{ target: 'slack' }]))],
};

describe('every fault that the check knows is found where it is', () => {
  test.each(FINDING_CODES.map((code) => [code] as const))('%s', (code) => {
    const [station, value] = faults[code];
    const found = findings(value, { drawings: new Set(), procedures: new Set() });
    expect(found.map((one) => `${one.station} ${one.code}`)).toContain(`${station} ${code}`);
    for (const { says } of found) expect(says).toMatch(/^[A-Z"].*\.$/);
  });

  test('a list of codes without doubles, and the sample has none of them', () => {
    expect(new Set(FINDING_CODES).size).toBe(FINDING_CODES.length);
    expect(findings(sample, { drawings: new Set() })).toEqual([]);
  });
});

test('canonical JSON of a procedure is the same procedure', () => {
  expect(findings(JSON.parse(canonicalize(sample) ?? ''))).toEqual([]);
});

describe('hostile input', () => {
  const paths = (
    value: unknown,
    path: readonly (string | number)[] = [],
  ): (readonly (string | number)[])[] =>
    typeof value === 'object' && value !== null
      ? [
          path,
          ...Object.entries(value).flatMap(([key, inner]) =>
            paths(inner, [...path, Array.isArray(value) ? Number(key) : key]),
          ),
        ]
      : [path];
  const places = paths(sample);

  test('any JSON at any place of a procedure: findings, never an exception', () => {
    let spoilt = 0;
    fc.assert(
      fc.property(
        fc.constantFrom(...places),
        fc.jsonValue({ maxDepth: 3 }),
        fc.constantFrom('set', 'add', 'delete'),
        (path, junk, how) => {
          const value = structuredClone(sample) as Harmed;
          const parent = path.slice(0, -1).reduce((at: Harmed, key) => at[key], value);
          const key = path[path.length - 1];
          if (key === undefined) return;
          if (how === 'delete') delete parent[key];
          else if (how === 'set') parent[key] = junk;
          else if (typeof parent[key] === 'object' && parent[key] !== null) parent[key].added = junk;
          const checked = checkProcedure(JSON.parse(JSON.stringify(value)));
          if (checked.findings.length > 0) spoilt++;
        },
      ),
      { numRuns: process.env.SLOW ? 20_000 : 300 },
    );
    expect(spoilt).toBeGreaterThan(60);
  });

  test('anything at all: findings, never an exception', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (junk) => {
        expect(findings(junk).map(({ code }) => code)).toContain('not-a-procedure');
      }),
    );
  });

  test.each([
    ['own __proto__ as a state', '{"states":{"__proto__":{"meta":{"kind":"step"}}}}'],
    ['deep nesting', `${'{"a":'.repeat(5000)}1${'}'.repeat(5000)}`],
    ['a list', '[1,2,3]'],
  ])('%s', (_, text) => {
    const value = JSON.parse(text);
    expect(findings(value).length).toBeGreaterThan(0);
    expect(findings({ ...sample, ...value }).length).toBeGreaterThan(0);
  });

  test('inputs of a working that are nested without end', () => {
    let inputs: unknown = 1;
    for (let depth = 0; depth < 4000; depth++) inputs = { inner: inputs };
    const value = harmed((d) => (d.states.ratio.meta.inputs = { front: inputs }));
    expect(findings(value).map(({ code }) => code)).toEqual(['not-a-procedure']);
  });

  test('a state of a name that objects have does not hide a missing one', () => {
    const value = harmed((d) => (d.initial = 'constructor'));
    expect(findings(value).map(({ code }) => code)).toContain('start-unknown');
  });
});

describe('phrases by spelling alone', () => {
  test.each([
    ['open end trails', 'Open end, trails', true],
    ['torque confirmed', 'torque not confirmed', true],
    ['plate fully home', 'plate partly home', true],
    ['front axle tight', 'rear axle tight', true],
    ['open end trails', 'side plate home', false],
    ['chain line true', 'guard refitted', false],
  ])('%s / %s: too close is %s', (one, other, close) => {
    expect(plainRules.tooClose(one, other) !== null).toBe(close);
    expect(plainRules.tooClose(other, one) !== null).toBe(close);
  });
});

test('phrases by sound: those that are live together, and those against the words of every station', () => {
  const firstSounds = (one: string, other: string) => (one[0] === other[0] ? 0.1 : 1);
  const phrases = rulesBySound(firstSounds, 0.3);
  const found = findings(sample, { phrases }).map(({ says }) => says);
  expect(found).toEqual([
    '"open end trails" is too close to "one step back" (said at every station): they sound alike: word one of them differently.',
    '"riveted link" is too close to "resume the job" (said at every station): they sound alike: word one of them differently.',
  ]);
  const nearGeneric = harmed((d) => (d.states.clipWay.meta.phrase = 'seated and shut'));
  const near = findings(nearGeneric, { phrases }).filter(({ station }) => station === 'clipWay');
  expect(near.map(({ code }) => code)).toContain('phrases-too-close');
});

test('the combinations of one section have a limit that is said aloud', () => {
  const proof = prove(tangle(13));
  expect(2 ** 13).toBeGreaterThan(COMBINATION_LIMIT);
  expect(proof.findings.map(({ code }) => code)).toContain('too-many-combinations');
  expect(prove(tangle(6))).toMatchObject({ findings: [], combinations: 64 });
});

test('kit and look-up say which lists are empty', () => {
  const empty = short({
    kit: kit({ say: 'Call off.', items: {}, next: 'card' }),
    card: lookUp({ say: 'Read.', needs: [], next: 'complete' }),
  });
  const found = findings(empty).filter(({ code }) => code === 'list-empty');
  expect(found.map(({ station }) => station)).toEqual(['kit', 'card']);
});
