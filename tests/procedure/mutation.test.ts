import { readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { Definition } from '../../src/procedure/definition.ts';
import { machineFor } from '../../src/procedure/machine.ts';
import type { Finding } from '../../src/procedure/proof/finding.ts';
import { findings } from '../../src/procedure/proof/findings.ts';
import { prove } from '../../src/procedure/proof/prove.ts';
import { shapeFindings } from '../../src/procedure/proof/shape.ts';
import { readDefinition } from '../../src/procedure/proof/structure.ts';
import { seeded } from './generate.ts';
import { type Mutant, mutantsOf } from './mutants.ts';
import { play } from './play.ts';
import { sample } from './sample.ts';

/*
 * The proof of the proof: faults are put into procedures that pass the check, and the check must reject every one that
 * lets a bad run complete. What it lets through is played on the real machine, and an observer that knows the unharmed
 * procedure looks for a job that is complete with a hold point unpassed.
 */

const folder = new URL('../../procedures/', import.meta.url);
const names = readdirSync(folder, { withFileTypes: true }).flatMap((entry) =>
  entry.isDirectory() ? [entry.name] : [],
);
const shipped = await Promise.all(
  names.map(async (name) => {
    const module: { default: Definition } = await import(new URL(`${name}/index.ts`, folder).href);
    return [name, module.default] as const;
  }),
);
const all = [['sample', sample] as const, ...shipped];
const drawings = new Set(readdirSync(new URL('../../assets/drawings/', import.meta.url)));
const SEED = Number(process.env.SEED ?? 1125);
const slow = process.env.SLOW !== undefined;
/** Mutants of one shipped procedure in a run of everyday length, drawn by the seed; of the sample all are tried. */
const SHARE = slow ? Number.POSITIVE_INFINITY : 80;

/** The cheap layers first; the first one that says no is enough, and which one it was is of interest. */
function rejectedBy(mutant: Definition): 'types' | 'shape' | 'names and proofs' | null {
  const read = readDefinition(mutant);
  if ('findings' in read) return 'types';
  if (shapeFindings(read.definition).length > 0) return 'shape';
  return findings(mutant, { drawings }).length > 0 ? 'names and proofs' : null;
}

/** Would the proofs alone, without a look at the shape of the states, have seen it? */
function provedBad(mutant: Definition): boolean {
  const read = readDefinition(mutant);
  return 'findings' in read || prove(read.definition).findings.length > 0;
}

function badRun(mutant: Definition, rules: Definition, events: number): readonly string[] | null {
  const machine = machineFor(mutant);
  const played = play(machine, { random: seeded(SEED), events, rules, right: 0.75, untilBad: true });
  return played.bad[0]?.missing ?? null;
}

/** So many of them, drawn without favour. */
function drawn<T>(all: readonly T[], count: number): T[] {
  if (all.length <= count) return [...all];
  const random = seeded(SEED);
  const tagged = all.map((one) => ({ one, at: random() }));
  return tagged
    .toSorted((a, b) => a.at - b.at)
    .slice(0, count)
    .map(({ one }) => one);
}

describe(`mutation campaign, seed ${SEED}`, () => {
  test.each(all)(
    '%s: every fault that lets a bad run complete is rejected',
    (name, definition) => {
      expect(findings(definition, { drawings }).map(({ says }): Finding['says'] => says)).toEqual([]);
      const mutants = drawn(
        mutantsOf(definition, seeded(SEED)).filter(
          (mutant) => JSON.stringify(mutant.definition) !== JSON.stringify(definition),
        ),
        definition === sample ? Number.POSITIVE_INFINITY : SHARE,
      );
      const layers = new Map<string, number>();
      const survivors: Mutant[] = [];
      for (const mutant of mutants) {
        const layer = rejectedBy(mutant.definition);
        if (layer) layers.set(layer, (layers.get(layer) ?? 0) + 1);
        else survivors.push(mutant);
      }
      const faults = mutants.filter(({ judgement }) => !judgement);
      const judged = survivors.filter(({ judgement }) => judgement);
      const harmless = survivors.filter(({ judgement }) => !judgement);
      const events = slow ? 20_000 : 1500;
      const dangerous = harmless.filter((mutant) => badRun(mutant.definition, definition, events) !== null);
      const count = (list: readonly Mutant[]) => {
        const each = new Map<string, number>();
        for (const { operator } of list) each.set(operator, (each.get(operator) ?? 0) + 1);
        return [...each].map(([operator, some]) => `${operator} ${some}`).join(', ');
      };
      const rejected = faults.length - harmless.length;
      const rate = ((100 * rejected) / faults.length).toFixed(1);
      const lines = [
        `${name}: ${mutants.length} mutants, ${faults.length} of them faults: ${rejected} rejected (${rate} %), ${harmless.length} harmless, ${dangerous.length} dangerous`,
        `  rejected by ${[...layers].map(([layer, some]) => `${layer} ${some}`).join(', ')}`,
        `  harmless, played ${events} events each without a bad run: ${count(harmless) || 'none'}`,
        `  for a person to judge: ${count(judged) || 'none'}`,
      ];
      process.stdout.write(`${lines.map((line) => `  ${line}`).join('\n')}\n`);
      expect(dangerous.map(({ operator, at }) => `${operator} at ${at}`)).toEqual([]);
      expect(rejected / faults.length).toBeGreaterThan(0.9);
    },
    1_200_000,
  );

  test('faults of construction really do let bad runs complete, and the proofs see those without the shape', () => {
    const mutants = mutantsOf(sample, seeded(SEED)).filter(({ judgement }) => !judgement);
    let bad = 0;
    let seen = 0;
    const unseen: string[] = [];
    for (const { definition, operator, at } of mutants) {
      if ('findings' in readDefinition(definition)) continue;
      let missing: readonly string[] | null = null;
      try {
        missing = badRun(definition, sample, slow ? 6000 : 300);
      } catch {
        // A machine that cannot even be made or played completes nothing.
      }
      if (missing === null) continue;
      bad++;
      if (provedBad(definition)) seen++;
      else unseen.push(`${operator} at ${at}`);
    }
    process.stdout.write(
      `    sample: ${bad} faults completed a bad run when played; the proofs alone saw ${seen} of them; shape, names or phrases were needed for: ${unseen.join(', ') || 'none'}\n`,
    );
    expect(bad).toBeGreaterThan(5);
    expect(seen).toBeGreaterThan(0);
  }, 600_000);
});
