import type { FigureValue } from '../../src/procedure/amounts.ts';
import type { JobInput, Person, Tool } from '../../src/procedure/context.ts';
import type { Definition } from '../../src/procedure/definition.ts';
import type { Facts } from '../../src/procedure/facts.ts';

/** An invented small training machine: the figures agree with each other, and are no real machine's. */
const card: Readonly<Record<string, number>> = {
  pitch: 12.7,
  oldFront: 14,
  oldRear: 46,
  newFront: 14,
  newRear: 49,
  oldPitches: 122,
  adjusterMin: 565,
  adjusterMax: 610,
  pivotToFront: 70,
  pivotToAxle: 525,
  restAngle: 6,
  leastSlack: 8,
  slackMin: 30,
  slackMax: 40,
  alignmentMax: 1,
  caseGapMin: 2,
  flareMin: 5.5,
  flareMax: 5.8,
  frontTorque: 40,
  rearTorque: 32,
  rearBolts: 6,
  axleTorque: 88,
  lockerCure: 24,
  frontRim: 21,
  rearRim: 18,
  frontPressure: 1.8,
  rearPressure: 2,
  seatPressure: 2.2,
  frontAxleTorque: 65,
  pinchTorque: 20,
  pinchBolts: 4,
  caliperTorque: 27,
  armTorque: 22,
  padNew: 4,
  padLeast: 1,
  discLeast: 3,
  discTorque: 16,
  discBolts: 6,
  nippleTorque: 6,
  inletMin: 0.1,
  inletMax: 0.15,
  exhaustMin: 0.17,
  exhaustMax: 0.22,
  shimStep: 0.05,
  shimSmallest: 1.2,
  shimLargest: 3.5,
  camCapBolts: 8,
  camCapTorque: 10,
  lockNutTorque: 14,
  headCoverBolts: 4,
  headCoverTorque: 10,
  plugTorque: 13,
  forkOilLevel: 110,
  legHeight: 5,
  forkTravel: 240,
  sagTarget: 65,
  sagMin: 60,
  sagMax: 72,
  upperClampTorque: 22,
  lowerClampTorque: 18,
  lowerClampBolts: 4,
  forkCapTorque: 30,
};

export const people: readonly Person[] = [
  { id: 'p1', name: 'Mechanic', role: 'mechanic' },
  { id: 'p2', name: 'Apprentice', role: 'apprentice' },
  { id: 'p3', name: 'Supervisor', role: 'supervisor' },
];

export const toolShelf: readonly Tool[] = [
  {
    id: 'TW1',
    kind: 'torqueWrench',
    says: 'Torque wrench 1',
    calibratedUntil: '2027-06-30',
    classPercent: 4,
  },
  { id: 'PG1', kind: 'pressureGauge', says: 'Pressure gauge 1', calibratedUntil: '2027-06-30' },
  { id: 'MI1', kind: 'micrometer', says: 'Micrometer 1', calibratedUntil: '2027-06-30' },
  { id: 'CA1', kind: 'caliper', says: 'Caliper 1', calibratedUntil: '2027-06-30' },
  { id: 'SR1', kind: 'steelRule', says: 'Steel rule 1' },
  { id: 'FG1', kind: 'feelerGauge', says: 'Feeler gauges 1' },
  { id: 'DG1', kind: 'depthGauge', says: 'Depth gauge 1' },
];

export const OPENED = Date.UTC(2026, 10, 25, 9);

/** A job on the training machine; `without` leaves figures off its card, so that they have to be looked up. */
export function openedJob(definition: Definition, facts: Facts, without: readonly string[] = []): JobInput {
  const figures = Object.entries(definition.meta.figures).flatMap(([name, { unit }]) => {
    const value = card[name];
    if (value === undefined || without.includes(name)) return [];
    return [[name, { value, unit, source: 'card' } satisfies FigureValue] as const];
  });
  return { facts, figures: Object.fromEntries(figures), people, tools: toolShelf, at: OPENED };
}
