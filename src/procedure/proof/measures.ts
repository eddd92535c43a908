import type { Amount } from '../amounts.ts';
import type { Definition } from '../definition.ts';
import type { Measure, Station } from '../station.ts';
import { measureOf } from './amounts-used.ts';
import type { Finding } from './finding.ts';
import { finding } from './finding.ts';
import { readingsNamed } from './names.ts';
import { stationNames } from './rebuild.ts';
import { usableName } from './shape.ts';

/** Smallest and largest number that an amount can stand for. */
type Range = readonly [number, number];

const ANY: Range = [-Infinity, Infinity];

function rangeOf(definition: Definition, amount: Amount | undefined): Range | null {
  if (amount === undefined) return null;
  if (typeof amount === 'number') return [amount, amount];
  if (!('figure' in amount)) return ANY;
  const figure = Object.hasOwn(definition.meta.figures, amount.figure)
    ? definition.meta.figures[amount.figure]
    : undefined;
  if (!figure) return ANY;
  const plus = amount.plus ?? 0;
  return [figure.plausible[0] + plus, figure.plausible[1] + plus];
}

/** Figures that cannot be, limits between which nothing lies, tolerances without sense. */
export function measureFindings(definition: Definition): Finding[] {
  const figures = Object.entries(definition.meta.figures).flatMap(([name, { plausible }]) => {
    const [min, max] = plausible;
    return min < max ? [] : [finding(null, 'range-empty', { name, min, max })];
  });
  const stations = stationNames(definition).flatMap((name) => {
    const station = definition.states[name]?.meta;
    if (!station) return [];
    const measure = measureOf(station);
    return [
      ...(measure ? limitFindings(definition, name, station, measure) : []),
      ...countFindings(definition, name, station),
    ];
  });
  return [...figures, ...stations];
}

function limitFindings(definition: Definition, name: string, station: Station, measure: Measure): Finding[] {
  const { unit, tolerancePercent: percent } = measure;
  const target = rangeOf(definition, measure.target);
  const min = rangeOf(definition, measure.min);
  const max = rangeOf(definition, measure.max);
  const found: Finding[] = [];
  if (!usableName(measure.name)) found.push(finding(name, 'name-unusable', { name: measure.name }));
  const other = readingsNamed(definition, measure.name).find((one) => one.unit !== unit);
  if (other) {
    found.push(
      finding(name, 'name-taken', {
        name: measure.name,
        has: other.unit || 'no unit',
        wanted: unit || 'no unit',
      }),
    );
  }
  if (percent !== undefined) {
    if (!target) found.push(finding(name, 'tolerance-without-target'));
    if (!(percent > 0 && percent < 100)) found.push(finding(name, 'tolerance-impossible', { percent }));
    if (min || max) found.push(finding(name, 'limits-twice'));
    if (target && target[0] === 0 && target[1] === 0) {
      found.push(finding(name, 'limits-impossible', { min: 0, max: 0, unit }));
    }
  }
  // Impossible whatever the figures are; limits that only some machines would cross are for a person to judge.
  if (min && max && min[0] >= max[1]) {
    found.push(finding(name, 'limits-impossible', { min: min[0], max: max[1], unit }));
  } else if (target && ((min && target[1] < min[0]) || (max && target[0] > max[1]))) {
    found.push(finding(name, 'target-outside', { target: target[1], unit }));
  }
  if (station.kind === 'hold' && !min && !max && percent === undefined)
    found.push(finding(name, 'limits-missing'));
  return found;
}

/** Numbers of things and lengths of time that cannot be, and lists that are empty. */
function countFindings(definition: Definition, name: string, station: Station): Finding[] {
  const impossible = (what: string, value: number, wanted: string) =>
    finding(name, 'amount-impossible', { what, value, wanted });
  switch (station.kind) {
    case 'round': {
      const { fasteners, passes } = station;
      const [, most] = rangeOf(definition, fasteners) ?? ANY;
      const whole = typeof fasteners !== 'number' || Number.isInteger(fasteners);
      return [
        ...(most >= 1 && whole ? [] : [impossible('The number of fasteners', most, 'a whole number from 1')]),
        ...(passes.length > 0 ? [] : [finding(name, 'list-empty', { what: 'passes' })]),
      ];
    }
    case 'wait': {
      const [, most] = rangeOf(definition, station.minutes) ?? ANY;
      return most > 0 ? [] : [impossible('The length of the wait', most, 'more than 0 min')];
    }
    case 'kit': {
      const keys = station.items.map(({ key }) => key);
      return [
        ...(keys.length > 0 ? [] : [finding(name, 'list-empty', { what: 'items' })]),
        ...keys.filter((key) => !usableName(key)).map((key) => finding(name, 'name-unusable', { name: key })),
      ];
    }
    case 'lookUp':
      return station.needs.length > 0 ? [] : [finding(name, 'list-empty', { what: 'figures' })];
    default:
      return [];
  }
}
