import { oneOf, yesNo } from '../../src/procedure/index.ts';

/*
 * Plausible ranges only catch a slipped decimal point; the right value is on the machine's card or in the maker's
 * service manual. They span the machines of a training fleet, 50 to 700 cm³ (common practice, no source).
 */
const millimetres = (says: string, low: number, high: number) =>
  ({ says, unit: 'mm', plausible: [low, high] }) as const;
const torque = (says: string, low: number, high: number) =>
  ({ says, unit: 'N·m', plausible: [low, high] }) as const;
const teeth = (says: string, low: number, high: number) =>
  ({ says, unit: 'teeth', plausible: [low, high] }) as const;

export const facts = {
  retainer: oneOf('What holds the front sprocket', 'bolt', 'circlip', 'tab nut'),
  link: oneOf('Joining link of the new chain', 'clip', 'rivet'),
  sealed: yesNo('Sealed chain, with rubber rings between the plates'),
  regear: yesNo('New sprockets of other sizes'),
  adapter: yesNo('Torque adapter needed at the axle nut'),
};

export const figures = {
  pitch: millimetres('Chain pitch', 6, 20),
  oldFront: teeth('Teeth of the front sprocket now fitted', 9, 25),
  oldRear: teeth('Teeth of the rear sprocket now fitted', 20, 75),
  newFront: teeth('Teeth of the new front sprocket', 9, 25),
  newRear: teeth('Teeth of the new rear sprocket', 20, 75),
  oldPitches: {
    says: 'Pitches of the chain now fitted, joining link counted',
    unit: 'pitches',
    plausible: [60, 160],
  },
  newPitches: {
    says: 'Pitches of the new chain, joining link counted',
    unit: 'pitches',
    plausible: [60, 160],
  },
  adjusterMin: millimetres('Shaft to axle with the adjuster fully forward', 350, 900),
  adjusterMax: millimetres('Shaft to axle with the adjuster fully back', 360, 950),
  pivotToFront: millimetres('Swing-arm pivot to front sprocket shaft', 0, 200),
  pivotToAxle: millimetres('Swing-arm pivot to rear axle', 300, 800),
  restAngle: { says: 'Angle of the swing arm at rest, 0 is in line', unit: '°', plausible: [0, 30] },
  leastSlack: millimetres('Least slack with shaft, pivot and axle in line', 1, 20),
  slackMin: millimetres('Chain slack, least', 5, 70),
  slackMax: millimetres('Chain slack, most', 10, 80),
  alignmentMax: millimetres('Sprockets out of line, most', 0.2, 5),
  caseGapMin: millimetres('Gap between chain and engine case, least', 0.5, 10),
  flareMin: millimetres('Rivet flare across, least', 3, 9),
  flareMax: millimetres('Rivet flare across, most', 3, 9),
  frontTorque: torque('Front sprocket bolt or nut', 8, 150),
  rearTorque: torque('Rear sprocket bolts', 8, 80),
  rearBolts: { says: 'Bolts that hold the rear sprocket', unit: 'pieces', plausible: [3, 12] },
  axleTorque: torque('Rear axle nut', 30, 180),
  lockerCure: { says: 'Full cure of the thread locker', unit: 'h', plausible: [1, 72] },
} as const;

export const tools = {
  torqueWrench: { says: 'torque wrench', calibrated: true },
  caliper: { says: 'caliper', calibrated: true },
  steelRule: { says: 'steel rule' },
  feelerGauge: { says: 'feeler gauge' },
};

/** What a torque may miss its figure by, in per cent. Common practice, no source; the manual's own limits rule. */
export const TORQUE_TOLERANCE = 5;

export const head = {
  title: 'Renew chain and sprockets',
  revision: 1,
  covers:
    "New chain, front and rear sprocket on a chain-driven machine. It does not replace the maker's service manual, local rules or a licensed inspection: where they differ, they rule.",
  facts,
  figures,
  tools,
  followUp: {
    procedure: 'final-drive-recheck',
    says: 'After the first ride, before the second: check slack, torque, joining link and paint lines.',
    afterHours: 24,
  },
};
