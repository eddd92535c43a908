import type { FactValue } from './facts.ts';

/**
 * Where a number comes from: written in the procedure, or looked up when it is needed. `figure` is a value of the
 * machine's card, `reading` one measured in this job, `result` one computed by a working in this job.
 */
export type Amount =
  | number
  | { readonly figure: string; readonly plus?: number }
  | { readonly reading: string }
  | { readonly result: string; readonly of: string };

/** Inputs of a working: plain data whose leaves may be amounts or facts. */
export type WorkingInput =
  | Amount
  | string
  | { readonly fact: string }
  | readonly WorkingInput[]
  | { readonly [key: string]: WorkingInput };

/** A value of the machine's card, or one that a person read from the maker's service manual. */
export interface FigureValue {
  readonly value: number;
  readonly unit: string;
  /** `card`: from the machine's card; `entered`: typed in by `by` from the service manual; `working`: computed. */
  readonly source: 'card' | 'entered' | 'working';
  readonly by?: string;
}

/** A measured figure as taken. */
export interface ReadingValue {
  readonly value: number;
  readonly unit: string;
  readonly tool: string | null;
  readonly by: string;
  readonly at: number;
}

/** What amounts are looked up in: a part of the job's context. */
export interface Known {
  readonly facts: Readonly<Record<string, FactValue>>;
  readonly figures: Readonly<Record<string, FigureValue>>;
  readonly readings: Readonly<Record<string, ReadingValue>>;
  readonly results: Readonly<Record<string, { readonly output: Readonly<Record<string, unknown>> | null }>>;
}

const ITEM = /^([^.]+)\.(\d+)$/;

/** An output's name and, for `shims.0`, which item of its list is meant, from 0. */
export function outputName(key: string): { readonly name: string; readonly item: number | null } {
  const [, name = key, item] = ITEM.exec(key) ?? [];
  return { name, item: item === undefined ? null : Number(item) };
}

/** The output called `key`, or one item of a listed output: `shims.0` is the first of `shims`. Undefined where there is none. */
export function outputAt(output: Readonly<Record<string, unknown>>, key: string): unknown {
  const { name, item } = outputName(key);
  const value = Object.hasOwn(output, name) ? output[name] : undefined;
  if (item === null) return value;
  return Array.isArray(value) ? value[item] : undefined;
}

/** The number an amount stands for now, or null while it is not known. */
export function amountNow(amount: Amount, known: Known): number | null {
  if (typeof amount === 'number') return amount;
  if ('figure' in amount) {
    const value = known.figures[amount.figure]?.value;
    return value === undefined ? null : value + (amount.plus ?? 0);
  }
  if ('reading' in amount) return known.readings[amount.reading]?.value ?? null;
  const output = known.results[amount.result]?.output;
  const value = output ? outputAt(output, amount.of) : undefined;
  return typeof value === 'number' ? value : null;
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Is this node of a working's input a reference that has to be looked up? */
export function isReference(input: unknown): input is Exclude<Amount, number> | { fact: string } {
  if (!isRecord(input)) return false;
  // Sorted: in canonical JSON the keys come in another order than they were written in.
  const keys = Object.keys(input).toSorted().join();
  return ['figure', 'figure,plus', 'reading', 'of,result', 'fact'].includes(keys);
}

/** The input with every reference replaced by its value now; what is not known becomes null. */
export function resolveInput(input: WorkingInput, known: Known): unknown {
  if (Array.isArray(input)) return input.map((item) => resolveInput(item, known));
  if (isReference(input)) {
    return 'fact' in input ? (known.facts[input.fact] ?? null) : amountNow(input, known);
  }
  if (isRecord(input)) {
    return Object.fromEntries(
      Object.entries(input).map(([key, value]) => [key, resolveInput(value as WorkingInput, known)]),
    );
  }
  return input;
}
