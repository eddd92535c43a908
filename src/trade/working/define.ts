import { TradeError } from '../fault.ts';
import { describe, type Fields, readFields, type Values, type WorkingField } from '../field.ts';
import type { Unit } from '../units.ts';

/** A named computation: described for forms and lists, run on plain JSON, explained with a job's own numbers. */
export interface Working {
  readonly name: string;
  readonly title: string;
  /** The formula in words and signs, as a text book would print it. */
  readonly formula: string;
  readonly inputs: readonly WorkingField[];
  readonly outputs: readonly WorkingField[];
  readonly sources: readonly string[];
  /**
   * Runs on unknown JSON; the result is plain JSON with finite numbers.
   * @throws TradeError
   */
  run(input: unknown): Record<string, unknown>;
  /**
   * The formula with this input's numbers filled in, line by line.
   * @throws TradeError
   */
  explain(input: unknown): string[];
}

type Shape = Omit<WorkingField, 'name'>;
export type Outputs = Readonly<Record<string, Shape>>;

export interface Definition<I extends Fields, O extends Outputs> {
  name: string;
  title: string;
  formula: string;
  inputs: I;
  outputs: O;
  sources: readonly string[];
  /** One function gives both the result and its explanation, so the two cannot drift apart. */
  work(values: Values<I>): { result: { readonly [K in keyof O]: unknown }; lines: readonly string[] };
}

export function define<const I extends Fields, const O extends Outputs>(made: Definition<I, O>): Working {
  return {
    name: made.name,
    title: made.title,
    formula: made.formula,
    inputs: describe(made.inputs),
    outputs: Object.entries(made.outputs).map(([name, shape]) => ({ name, ...shape })),
    sources: made.sources,
    run: (input) => {
      const { result } = made.work(readFields(made.inputs, input));
      // Listed outputs only, in the order listed: what else a part of the sum carries is its own business.
      const listed = Object.keys(made.outputs).map((name) => [name, settle(result[name], made.name)]);
      return Object.fromEntries(listed) as Record<string, unknown>;
    },
    explain: (input) => [...made.work(readFields(made.inputs, input)).lines],
  };
}

/**
 * Rounds every number of a result to 12 significant digits. Sine and its kin may differ in the last bit
 * from one browser engine to the next; a recorded result must come out the same wherever it is recomputed.
 */
function settle(value: unknown, where: string): unknown {
  if (typeof value === 'number') {
    if (!Number.isFinite(value))
      throw new TradeError('not-finite', `${where} has no finite result for these figures: check them.`);
    return Number(value.toPrecision(12)) + 0;
  }
  if (Array.isArray(value)) return value.map((item) => settle(item, where));
  if (typeof value === 'object' && value !== null)
    return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, settle(item, where)]));
  return value;
}

export const figure = (unit: Unit, says: string): Shape => ({ kind: 'number', unit, says });
export const count = (unit: Unit, says: string): Shape => ({ kind: 'integer', unit, says });
export const words = (says: string): Shape => ({ kind: 'text', unit: '', says });
export const verdict = (says: string, choices: readonly string[]): Shape => ({
  kind: 'choice',
  unit: '',
  says,
  choices,
});
export const truth = (says: string): Shape => ({ kind: 'flag', unit: '', says });
export const maybe = (shape: Shape): Shape => ({ ...shape, nullable: true });
export const rows = (says: string, of: Shape): Shape => ({
  kind: 'list',
  unit: of.unit,
  says,
  of: { name: 'each', ...of },
});
export const group = (says: string, fields: Outputs): Shape => ({
  kind: 'record',
  unit: '',
  says,
  fields: Object.entries(fields).map(([name, shape]) => ({ name, ...shape })),
});
