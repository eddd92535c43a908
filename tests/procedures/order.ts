import { expect } from 'vitest';
import type { Definition } from '../../src/procedure/definition.ts';
import type { Facts } from '../../src/procedure/facts.ts';
import { openedJob } from './training-machine.ts';
import { walk } from './walk.ts';

/** Does the job done right, and says of any two of its stations which one was left first. */
export function orderOf(definition: Definition, facts: Facts) {
  const { stations } = walk(definition, openedJob(definition, facts), { doer: 'p1' });
  return {
    stations,
    inTurn(...names: readonly string[]): void {
      const at = names.map((name) => stations.indexOf(name));
      expect(
        names.filter((_, index) => at[index] === -1),
        'not met',
      ).toEqual([]);
      expect(
        names.toSorted((one, other) => stations.indexOf(one) - stations.indexOf(other)),
        'in turn',
      ).toEqual(names);
    },
  };
}
