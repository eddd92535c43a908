import { oneOf, yesNo } from '../../src/procedure/index.ts';

/*
 * Plausible ranges only catch a slipped decimal point; the right value is on the machine's card or in the maker's
 * service manual. They span the machines of a training fleet, 50 to 700 cm³ (common practice, no source).
 */
const torque = (says: string, low: number, high: number) =>
  ({ says, unit: 'N·m', plausible: [low, high] }) as const;
const bar = (says: string, low: number, high: number) =>
  ({ says, unit: 'bar', plausible: [low, high] }) as const;

export const facts = {
  end: oneOf('End of the machine that is worked on', 'front', 'rear'),
  tyre: oneOf('How the tyre holds its air', 'tube', 'tubeless'),
  wheelBrake: oneOf('Brake at this wheel', 'disc', 'drum'),
  balance: yesNo('The wheel is to be balanced'),
};

export const figures = {
  frontRim: { says: 'Rim diameter code, front', unit: 'in', plausible: [8, 23] },
  rearRim: { says: 'Rim diameter code, rear', unit: 'in', plausible: [8, 23] },
  frontPressure: bar('Front tyre pressure, cold', 0.6, 3),
  rearPressure: bar('Rear tyre pressure, cold', 0.6, 3.5),
  seatPressure: bar('Pressure to seat the beads, never more', 1, 4),
  frontAxleTorque: torque('Front axle', 20, 120),
  axleTorque: torque('Rear axle nut', 30, 180),
  pinchTorque: torque('Front axle pinch bolts', 5, 40),
  pinchBolts: { says: 'Pinch bolts of the front axle', unit: 'pieces', plausible: [1, 8] },
  caliperTorque: torque('Caliper mounting bolts of this brake', 10, 70),
  armTorque: torque('Nut of the brake torque arm', 8, 50),
  slackMin: { says: 'Chain slack, least', unit: 'mm', plausible: [5, 70] },
  slackMax: { says: 'Chain slack, most', unit: 'mm', plausible: [10, 80] },
} as const;

export const tools = {
  torqueWrench: { says: 'torque wrench', calibrated: true },
  pressureGauge: { says: 'tyre pressure gauge', calibrated: true },
  steelRule: { says: 'steel rule' },
};

/** What a torque or a pressure may miss its figure by, in per cent. Common practice, no source; the manual's limits rule. */
export const TOLERANCE = 5;

export const head = {
  title: 'Change a tyre, wheel out and back',
  revision: 1,
  covers:
    "One wheel of a machine with chain drive: wheel out, new tyre with or without a tube, wheel back. Tyre, rim and speed limits are the makers'; service manual, local rules and licensed inspection come first.",
  facts,
  figures,
  tools,
};
