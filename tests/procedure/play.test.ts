import { readdirSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Definition } from '../../src/procedure/definition.ts';
import { machineFor } from '../../src/procedure/machine.ts';
import { generate, seeded } from './generate.ts';
import { finish, play, wander } from './play.ts';
import { sample } from './sample.ts';

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

/** Events to be played over all procedures together. */
const EVENTS = process.env.SLOW ? 1_200_000 : 40_000;
const SEED = Number(process.env.SEED ?? 1125);

describe(`random play of the real machine, seed ${SEED}`, () => {
  test.each(all)(
    '%s is never completed with a hold point unpassed',
    (name, definition) => {
      const machine = machineFor(definition);
      const played = play(machine, { random: seeded(SEED), events: Math.ceil(EVENTS / all.length) });
      const { events, accepted, completed, stopped } = played;
      process.stdout.write(
        `  ${name}: seed ${SEED}, ${events} events, ${accepted} accepted, ${completed} jobs completed, ${stopped} stopped\n`,
      );
      expect(played.bad).toEqual([]);
      expect(played.advancedAtHold).toBe(0);
      expect(accepted).toBeGreaterThan(events / 10);
      expect(completed).toBeGreaterThan(0);
    },
    600_000,
  );

  test('nor is any generated procedure', () => {
    fc.assert(
      fc.property(fc.nat(1_000_000), fc.integer({ min: 5, max: 25 }), (seed, stations) => {
        const machine = machineFor(generate({ stations, seed, facts: 2 }));
        const played = play(machine, { random: seeded(seed), events: 300, right: 0.8 });
        expect(played.bad).toEqual([]);
        expect(played.advancedAtHold).toBe(0);
      }),
      { numRuns: process.env.SLOW ? 500 : 30, seed: SEED },
    );
  }, 600_000);

  test('from wherever a job was led, right events finish it: no way is a dead end, the last door never shut', () => {
    const machines = [machineFor(sample)];
    for (let seed = 0; seed < 6; seed++)
      machines.push(machineFor(generate({ stations: 20, seed, facts: 2 })));
    fc.assert(
      fc.property(fc.constantFrom(...machines), fc.nat(1_000_000), fc.nat(120), (machine, seed, events) => {
        const { snapshot, at } = wander(machine, seeded(seed), events);
        const end = finish(machine, snapshot, at, 400);
        expect(['complete', 'stopped']).toContain(end.outcome);
      }),
      { numRuns: process.env.SLOW ? 3000 : 150, seed: SEED },
    );
  }, 600_000);
});
