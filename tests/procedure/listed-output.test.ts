import { describe, expect, test } from 'vitest';
import { outputAt } from '../../src/procedure/amounts.ts';
import { decide } from '../../src/procedure/decide.ts';
import type { Stamped } from '../../src/procedure/events.ts';
import { procedure, reading, step, working } from '../../src/procedure/index.ts';
import { machineFor } from '../../src/procedure/machine.ts';
import { findings } from '../../src/procedure/proof/findings.ts';

const head = { id: 'shims', title: 'Two valves', revision: 1, covers: 'Nothing real.', facts: {}, tools: {} };
const shim = (says: string) => ({ says, unit: 'mm', plausible: [1, 4] }) as const;

/** Two clearances in, two shims out; `second` is the key of the second shim. */
const twoValves = (second: string) =>
  procedure({
    ...head,
    figures: { one: shim('First new shim'), other: shim('Second new shim') },
    initial: 'measure',
    states: {
      measure: reading({
        say: 'Measure.',
        measure: { name: 'gap', label: 'Gap', unit: 'mm', min: 0, max: 1 },
        inside: 'choose',
        outside: 'measure',
      }),
      choose: working({
        say: 'Look.',
        working: 'valve-shim',
        inputs: { measured: [{ reading: 'gap' }, 0.1], fitted: [2.5, 2.6], target: { min: 0.15, max: 0.2 } },
        answers: [{ key: 'shims.0', label: 'First', unit: 'mm' }],
        gives: { one: 'shims.0', other: second },
        next: 'fit',
        noAnswer: 'measure',
      }),
      fit: step({
        say: 'Fit.',
        shows: [
          { label: 'First', amount: { figure: 'one' }, unit: 'mm' },
          { label: 'Second', amount: { figure: 'other' }, unit: 'mm' },
          { label: 'The same', amount: { result: 'choose', of: 'shims.0' }, unit: 'mm' },
        ],
        next: 'complete',
      }),
    },
  });

describe('one item of a listed output', () => {
  test('is found by its place, and is nothing where there is none', () => {
    const output = { shims: [2.5, 2.6], friction: 3 };
    expect(outputAt(output, 'shims.1')).toBe(2.6);
    expect(outputAt(output, 'shims')).toEqual([2.5, 2.6]);
    expect(outputAt(output, 'shims.2')).toBeUndefined();
    expect(outputAt(output, 'friction.0')).toBeUndefined();
    expect(outputAt(output, 'toString')).toBeUndefined();
  });

  test('is proved known when it sets a figure, and refused by name and by use otherwise', () => {
    expect(findings(twoValves('shims.1'))).toEqual([]);
    const codes = (second: string) => findings(twoValves(second)).map(({ code }) => code);
    expect(codes('shims')).toContain('output-unknown');
    expect(codes('shim.1')).toContain('output-unknown');
    const { choose, ...rest } = twoValves('shims.1').states;
    const given = { ...choose, meta: { ...choose?.meta, gives: { one: 'shims.1', other: 'shims.1' } } };
    const unsure = { ...twoValves('shims.1'), states: { ...rest, choose: given } };
    expect(findings(unsure).map(({ code }) => code)).toContain('result-not-computed');
  });

  test('sets its figure when the result is taken; a list too short is no answer', () => {
    const run = (second: string) => {
      const machine = machineFor(twoValves(second));
      const start = machine.start({
        facts: {},
        figures: {},
        people: [{ id: 'p1', name: 'P', role: 'mechanic' }],
        tools: [],
        at: 0,
      });
      const by = { by: 'p1', via: 'keys', at: 1 } as const;
      const at = decide(machine, start, { type: 'reading', value: 0.3, unit: 'mm', ...by }).snapshot;
      const { inputs = {}, output = null, fault } = at.context.visits.at(-1)?.result ?? {};
      const event: Stamped = output
        ? { type: 'accept', inputs, output, ...by }
        : { type: 'cannot', code: fault?.code ?? '', ...by };
      return decide(machine, at, event).snapshot;
    };
    const fitted = run('shims.1');
    expect(fitted.station).toBe('fit');
    const visit = fitted.context.visits.find(({ station }) => station === 'choose');
    // 2.5 + 0.3 − 0.175 = 2.625, thinner of 2.6 and 2.65; 2.6 + 0.1 − 0.175 = 2.525, thinner of 2.5 and 2.55.
    expect(visit?.figures).toEqual({
      one: { value: 2.6, unit: 'mm', source: 'working' },
      other: { value: 2.5, unit: 'mm', source: 'working' },
    });
    expect(run('shims.2').station).toBe('measure');
  });
});
