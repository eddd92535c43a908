import assert from 'node:assert/strict';
import { type TradeCode, TradeError } from '../../src/trade/fault.ts';
import { runWorking } from '../../src/trade/workings.ts';

/**
 * How well a source is known: `opened`, the passage was read; `from memory`, nobody here has opened the
 * document; `computed`, the value was worked out apart from the code under test; `common practice`, a fact
 * of the trade without a source.
 */
export const marks = ['opened', 'from memory', 'computed', 'common practice, no source'] as const;
export type Mark = (typeof marks)[number];

/** One check of a working against something outside the project. */
export interface Check {
  readonly working: string;
  readonly says: string;
  readonly source: string;
  readonly mark: Mark;
  run(): void;
}

type About = Omit<Check, 'run'>;

/** A number with the tolerance that the source's rounding allows. */
export interface Near {
  readonly value: number;
  readonly within: number;
}

export const near = (value: number, within: number): Near => ({ value, within });

type Plain = number | string | boolean | null | readonly (number | string)[];
/** Expected outputs by path; steps are separated by "/", since property classes carry a dot. */
export type Expected = Readonly<Record<string, Plain | Near>>;

/** Runs the working and compares the named outputs. */
export function check(about: About & { input: unknown; expect: Expected }): Check {
  const { input, expect, ...rest } = about;
  return {
    ...rest,
    run: () => {
      const result = runWorking(about.working, input);
      for (const [path, wanted] of Object.entries(expect)) compare(at(result, path), wanted, path);
    },
  };
}

/** The working must refuse this input with this code. */
export function refuses(about: About & { input: unknown; code: TradeCode }): Check {
  const { input, code, ...rest } = about;
  return {
    ...rest,
    run: () =>
      assert.throws(
        () => runWorking(about.working, input),
        (error: unknown) => error instanceof TradeError && error.code === code,
      ),
  };
}

/** A check that needs more than one run or a function behind the working. */
export function holds(about: About, run: () => void): Check {
  return { ...about, run };
}

function at(result: unknown, path: string): unknown {
  return path
    .split('/')
    .reduce<unknown>(
      (value, step) =>
        typeof value === 'object' && value !== null ? (value as Record<string, unknown>)[step] : undefined,
      result,
    );
}

function compare(found: unknown, wanted: Plain | Near, path: string): void {
  if (typeof wanted === 'object' && wanted !== null && 'within' in wanted)
    close(found, wanted.value, wanted.within, path);
  else assert.deepEqual(found, wanted, path);
}

/** Fails unless `found` is a number no further than `within` from `value`. */
export function close(found: unknown, value: number, within: number, what = 'value'): void {
  assert.ok(typeof found === 'number', `${what} is ${String(found)}, not a number`);
  assert.ok(Math.abs(found - value) <= within, `${what} is ${found}, not ${value} ± ${within}`);
}

/** The output of a working at a path, for checks of several runs. */
export function output(working: string, input: unknown, path: string): unknown {
  return at(runWorking(working, input), path);
}
