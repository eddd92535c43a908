import { oneOf } from '../../src/procedure/index.ts';
import { figures as wheel, facts as wheelFacts } from '../wheel-tyre/head.ts';

/*
 * Front and rear brake differ. A card gives these figures where the machine has one disc brake, or two that are alike;
 * else it leaves them out, and they are read for the brake at hand.
 *
 * Plausible ranges only catch a slipped decimal point; the right value is on the machine's card, stamped in the disc, or
 * in the maker's service manual (common practice, no source).
 */
const thickness = (says: string, low: number, high: number) =>
  ({ says, unit: 'mm', plausible: [low, high] }) as const;
const torque = (says: string, low: number, high: number) =>
  ({ says, unit: 'N·m', plausible: [low, high] }) as const;

export const facts = {
  end: wheelFacts.end,
  fluid: oneOf('Brake fluid, as on the reservoir cap', 'DOT 4', 'DOT 5.1', 'mineral oil'),
  pads: oneOf('The pads', 'keep', 'renew'),
  disc: oneOf('The disc', 'keep', 'renew'),
};

const { frontAxleTorque, axleTorque, pinchTorque, pinchBolts, caliperTorque, slackMin, slackMax } = wheel;

export const figures = {
  padNew: thickness('Lining of a new pad of this brake, backing plate not counted', 2, 12),
  padLeast: thickness('Lining of this brake, least allowed', 0.5, 4),
  discLeast: thickness('Disc of this brake, least thickness, as stamped in it', 2, 8),
  discTorque: torque('Disc bolts of this brake', 8, 60),
  discBolts: { says: 'Bolts that hold this disc', unit: 'pieces', plausible: [3, 10] },
  caliperTorque,
  nippleTorque: torque('Bleed nipple of this brake', 3, 15),
  frontAxleTorque,
  axleTorque,
  pinchTorque,
  pinchBolts,
  slackMin,
  slackMax,
  lockerCure: { says: 'Full cure of the thread locker', unit: 'h', plausible: [1, 72] },
} as const;

export const tools = {
  torqueWrench: { says: 'torque wrench', calibrated: true },
  caliper: { says: 'caliper', calibrated: true },
  micrometer: { says: 'micrometer', calibrated: true },
  steelRule: { says: 'steel rule' },
};

/** What a torque may miss its figure by, in per cent. Common practice, no source; the manual's own limits rule. */
export const TORQUE_TOLERANCE = 5;

export const head = {
  title: 'Brake: pads, disc and fluid',
  revision: 1,
  covers:
    'One hydraulic disc brake without electronic pressure control: pads, disc, bleeding. Systems with anti-lock or linked brakes are bled as their maker says; service manual, local rules and licensed inspection come first.',
  facts,
  figures,
  tools,
};
