import { TradeError } from './fault.ts';
import { chainWorkings } from './working/chain.ts';
import { chainFitWorkings } from './working/chain-fit.ts';
import type { Working } from './working/define.ts';
import { gearingWorkings } from './working/gearing.ts';
import { serviceWorkings } from './working/service.ts';
import { sizeWorkings } from './working/sizes.ts';
import { torqueWorkings } from './working/torque.ts';

export type { FieldKind, WorkingField } from './field.ts';
export type { Working } from './working/define.ts';

const all: readonly Working[] = [
  ...gearingWorkings,
  ...chainWorkings,
  ...chainFitWorkings,
  ...torqueWorkings,
  ...serviceWorkings,
  ...sizeWorkings,
];
const byName = new Map(all.map((working) => [working.name, working]));

/** Every working, in the order a job meets them. */
export function workings(): readonly Working[] {
  return all;
}

/** @throws TradeError `unknown-working` */
export function findWorking(name: string): Working {
  const found = byName.get(name);
  if (found === undefined)
    throw new TradeError(
      'unknown-working',
      `There is no working "${name}": it is one of ${[...byName.keys()].join(', ')}.`,
    );
  return found;
}

/**
 * Runs the working called `name` on plain JSON. Deterministic; numbers are rounded to 12 significant digits.
 * @throws TradeError
 */
export function runWorking(name: string, input: unknown): Record<string, unknown> {
  return findWorking(name).run(input);
}

/**
 * The formula of the working called `name` with the numbers of `input` filled in, line by line.
 * @throws TradeError
 */
export function explainWorking(name: string, input: unknown): string[] {
  return findWorking(name).explain(input);
}
