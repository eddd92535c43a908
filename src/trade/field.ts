import { TradeError } from './fault.ts';
import * as quantity from './quantity.ts';
import type { Unit } from './units.ts';

export type FieldKind = 'number' | 'integer' | 'text' | 'choice' | 'flag' | 'list' | 'record';

/** One input or output of a working, described for a form, a list or a check. */
export interface WorkingField {
  readonly name: string;
  readonly kind: FieldKind;
  /** Unit of the number (or of the numbers of a list); '' where it has none. */
  readonly unit: Unit;
  readonly says: string;
  readonly optional?: boolean;
  /** An output that is null when it does not apply. */
  readonly nullable?: boolean;
  readonly min?: number;
  readonly max?: number;
  readonly choices?: readonly string[];
  /** What a list holds. */
  readonly of?: WorkingField;
  /** What a record holds. */
  readonly fields?: readonly WorkingField[];
}

type Shape = Omit<WorkingField, 'name'>;

/** A field that can read itself out of unknown JSON: the registry's edge, where plain numbers get their type. */
export interface Field<T> {
  readonly shape: Shape;
  read(value: unknown, where: string): T;
}

export type Fields = Readonly<Record<string, Field<unknown>>>;
/** What a set of fields yields once read. */
export type Values<F extends Fields> = { readonly [K in keyof F]: F[K] extends Field<infer T> ? T : never };

/** Least and greatest value allowed; `above` excludes the least one itself. */
export interface Range {
  readonly min?: number;
  readonly above?: number;
  readonly max?: number;
}

function number<T extends number>(
  says: string,
  unit: Unit,
  range: Range,
  make: (value: number) => T,
  whole = false,
): Field<T> {
  const low = range.min ?? range.above;
  const shape: Shape = {
    kind: whole ? 'integer' : 'number',
    unit,
    says,
    ...(low === undefined ? {} : { min: low }),
    ...(range.max === undefined ? {} : { max: range.max }),
  };
  const read = (value: unknown, where: string): T => {
    if (typeof value !== 'number')
      throw new TradeError('wrong-kind', `"${where}" must be a number${unit && ` in ${unit}`}: ${says}.`);
    if (!Number.isFinite(value)) throw new TradeError('not-finite', `"${where}" must be a finite number.`);
    if (whole && !Number.isInteger(value)) {
      const code = unit === 'teeth' ? 'teeth-not-whole' : 'not-whole';
      throw new TradeError(code, `"${where}" must be a whole number${unit && ` of ${unit}`}, not ${value}.`);
    }
    const short =
      range.above !== undefined ? value <= range.above : range.min !== undefined && value < range.min;
    if (short || (range.max !== undefined && value > range.max)) {
      throw new TradeError('out-of-domain', `"${where}" must be ${domain(range, unit)}, not ${value}.`);
    }
    return make(value);
  };
  return { shape, read };
}

function domain(range: Range, unit: Unit): string {
  const low = range.above !== undefined ? `more than ${range.above}` : `${range.min} or more`;
  const named = range.above === undefined && range.min === undefined ? '' : low;
  const high = range.max === undefined ? '' : `${named ? ' and ' : ''}at most ${range.max}`;
  return `${named}${high}${unit && ` ${unit}`}`;
}

export const length = (says: string, range: Range = { above: 0, max: 1e6 }) =>
  number(says, 'mm', range, quantity.mm);
export const torque = (says: string, range: Range = { above: 0, max: 1e5 }) =>
  number(says, 'N·m', range, quantity.newtonMetres);
export const angle = (says: string, range: Range) => number(says, '°', range, quantity.degrees);
export const speed = (says: string, range: Range) => number(says, 'km/h', range, quantity.kmh);
export const rotation = (says: string) => number(says, 'rpm', { min: 0, max: 30_000 }, quantity.rpm);
export const percent = (says: string, range: Range) => number(says, '%', range, quantity.percent);
export const minutes = (says: string, range: Range = { min: 0, max: 1e5 }) =>
  number(says, 'min', range, quantity.minutes);
export const ratio = (says: string, range: Range = { above: 0, max: 100 }) =>
  number(says, '', range, quantity.ratio);
export const plain = (says: string, unit: Unit, range: Range) =>
  number(says, unit, range, (value: number) => value);
export const whole = (says: string, unit: Unit, range: Range) =>
  number(says, unit, range, (value: number) => value, true);
/** Roller-chain sprockets: fewer than 5 teeth do not run, more than 200 are outside the chain standards. */
export const teeth = (says: string) => number(says, 'teeth', { min: 5, max: 200 }, quantity.teeth, true);
/** ISO 606 chains run from 4 mm to 114.3 mm pitch. */
export const chainPitch = (says = 'Pitch of the chain, pin to pin') => length(says, { min: 4, max: 115 });
export const pitches = (says: string, range: Range = { min: 10, max: 2000 }) =>
  number(says, 'pitches', range, quantity.pitches, true);

export function text(says: string): Field<string> {
  return {
    shape: { kind: 'text', unit: '', says },
    read: (value, where) => {
      if (typeof value !== 'string') throw new TradeError('wrong-kind', `"${where}" must be text: ${says}.`);
      return value;
    },
  };
}

export function choice<const C extends string>(says: string, choices: readonly C[]): Field<C> {
  return {
    shape: { kind: 'choice', unit: '', says, choices },
    read: (value, where) => {
      const found = choices.find((one) => one === value);
      if (found === undefined)
        throw new TradeError('unknown-choice', `"${where}" must be one of ${choices.join(', ')}.`);
      return found;
    },
  };
}

export function flag(says: string): Field<boolean> {
  return {
    shape: { kind: 'flag', unit: '', says },
    read: (value, where) => {
      if (typeof value !== 'boolean') throw new TradeError('wrong-kind', `"${where}" must be true or false.`);
      return value;
    },
  };
}

/** A list; a single figure counts as a list of one, as a gauge read once gives it. */
export function list<T>(says: string, of: Field<T>, least = 1, most = 1000): Field<readonly T[]> {
  return {
    shape: { kind: 'list', unit: of.shape.unit, says, of: { name: 'each', ...of.shape } },
    read: (value, where) => {
      const items = Array.isArray(value) ? (value as unknown[]) : [value];
      if (items.length < least || items.length > most)
        throw new TradeError(
          'wrong-count',
          `"${where}" must hold ${least} to ${most} figures, not ${items.length}.`,
        );
      return items.map((item, at) => of.read(item, Array.isArray(value) ? `${where}[${at}]` : where));
    },
  };
}

export function record<F extends Fields>(says: string, fields: F): Field<Values<F>> {
  return {
    shape: { kind: 'record', unit: '', says, fields: describe(fields) },
    read: (value, where) => readFields(fields, value, where),
  };
}

export function optional<T>(field: Field<T>): Field<T | undefined> {
  return {
    shape: { ...field.shape, optional: true },
    read: (value, where) => (value === undefined || value === null ? undefined : field.read(value, where)),
  };
}

/** The fields as plain descriptions, in the order they were written. */
export function describe(fields: Fields): readonly WorkingField[] {
  return Object.entries(fields).map(([name, field]) => ({ name, ...field.shape }));
}

/**
 * Reads a JSON record by its fields. An input that no field names is refused, so that a misspelt
 * optional figure is not silently left out of the sum.
 * @throws TradeError `wrong-kind`, `unknown-input`, `missing-input` and what the fields throw
 */
export function readFields<F extends Fields>(fields: F, value: unknown, where = ''): Values<F> {
  const whole = where === '' ? 'The input' : `"${where}"`;
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new TradeError('wrong-kind', `${whole} must be a record with ${names(fields)}.`);
  const given = value as Record<string, unknown>;
  for (const name of Object.keys(given)) {
    if (!Object.hasOwn(fields, name))
      throw new TradeError(
        'unknown-input',
        `${whole} has no place for "${name}": it takes ${names(fields)}.`,
      );
  }
  const values = Object.entries(fields).map(([name, field]) => {
    const at = where === '' ? name : `${where}.${name}`;
    const got = Object.hasOwn(given, name) ? given[name] : undefined;
    if ((got === undefined || got === null) && field.shape.optional !== true)
      throw new TradeError('missing-input', `"${at}" is missing: ${field.shape.says}.`);
    return [name, field.read(got, at)];
  });
  return Object.fromEntries(values) as Values<F>;
}

const names = (fields: Fields): string => Object.keys(fields).join(', ');
