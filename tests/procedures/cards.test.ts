import { describe, expect, test } from 'vitest';
import { procedures } from '../../procedures/index.ts';
import { workshop } from '../../seeds/workshop.ts';

const definitions = await Promise.all(procedures.map(({ load }) => load()));

describe.each(workshop.machines)('$id, $says', ({ facts, figures }) => {
  test('each figure is one that a procedure uses, in its unit and within what is plausible', () => {
    for (const [name, { value, unit }] of Object.entries(figures)) {
      const declared = definitions.flatMap(({ meta }) => meta.figures[name] ?? []);
      expect(declared.length, name).toBeGreaterThan(0);
      for (const one of declared) {
        expect(unit, name).toBe(one.unit);
        expect(value, name).toBeGreaterThanOrEqual(one.plausible[0]);
        expect(value, name).toBeLessThanOrEqual(one.plausible[1]);
      }
    }
  });

  test('each fact is one that a procedure asks for, with a value of it', () => {
    for (const [name, value] of Object.entries(facts)) {
      const declared = definitions.flatMap(({ meta }) => meta.facts[name] ?? []);
      expect(declared.length, name).toBeGreaterThan(0);
      for (const one of declared) expect(one.values, name).toContain(value);
    }
  });
});

test('every procedure has the tools that it names, in calibration where it asks for that', () => {
  for (const { id, meta } of definitions)
    for (const [kind, { calibrated }] of Object.entries(meta.tools)) {
      const found = workshop.tools.filter((tool) => tool.kind === kind);
      expect(found.length, `${id}: ${kind}`).toBeGreaterThan(0);
      if (calibrated) expect(found.some(({ calibratedUntil = '' }) => calibratedUntil > '2027')).toBe(true);
    }
});

test('one machine comes without figures, so that they are read from the manual', () => {
  expect(workshop.machines.some(({ figures }) => Object.keys(figures).length < 5)).toBe(true);
});
