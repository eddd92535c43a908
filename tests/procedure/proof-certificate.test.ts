import canonicalize from 'canonicalize';
import { describe, expect, test } from 'vitest';
import { hashOf } from '../../src/journal/hash.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import { combinations, satisfies } from '../../src/procedure/facts.ts';
import { certificateText, certify, ROW_LIMIT } from '../../src/procedure/proof/certificate.ts';
import { prove } from '../../src/procedure/proof/prove.ts';
import { reachable } from '../procedures/removal.ts';
import { generate } from './generate.ts';
import { sample } from './sample.ts';

const certificateOf = (definition: Definition) => certify(definition, prove(definition));

describe('the certificate', () => {
  test('says of the sample what can be seen in it', () => {
    expect(certificateOf(sample)).toMatchObject({
      procedure: 'sample',
      revision: 1,
      stations: 12,
      holds: ['clipWay', 'torque'],
      shortened: false,
      rows: [
        {
          facts: { link: 'clip' },
          cells: ['must', 'must'],
          path: ['kit', 'card', 'ratio', 'bolts', 'cure', 'which', 'clipWay', 'slack', 'torque', 'complete'],
        },
        {
          facts: { link: 'rivet' },
          cells: ['free', 'must'],
          path: ['kit', 'card', 'ratio', 'bolts', 'cure', 'which', 'slack', 'torque', 'complete'],
        },
      ],
    });
  });

  test('bears the hash by which jobs know the revision, whatever the order of keys', () => {
    expect(certificateOf(sample).hash).toBe(hashOf(sample));
    const stored = JSON.parse(canonicalize(sample) ?? '') as Definition;
    expect(certificateOf(stored).hash).toBe(hashOf(sample));
  });

  test('each combination of facts has one row, and its cells are what deleting the pass shows', () => {
    for (let seed = 0; seed < 25; seed++) {
      const definition = generate({ stations: 24, seed, facts: 3 });
      const { rows, holds } = certificateOf(definition);
      for (const facts of combinations(definition.meta.facts)) {
        const fitting = rows.filter((row) =>
          Object.entries(row.facts).every(([fact, value]) => facts[fact] === value),
        );
        expect(fitting, `seed ${seed}`).toHaveLength(1);
        holds.forEach((hold, at) => {
          const meta = definition.states[hold]?.meta;
          const applies = satisfies(meta?.kind === 'hold' ? meta.applies : undefined, facts);
          const needed = !reachable(definition, facts, definition.initial, hold).has('complete');
          expect(fitting[0]?.cells[at]).toBe(needed ? (applies ? 'must' : 'anyway') : 'free');
          if (needed) expect(fitting[0]?.path).toContain(hold);
        });
      }
    }
  });

  test('calls a hold that depends on a fact which changes no way one that must be passed', () => {
    const definition = structuredClone(sample) as Definition & {
      states: { torque: { meta: { applies?: unknown } } };
    };
    definition.states.torque.meta.applies = { sealed: true };
    const { rows } = certificateOf(definition);
    expect(rows.map(({ cells }) => cells[1])).toEqual(['must', 'must']);
    definition.states.torque.meta.applies = { link: 'clip' };
    expect(certificateOf(definition).rows.map(({ cells }) => cells[1])).toEqual(['must', 'anyway']);
  });

  test('stays short where facts are many, and says so', () => {
    const definition = generate({ stations: 250, seed: 5 });
    const certificate = certificateOf(definition);
    expect(2 ** Object.keys(definition.meta.facts).length).toBeGreaterThan(ROW_LIMIT);
    expect(certificate.rows).toHaveLength(ROW_LIMIT);
    expect(certificate.shortened).toBe(true);
    expect(certificateText(certificate)).toContain(`the first ${ROW_LIMIT} rows of more; all are proved`);
  });

  test('as text: every line fits the table', () => {
    const lines = certificateText(certificateOf(sample)).split('\n');
    expect(lines.slice(-3)).toEqual(['link   1  2  stations', 'clip   ●  ●  9', 'rivet  ·  ●  8']);
  });
});
