/** Where a value is not what is wanted there, and what is. */
export interface Misfit {
  readonly where: string;
  readonly wanted: string;
}

/** Reads a value: null when it fits. `depth` counts nesting where that has a limit. */
export type Wanted = (value: unknown, where: string, depth?: number) => Misfit | null;

type Table = Readonly<Record<string, unknown>>;
type Fields = Readonly<Record<string, Wanted>>;

const isTable = (value: unknown): value is Table =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const must =
  (test: (value: unknown) => boolean, wanted: string): Wanted =>
  (value, where) =>
    test(value) ? null : { where, wanted };

/** Control signs could rewrite a terminal or hide text: no text may hold them. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: looks for them on purpose.
const CONTROL = /[\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]/;

export const text = must(
  (value) => typeof value === 'string' && value.length <= 2000 && !CONTROL.test(value),
  'plain text of at most 2000 signs',
);
/** Text that says something. */
export const words = must(
  (value) => text(value, '') === null && String(value).trim() !== '',
  'words that say something',
);
export const number = must((value) => Number.isFinite(value), 'a finite number');
export const flag = must((value) => typeof value === 'boolean', 'true or false');
export const oneOf = (...allowed: readonly unknown[]): Wanted =>
  must((value) => allowed.includes(value), allowed.map((one) => JSON.stringify(one)).join(' or '));

export const either =
  (wanted: string, ...choices: readonly Wanted[]): Wanted =>
  (value, where) =>
    choices.some((choice) => choice(value, where) === null) ? null : { where, wanted };

const at = (where: string, key: string) => (where === '' ? key : `${where}.${key}`);

export const list =
  (item: Wanted): Wanted =>
  (value, where) =>
    Array.isArray(value) ? firstMisfit(value, where, item) : { where, wanted: 'a list' };

function firstMisfit(items: readonly unknown[], where: string, item: Wanted): Misfit | null {
  for (const [index, one] of items.entries()) {
    const misfit = item(one, `${where}[${index}]`);
    if (misfit) return misfit;
  }
  return null;
}

/** A table with free keys and values of one kind. */
export const tableOf =
  (item: Wanted): Wanted =>
  (value, where) => {
    if (!isTable(value)) return { where, wanted: 'a table' };
    for (const [key, one] of Object.entries(value)) {
      if (text(key, '') !== null) return { where, wanted: 'a table whose keys are plain text' };
      const misfit = item(one, at(where, key));
      if (misfit) return misfit;
    }
    return null;
  };

/** Goes through a list or a table of values of one kind. */
export function each(value: unknown, where: string, item: Wanted): Misfit | null {
  return Array.isArray(value) ? list(item)(value, where) : tableOf(item)(value, where);
}

/** A table with exactly these fields: all of the first, any of the second, nothing besides. */
export const record =
  (needed: Fields, optional: Fields = {}): Wanted =>
  (value, where) => {
    if (!isTable(value)) return { where, wanted: `a table with ${Object.keys(needed).join(', ')}` };
    for (const key of Object.keys(needed)) {
      if (!Object.hasOwn(value, key)) return { where: at(where, key), wanted: 'given' };
    }
    for (const [key, one] of Object.entries(value)) {
      const fields = Object.hasOwn(needed, key) ? needed : optional;
      if (!Object.hasOwn(fields, key))
        return { where: at(where, key), wanted: 'left out: nothing of that name belongs here' };
      const misfit = fields[key]?.(one, at(where, key));
      if (misfit) return misfit;
    }
    return null;
  };
