import type { Measure } from '../../src/procedure/station.ts';
import { without } from './mutate.ts';

export type MeasureMutant = readonly [operator: string, measure: Measure | null, judgement: boolean];

/** Faults in limits; the ones that only a person can see are the small ones. */
export function measureMutants(measure: Measure): MeasureMutant[] {
  const { tolerancePercent: percent, min, max } = measure;
  const bare = without(without(without(measure, 'min'), 'max'), 'tolerancePercent');
  const constant = [measure.target, min, max].every((amount) => typeof amount !== 'object');
  return [
    ['limits the wrong way round', { ...bare, min: 5, max: 4 }, false],
    ['limits that nothing meets', { ...bare, min: 5, max: 5 }, false],
    ['take the limits away', bare, false],
    [
      'a tolerance of everything',
      { ...without(without(measure, 'min'), 'max'), tolerancePercent: 100 },
      false,
    ],
    [
      'a tolerance below nothing',
      { ...without(without(measure, 'min'), 'max'), tolerancePercent: -5 },
      false,
    ],
    ['a tolerance beside limits', { ...measure, min: 1, max: 2, tolerancePercent: 5 }, false],
    ['an unknown figure', { ...bare, min: { figure: 'nobodyKnows' } }, false],
    ['an unknown reading', { ...bare, max: { reading: 'nobodyTook' } }, false],
    ['an unknown result', { ...bare, max: { result: 'nobodyComputed', of: 'it' } }, false],
    ['an unknown tool', { ...measure, tool: 'spoon' }, false],
    ['an unknown unit', { ...measure, unit: 'furlong' }, false],
    // With limits written as bare numbers nothing ties them to a unit.
    ['another unit', { ...measure, unit: measure.unit === 'mm' ? 'in' : 'mm' }, constant],
    ['no measure', null, false],
    ...(measure.tool === undefined ? [] : [['any tool', without(measure, 'tool') as Measure, true] as const]),
    ...(percent === undefined
      ? []
      : [['a wider tolerance', { ...measure, tolerancePercent: percent * 2 }, true] as const]),
    ...(typeof max === 'number'
      ? [['a wider upper limit', { ...measure, max: max * 1.5 + 1 }, true] as const]
      : []),
    ...(typeof min === 'number'
      ? [['a lower limit that is lower', { ...measure, min: min - 1 }, true] as const]
      : []),
  ];
}
