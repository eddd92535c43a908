import type { WorkingField } from '../../trade/workings.ts';
import { isReference, outputName } from '../amounts.ts';
import type { Definition } from '../definition.ts';
import type { WorkingStation } from '../station.ts';
import { describedWorking } from './amounts-used.ts';
import type { Finding } from './finding.ts';
import { finding } from './finding.ts';

/** The output of a working that `key` names: `shims` the whole list, `shims.0` one item of it. */
function namedOutput(working: string, key: string): WorkingField | undefined {
  const { name, item } = outputName(key);
  const output = describedWorking(working)?.outputs.find((one) => one.name === name);
  return item === null ? output : output?.of;
}

/** The output of a station's working that is called `key` and is a number, or undefined. */
export function outputOf(station: WorkingStation, key: string): WorkingField | undefined {
  const output = namedOutput(station.working, key);
  return output?.kind === 'number' || output?.kind === 'integer' ? output : undefined;
}

/** A working station against the description of its working: inputs that fit its fields, keys that are its outputs. */
export function workingFindings(definition: Definition, name: string, station: WorkingStation): Finding[] {
  const described = describedWorking(station.working);
  if (!described) return [finding(name, 'working-unknown', { name: station.working })];
  const { working } = station;
  return [
    ...fieldsFindings(name, working, described.inputs, station.inputs, ''),
    ...station.answers.flatMap(({ key, label, unit }) => {
      const output = namedOutput(working, key);
      if (!output) return [finding(name, 'output-unknown', { working, name: key })];
      return unitsAgree(name, label, output.unit, unit);
    }),
    ...Object.entries(station.gives ?? {}).flatMap(([figure, key]) => {
      const output = outputOf(station, key);
      if (!output) return [finding(name, 'output-unknown', { working, name: key })];
      const declared = Object.hasOwn(definition.meta.figures, figure)
        ? definition.meta.figures[figure]
        : undefined;
      return declared ? unitsAgree(name, declared.says, output.unit, declared.unit) : [];
    }),
  ];
}

function unitsAgree(name: string, what: string, has: string, wanted: string): Finding[] {
  if (has === wanted) return [];
  return [finding(name, 'unit-differs', { what, has: has || 'no unit', wanted: wanted || 'no unit' })];
}

function fieldsFindings(
  name: string,
  working: string,
  fields: readonly WorkingField[],
  inputs: Readonly<Record<string, unknown>>,
  within: string,
): Finding[] {
  const full = (key: string) => (within === '' ? key : `${within}.${key}`);
  const unknown = Object.keys(inputs).filter((key) => !fields.some((field) => field.name === key));
  return [
    ...unknown.map((key) => finding(name, 'working-input-unknown', { working, name: full(key) })),
    ...fields.flatMap((field) => {
      if (!Object.hasOwn(inputs, field.name)) {
        return field.optional
          ? []
          : [finding(name, 'working-input-missing', { working, name: full(field.name) })];
      }
      return valueFindings(name, working, field, inputs[field.name], full(field.name));
    }),
  ];
}

const NUMBERS: readonly string[] = ['number', 'integer'];

function valueFindings(
  name: string,
  working: string,
  field: WorkingField,
  value: unknown,
  at: string,
): Finding[] {
  const wants = (wanted: string) => [finding(name, 'working-input-kind', { name: at, wanted })];
  if (isReference(value)) {
    if ('fact' in value) return ['text', 'choice', 'flag'].includes(field.kind) ? [] : wants(inWords(field));
    const single = field.kind === 'list' ? field.of : field;
    return single && NUMBERS.includes(single.kind) ? [] : wants(inWords(field));
  }
  switch (field.kind) {
    case 'number':
    case 'integer': {
      if (typeof value !== 'number') return wants(inWords(field));
      const whole = field.kind === 'number' || Number.isInteger(value);
      const inside = value >= (field.min ?? -Infinity) && value <= (field.max ?? Infinity);
      return whole && inside ? [] : wants(inWords(field));
    }
    case 'text':
      return typeof value === 'string' ? [] : wants(inWords(field));
    case 'choice':
      return field.choices?.some((choice) => choice === value) ? [] : wants(inWords(field));
    case 'flag':
      // A definition writes no bare true or false into an input: a fact gives it.
      return wants(inWords(field));
    case 'list': {
      const { of } = field;
      const items = Array.isArray(value) ? value : [value];
      return of
        ? items.flatMap((item, index) => valueFindings(name, working, of, item, `${at}[${index}]`))
        : [];
    }
    case 'record':
      return typeof value === 'object' && value !== null && !Array.isArray(value)
        ? fieldsFindings(name, working, field.fields ?? [], value as Record<string, unknown>, at)
        : wants(inWords(field));
  }
}

function inWords(field: WorkingField): string {
  const { kind, unit, min, max, choices } = field;
  if (kind === 'choice') return `one of ${(choices ?? []).join(', ')}`;
  if (kind === 'list') return 'a list';
  if (kind === 'record') return `a table with ${(field.fields ?? []).map((inner) => inner.name).join(', ')}`;
  if (!NUMBERS.includes(kind)) return kind === 'flag' ? 'a fact that is true or false' : 'text';
  const range = [min === undefined ? '' : `from ${min}`, max === undefined ? '' : `to ${max}`]
    .join(' ')
    .trim();
  return [kind === 'integer' ? 'a whole number' : 'a number', range, unit]
    .filter((part) => part !== '')
    .join(' ');
}
