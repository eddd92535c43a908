import { oneOf, yesNo } from '../../src/procedure/index.ts';

/*
 * Plausible ranges only catch a slipped decimal point; the right value is on the machine's card or in the maker's
 * service manual (common practice, no source).
 */
const length = (says: string, low: number, high: number) =>
  ({ says, unit: 'mm', plausible: [low, high] }) as const;
const torque = (says: string, low: number, high: number) =>
  ({ says, unit: 'N·m', plausible: [low, high] }) as const;
const pieces = (says: string, low: number, high: number) =>
  ({ says, unit: 'pieces', plausible: [low, high] }) as const;

export const facts = {
  valves: oneOf('Valves of the cylinder', 'two', 'four'),
  valveAdjuster: oneOf('How the clearance is set', 'shim', 'screw'),
  outside: yesNo('A clearance is outside its limits'),
};

export const figures = {
  inletMin: length('Inlet clearance, least, cold', 0.02, 0.5),
  inletMax: length('Inlet clearance, most, cold', 0.03, 0.6),
  exhaustMin: length('Exhaust clearance, least, cold', 0.02, 0.6),
  exhaustMax: length('Exhaust clearance, most, cold', 0.03, 0.8),
  shimStep: length('Step between the shim sizes sold', 0.01, 0.1),
  shimSmallest: length('Smallest shim sold', 0.8, 3),
  shimLargest: length('Largest shim sold', 1.5, 5),
  newInletOne: length('New shim, first inlet valve', 0.5, 6),
  newInletTwo: length('New shim, second inlet valve', 0.5, 6),
  newExhaustOne: length('New shim, first exhaust valve', 0.5, 6),
  newExhaustTwo: length('New shim, second exhaust valve', 0.5, 6),
  camCapBolts: pieces('Bolts of the camshaft caps', 4, 20),
  camCapTorque: torque('Camshaft cap bolts', 5, 25),
  lockNutTorque: torque('Lock nuts of the adjusting screws', 5, 30),
  headCoverBolts: pieces('Bolts of the cylinder head cover', 2, 10),
  headCoverTorque: torque('Cylinder head cover bolts', 5, 25),
  plugTorque: torque('Spark plug', 8, 35),
} as const;

export const tools = {
  torqueWrench: { says: 'torque wrench', calibrated: true },
  micrometer: { says: 'micrometer', calibrated: true },
  feelerGauge: { says: 'feeler gauge' },
};

/** What a torque may miss its figure by, in per cent. Common practice, no source; the manual's own limits rule. */
export const TORQUE_TOLERANCE = 5;

export const head = {
  title: 'Valve clearance, with shims',
  revision: 1,
  covers:
    "One cylinder with overhead camshafts, two or four valves, clearance set by shims under the buckets or by screws. The maker's service manual, local rules and licensed practice come first.",
  facts,
  figures,
  tools,
};
