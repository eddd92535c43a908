import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { TradeError } from '../../src/trade/fault.ts';
import { units } from '../../src/trade/units.ts';
import { explainWorking, runWorking, type WorkingField, workings } from '../../src/trade/workings.ts';
import { examples } from './examples.ts';

const codeOf = (run: () => unknown): string => {
  try {
    run();
  } catch (error) {
    if (error instanceof TradeError) return error.code;
    throw error;
  }
  return 'none';
};

const fixed = [
  'final-ratio',
  'ratio-change',
  'road-speed',
  'sprocket-diameter',
  'chain-length',
  'centre-distance',
  'chain-cut',
  'chain-wear',
  'meeting-cycle',
  'chain-slack',
  'torque-convert',
  'torque-adapter',
  'tighten-order',
  'torque-window',
  'bolt-preload',
  'sag',
  'valve-shim',
  'brake-wear',
  'tyre-size',
  'type-size',
  'job-time',
];

test('every promised working is there, once', () => {
  const names = workings().map(({ name }) => name);
  expect(names).toEqual(expect.arrayContaining(fixed));
  expect(new Set(names).size).toBe(names.length);
  expect(Object.keys(examples).sort()).toEqual([...names].sort());
});

test('an unknown working is refused by name', () => {
  expect(codeOf(() => runWorking('chain-song', {}))).toBe('unknown-working');
});

function everyField(fields: readonly WorkingField[]): WorkingField[] {
  return fields.flatMap((field) => [
    field,
    ...everyField(field.fields ?? []),
    ...everyField(field.of?.fields ?? []),
  ]);
}

describe.each(workings().map((working) => [working.name, working] as const))('%s', (name, working) => {
  const example = examples[name] ?? {};

  test('gives exactly the outputs it lists, as plain JSON', () => {
    const result = runWorking(name, example);
    expect(Object.keys(result)).toEqual(working.outputs.map((output) => output.name));
    expect(JSON.parse(JSON.stringify(result))).toEqual(result);
  });

  test('outputs are null only where listed as such, and numbers where numbers are listed', () => {
    const result = runWorking(name, example);
    for (const output of working.outputs) {
      const value = result[output.name];
      if (value === null) expect(output.nullable, output.name).toBe(true);
      else if (output.kind === 'number') expect(value, output.name).toBeTypeOf('number');
      else if (output.kind === 'integer') expect(Number.isInteger(value), output.name).toBe(true);
      else if (output.kind === 'choice') expect(output.choices, output.name).toContain(value);
      else if (output.kind === 'flag') expect(value, output.name).toBeTypeOf('boolean');
      else if (output.kind === 'list') expect(Array.isArray(value), output.name).toBe(true);
    }
  });

  test('explains itself with the numbers of the input, and nothing undefined', () => {
    const lines = explainWorking(name, example);
    expect(lines.length).toBeGreaterThan(0);
    for (const line of lines) expect(line).not.toMatch(/undefined|NaN|null|Infinity/);
  });

  test('has a title, a formula, sources, and a known unit and words for every field', () => {
    expect(working.title && working.formula).not.toBe('');
    expect(working.sources.length).toBeGreaterThan(0);
    for (const field of everyField([...working.inputs, ...working.outputs])) {
      expect(units, field.name).toContain(field.unit);
      expect(field.says.length, field.name).toBeGreaterThan(2);
    }
  });

  test('refuses each required input left out, an input it does not know, and no record at all', () => {
    for (const field of working.inputs) {
      const { [field.name]: _, ...rest } = example;
      const code = codeOf(() => runWorking(name, rest));
      if (field.optional !== true) expect(code, field.name).toBe('missing-input');
      else expect(code, field.name).toBe('none');
    }
    expect(codeOf(() => runWorking(name, { ...example, frunt: 1 }))).toBe('unknown-input');
    for (const nothing of [null, undefined, 3, 'x', []])
      expect(codeOf(() => runWorking(name, nothing))).toBe('wrong-kind');
  });

  test('refuses NaN and infinities in every number', () => {
    for (const field of working.inputs.filter(({ kind }) => kind === 'number' || kind === 'integer')) {
      for (const bad of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])
        expect(
          codeOf(() => runWorking(name, { ...example, [field.name]: bad })),
          field.name,
        ).toBe('not-finite');
      expect(
        codeOf(() => runWorking(name, { ...example, [field.name]: '7' })),
        field.name,
      ).toBe('wrong-kind');
    }
  });

  test('with any one figure replaced it gives finite JSON or a coded refusal, never another error', () => {
    const value = fc.oneof(
      fc.double({ noNaN: false }),
      fc.integer({ min: -5, max: 500 }),
      fc.double({ min: 0, max: 1000, noNaN: true }),
      fc.array(fc.double({ min: 0, max: 1000, noNaN: true }), { maxLength: 4 }),
      fc.jsonValue({ maxDepth: 2 }),
    );
    const names = working.inputs.map((field) => field.name);
    fc.assert(
      fc.property(fc.constantFrom(...names), value, (field, replaced) => {
        const input = { ...example, [field]: replaced };
        if (codeOf(() => runWorking(name, input)) !== 'none') return;
        const result = runWorking(name, input);
        expect(JSON.parse(JSON.stringify(result))).toEqual(result);
        for (const line of explainWorking(name, input)) expect(line).not.toMatch(/undefined|NaN/);
      }),
      { numRuns: 150 },
    );
  });

  test('is deterministic and leaves its input alone', () => {
    const before = JSON.stringify(example);
    expect(JSON.stringify(runWorking(name, example))).toBe(
      JSON.stringify(runWorking(name, structuredClone(example))),
    );
    expect(JSON.stringify(example)).toBe(before);
  });
});

test('numbers come out rounded to 12 significant digits', () => {
  expect(runWorking('final-ratio', { front: 14, rear: 50 })).toEqual({ ratio: 3.57142857143 });
});

test('half a tooth, a negative length and a text for a number each have their own code', () => {
  expect(codeOf(() => runWorking('final-ratio', { front: 13.5, rear: 49 }))).toBe('teeth-not-whole');
  expect(codeOf(() => runWorking('meeting-cycle', { teeth: 13, pitches: 99.5 }))).toBe('not-whole');
  expect(codeOf(() => runWorking('chain-length', { front: 13, rear: 49, pitch: -1, centre: 600 }))).toBe(
    'out-of-domain',
  );
  expect(codeOf(() => runWorking('chain-length', { front: 13, rear: 49, pitch: 12.7, centre: '600' }))).toBe(
    'wrong-kind',
  );
  expect(codeOf(() => runWorking('chain-cut', { ...examples['chain-cut'], link: 'string' }))).toBe(
    'unknown-choice',
  );
  expect(codeOf(() => runWorking('torque-convert', { value: 1, from: 'N·m', to: 'parsec' }))).toBe(
    'unknown-unit',
  );
  expect(codeOf(() => runWorking('valve-shim', { ...examples['valve-shim'], fitted: [2.5] }))).toBe(
    'wrong-count',
  );
  expect(codeOf(() => runWorking('bolt-preload', { torque: 5, diameter: 9 }))).toBe('thread-not-known');
  expect(codeOf(() => runWorking('tyre-size', { code: 'round' }))).toBe('tyre-code-not-read');
  expect(codeOf(() => runWorking('chain-wear', { pitch: 12.7, pitches: 20, measured: 266.7 * 2 }))).toBe(
    'figures-disagree',
  );
});

test('a range that leaves its end out refuses that end', () => {
  expect(codeOf(() => runWorking('torque-window', { target: 0, tolerancePercent: 5 }))).toBe('out-of-domain');
  expect(codeOf(() => runWorking('torque-window', { target: 0.01, tolerancePercent: 0 }))).toBe('none');
  expect(codeOf(() => runWorking('road-speed', { ...examples['road-speed'], rpm: 0 }))).toBe('none');
});

test('every refusal is one sentence on one line', () => {
  const bad: [string, unknown][] = [
    ['final-ratio', { front: 13 }],
    ['final-ratio', { front: 13, rear: 500 }],
    ['chain-cut', { ...examples['chain-cut'], adjuster: { min: 680, max: 640 } }],
    ['chain-cut', { ...examples['chain-cut'], adjuster: { min: 5, max: 40 } }],
    ['torque-adapter', { target: 80, wrench: 100, extension: 120, angle: 180 }],
    ['sag', { laden: [620], extended: [600] }],
    ['brake-wear', { measured: [3], new: 1, least: 2 }],
  ];
  for (const [name, input] of bad) {
    expect(() => runWorking(name, input)).toThrow(TradeError);
    try {
      runWorking(name, input);
    } catch (error) {
      const { sentence } = (error as TradeError).fault;
      expect(sentence).not.toContain('\n');
      expect(sentence.endsWith('.'), sentence).toBe(true);
    }
  }
});
