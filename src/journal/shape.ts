import { fromMoment } from './moment.ts';

/** Says in a few words where a value has not the shape asked for, or null. */
export type Check = (value: unknown, place: string) => string | null;

export const HEX_64 = /^[0-9a-f]{64}$/;
/** RFC 9562, in its lower-case form. */
export const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/;

type Table = Readonly<Record<string, unknown>>;

export const isTable = (value: unknown): value is Table =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const must =
  (test: (value: unknown) => boolean, what: string): Check =>
  (value, place) =>
    test(value) ? null : `${place} is not ${what}`;

export const text: Check = must((value) => typeof value === 'string', 'text');
export const name: Check = must((value) => typeof value === 'string' && value !== '', 'a name');
export const number: Check = must((value) => Number.isFinite(value), 'a number');
export const whole: Check = must(
  (value) => Number.isSafeInteger(value) && Number(value) >= 0,
  'a whole number',
);
export const flag: Check = must((value) => typeof value === 'boolean', 'true or false');
export const anything: Check = () => null;
export const table: Check = must(isTable, 'a table of fields');
export const moment: Check = must(
  (value) => typeof value === 'string' && fromMoment(value) !== null,
  'a moment like 2026-01-31T08:05:00.000Z',
);

export const literal = (...allowed: readonly unknown[]): Check =>
  must((value) => allowed.includes(value), allowed.map((one) => JSON.stringify(one)).join(' or '));

export const matches = (pattern: RegExp, what: string): Check =>
  must((value) => typeof value === 'string' && pattern.test(value), what);

export const either =
  (what: string, ...checks: readonly Check[]): Check =>
  (value, place) =>
    checks.some((check) => check(value, place) === null) ? null : `${place} is not ${what}`;

export const list =
  (item: Check): Check =>
  (value, place) => {
    if (!Array.isArray(value)) return `${place} is not a list`;
    for (const [index, one] of value.entries()) {
      const misfit = item(one, `${place}[${index}]`);
      if (misfit) return misfit;
    }
    return null;
  };

/** A table whose keys are free and whose values are all alike. */
export const tableOf =
  (inner: Check): Check =>
  (value, place) => {
    if (!isTable(value)) return `${place} is not a table of fields`;
    for (const [key, one] of Object.entries(value)) {
      const misfit = inner(one, `${place}.${key}`);
      if (misfit) return misfit;
    }
    return null;
  };

type Checks = Readonly<Record<string, Check>>;

/** A table with exactly these fields: all of the first, any of the second, none besides unless `open`. */
export const fields =
  (needed: Checks, optional: Checks = {}, open = false): Check =>
  (value, place) => {
    if (!isTable(value)) return `${place} is not a table of fields`;
    for (const key of Object.keys(needed)) {
      if (!Object.hasOwn(value, key)) return `${place} has no field "${key}"`;
    }
    for (const [key, one] of Object.entries(value)) {
      const check = Object.hasOwn(needed, key)
        ? needed[key]
        : Object.hasOwn(optional, key)
          ? optional[key]
          : undefined;
      if (!check && !open) return `${place} has a field "${key}" that does not belong there`;
      const misfit = check?.(one, `${place}.${key}`);
      if (misfit) return misfit;
    }
    return null;
  };
