import { oneOf, yesNo } from '../../src/procedure/index.ts';
import { figures as wheel } from '../wheel-tyre/head.ts';

/*
 * Plausible ranges only catch a slipped decimal point; the right value is on the machine's card or in the maker's
 * service manual (common practice, no source).
 */
const length = (says: string, low: number, high: number) =>
  ({ says, unit: 'mm', plausible: [low, high] }) as const;
const torque = (says: string, low: number, high: number) =>
  ({ says, unit: 'N·m', plausible: [low, high] }) as const;

export const facts = {
  oil: oneOf('The fork oil', 'change', 'keep'),
  preload: oneOf('How spring preload is set', 'adjuster', 'spacer'),
  clickers: yesNo('Damping adjusters that click'),
};

const { frontAxleTorque, pinchTorque, pinchBolts, caliperTorque } = wheel;

export const figures = {
  forkOilLevel: length('Oil level below the rim of the tube, tube compressed, spring out', 40, 250),
  legHeight: length('Tube above the upper clamp', 0, 60),
  forkTravel: length('Wheel travel at the front', 80, 350),
  sagTarget: length('Front sag with the rider, wanted', 15, 120),
  sagMin: length('Front sag with the rider, least', 10, 110),
  sagMax: length('Front sag with the rider, most', 20, 130),
  ladenShortest: length('Fork reading with the rider, least', 0, 400),
  ladenLongest: length('Fork reading with the rider, most', 0, 400),
  preloadChange: length('Preload to add at each spring', -80, 80),
  forkCapTorque: torque('Fork caps', 10, 60),
  upperClampTorque: torque('Upper clamp bolts', 8, 40),
  lowerClampTorque: torque('Lower clamp bolts', 8, 50),
  lowerClampBolts: { says: 'Lower clamp bolts, both legs', unit: 'pieces', plausible: [2, 8] },
  frontAxleTorque,
  pinchTorque,
  pinchBolts,
  caliperTorque,
} as const;

export const tools = {
  torqueWrench: { says: 'torque wrench', calibrated: true },
  steelRule: { says: 'steel rule' },
  depthGauge: { says: 'depth gauge' },
};

/** What a torque may miss its figure by, in per cent. Common practice, no source; the manual's own limits rule. */
export const TORQUE_TOLERANCE = 5;

/** What oil level and leg height may differ by, in mm. Common practice, no source. */
export const OIL_MARGIN = 2;
export const HEIGHT_MARGIN = 1;

export const head = {
  title: 'Fork oil and sag',
  revision: 1,
  covers:
    "Oil in both legs of a telescopic fork and the sag under its rider. Closed cartridges and forks under gas pressure go to a licensed workshop; the maker's service manual and local rules come first.",
  facts,
  figures,
  tools,
};
