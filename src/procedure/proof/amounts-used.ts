import type { WorkingField } from '../../trade/workings.ts';
import { findWorking, workings } from '../../trade/workings.ts';
import type { Amount } from '../amounts.ts';
import { isReference } from '../amounts.ts';
import type { Measure, Station, WorkingStation } from '../station.ts';

/** A number that a station uses, and what it stands for there. */
export interface UsedAmount {
  readonly amount: Amount;
  readonly what: string;
  /** Unit in which the station takes it; null where any will do. */
  readonly unit: string | null;
  /** The station copes without it: an input that the working does not need. */
  readonly optional: boolean;
}

const used = (amount: Amount, what: string, unit: string | null): UsedAmount => ({
  amount,
  what,
  unit,
  optional: false,
});

/** The measure of a station that has one. */
export function measureOf(station: Station): Measure | null {
  return station.kind === 'reading' || station.kind === 'hold' ? (station.measure ?? null) : null;
}

/** The working's description, or null for a name that does not exist. */
export function describedWorking(name: string) {
  return workings().some((working) => working.name === name) ? findWorking(name) : null;
}

/** Every number that a station uses, wherever it comes from. */
export function amountsUsed(station: Station): UsedAmount[] {
  const shows = (station.shows ?? []).map(({ amount, label, unit }) => used(amount, label, unit));
  const measure = measureOf(station);
  const limits = measure
    ? [measure.target, measure.min, measure.max].flatMap((amount) =>
        amount === undefined ? [] : [used(amount, measure.label, measure.unit)],
      )
    : [];
  return [...shows, ...limits, ...ownAmounts(station)];
}

function ownAmounts(station: Station): UsedAmount[] {
  switch (station.kind) {
    case 'round':
      return [used(station.fasteners, `The number of ${station.fastener}s`, null)];
    case 'wait':
      return [used(station.minutes, 'The length of the wait', 'min')];
    case 'working':
      return inputAmounts(station);
    default:
      return [];
  }
}

function inputAmounts(station: WorkingStation): UsedAmount[] {
  const fields = describedWorking(station.working)?.inputs ?? [];
  return Object.entries(station.inputs).flatMap(([name, input]) => {
    const field = fields.find((one) => one.name === name);
    return amountsIn(input, name, field, field?.optional === true);
  });
}

/** The amounts inside one input of a working, beside the field that each of them fills. */
function amountsIn(
  input: unknown,
  what: string,
  field: WorkingField | undefined,
  optional: boolean,
): UsedAmount[] {
  if (isReference(input)) {
    return 'fact' in input ? [] : [{ amount: input, what, unit: field?.unit ?? null, optional }];
  }
  if (Array.isArray(input)) {
    return input.flatMap((item, at) => amountsIn(item, `${what}[${at}]`, field?.of ?? field, optional));
  }
  if (typeof input !== 'object' || input === null) return [];
  return Object.entries(input).flatMap(([key, value]) => {
    const inner = field?.fields?.find((one) => one.name === key);
    return amountsIn(value, `${what}.${key}`, inner, optional || inner?.optional === true);
  });
}

/** The facts that the inputs of a working read. */
export function factsIn(input: unknown): string[] {
  if (isReference(input)) return 'fact' in input ? [input.fact] : [];
  if (typeof input !== 'object' || input === null) return [];
  return Object.values(input).flatMap(factsIn);
}
