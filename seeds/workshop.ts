import type { MachineCard, Workshop } from '../src/job/workshop.ts';
import { fromMoment } from '../src/journal/moment.ts';
import { dayOf } from '../src/procedure/day.ts';
import { parts } from './parts.ts';

// An invented riding school. Its makes exist nowhere, its people are nobody, and its figures agree with each other but
// are no real machine's: they are for learning the app, not for a spanner.

const mm = (value: number) => ({ value, unit: 'mm' });
const torque = (value: number) => ({ value, unit: 'N·m' });
const teeth = (value: number) => ({ value, unit: 'teeth' });
const bar = (value: number) => ({ value, unit: 'bar' });
const rim = (value: number) => ({ value, unit: 'in' });
const pieces = (value: number) => ({ value, unit: 'pieces' });
const pitches = (value: number) => ({ value, unit: 'pitches' });

const small: MachineCard = {
  id: 'LF-01',
  says: 'School machine 1',
  plate: 'Okkel Stride 125, first year',
  facts: {
    retainer: 'circlip',
    link: 'clip',
    sealed: false,
    regear: false,
    adapter: false,
    tyre: 'tube',
    fluid: 'DOT 4',
    valves: 'two',
    valveAdjuster: 'screw',
    preload: 'spacer',
    clickers: false,
  },
  figures: {
    pitch: mm(12.7),
    oldFront: teeth(14),
    oldRear: teeth(46),
    newFront: teeth(14),
    newRear: teeth(46),
    oldPitches: pitches(122),
    adjusterMin: mm(565),
    adjusterMax: mm(610),
    pivotToFront: mm(70),
    pivotToAxle: mm(525),
    restAngle: { value: 6, unit: '°' },
    leastSlack: mm(8),
    slackMin: mm(25),
    slackMax: mm(35),
    alignmentMax: mm(1),
    caseGapMin: mm(2),
    frontTorque: torque(12),
    rearTorque: torque(32),
    rearBolts: { value: 6, unit: 'pieces' },
    axleTorque: torque(88),
    lockerCure: { value: 24, unit: 'h' },
    frontRim: rim(19),
    rearRim: rim(16),
    frontPressure: bar(1.7),
    rearPressure: bar(2),
    seatPressure: bar(2.2),
    frontAxleTorque: torque(55),
    pinchTorque: torque(20),
    pinchBolts: pieces(2),
    armTorque: torque(22),
    // One disc brake, at the front; the rear has a drum. So these can stand on the card.
    caliperTorque: torque(27),
    padNew: mm(4),
    padLeast: mm(1),
    discLeast: mm(3),
    discTorque: torque(16),
    discBolts: pieces(4),
    nippleTorque: torque(6),
    inletMin: mm(0.06),
    inletMax: mm(0.1),
    exhaustMin: mm(0.08),
    exhaustMax: mm(0.12),
    lockNutTorque: torque(9),
    headCoverBolts: pieces(3),
    headCoverTorque: torque(10),
    plugTorque: torque(12),
    forkOilLevel: mm(150),
    legHeight: mm(0),
    forkTravel: mm(150),
    sagTarget: mm(40),
    sagMin: mm(35),
    sagMax: mm(45),
    forkCapTorque: torque(25),
    upperClampTorque: torque(22),
    lowerClampTorque: torque(22),
    lowerClampBolts: pieces(2),
  },
  drive: { primary: 3.2, gears: [2.9, 1.9, 1.4, 1.1, 0.92], rollingCircumference: 1930, maxRpm: 9500 },
};

/** Two disc brakes that differ: what is true of one of them only stays off the card and is read at the brake. */
const OF_ONE_BRAKE = [
  'caliperTorque',
  'padNew',
  'padLeast',
  'discLeast',
  'discTorque',
  'discBolts',
  'nippleTorque',
];
const bothEnds = (figures: MachineCard['figures']): MachineCard['figures'] =>
  Object.fromEntries(Object.entries(figures).filter(([name]) => !OF_ONE_BRAKE.includes(name)));

const shims = {
  shimStep: mm(0.05),
  shimSmallest: mm(1.2),
  shimLargest: mm(3.5),
  camCapBolts: pieces(8),
  camCapTorque: torque(10),
};

const trail: MachineCard = {
  id: 'LF-04',
  says: 'Trail machine 4',
  plate: 'Brynd Fell 250, third year',
  facts: {
    retainer: 'bolt',
    link: 'rivet',
    sealed: true,
    regear: true,
    adapter: true,
    tyre: 'tube',
    wheelBrake: 'disc',
    fluid: 'DOT 4',
    valves: 'four',
    valveAdjuster: 'shim',
    preload: 'adjuster',
    clickers: true,
  },
  figures: {
    ...bothEnds(small.figures),
    pitch: mm(15.875),
    frontRim: rim(21),
    rearRim: rim(18),
    frontPressure: bar(1),
    rearPressure: bar(1),
    frontAxleTorque: torque(45),
    pinchBolts: pieces(4),
    inletMin: mm(0.1),
    inletMax: mm(0.15),
    exhaustMin: mm(0.17),
    exhaustMax: mm(0.22),
    ...shims,
    forkOilLevel: mm(110),
    legHeight: mm(5),
    forkTravel: mm(300),
    sagTarget: mm(70),
    sagMin: mm(65),
    sagMax: mm(78),
    lowerClampBolts: pieces(4),
    oldFront: teeth(13),
    oldRear: teeth(49),
    newFront: teeth(13),
    newRear: teeth(48),
    oldPitches: pitches(114),
    adjusterMin: mm(630),
    adjusterMax: mm(680),
    pivotToAxle: mm(590),
    slackMin: mm(35),
    slackMax: mm(45),
    flareMin: mm(5.5),
    flareMax: mm(5.8),
    frontTorque: torque(60),
    axleTorque: torque(105),
  },
  drive: { primary: 2.9, gears: [2.6, 1.85, 1.42, 1.15, 0.96], rollingCircumference: 2110, maxRpm: 9000 },
};

const road: MachineCard = {
  id: 'LF-07',
  says: 'Road machine 7',
  plate: 'Okkel Mile 400, second year',
  facts: {
    retainer: 'tab nut',
    link: 'clip',
    sealed: true,
    regear: false,
    adapter: false,
    tyre: 'tubeless',
    wheelBrake: 'disc',
    balance: true,
    fluid: 'DOT 5.1',
    valves: 'four',
    valveAdjuster: 'shim',
    preload: 'adjuster',
    clickers: true,
  },
  figures: {
    ...bothEnds(small.figures),
    pitch: mm(15.875),
    frontRim: rim(17),
    rearRim: rim(17),
    frontPressure: bar(2.3),
    rearPressure: bar(2.5),
    seatPressure: bar(2.75),
    frontAxleTorque: torque(65),
    pinchBolts: pieces(4),
    inletMin: mm(0.11),
    inletMax: mm(0.2),
    exhaustMin: mm(0.21),
    exhaustMax: mm(0.3),
    ...shims,
    forkOilLevel: mm(125),
    legHeight: mm(7),
    forkTravel: mm(120),
    sagTarget: mm(33),
    sagMin: mm(30),
    sagMax: mm(36),
    lowerClampBolts: pieces(4),
    oldFront: teeth(15),
    oldRear: teeth(45),
    newFront: teeth(15),
    newRear: teeth(45),
    oldPitches: pitches(112),
    adjusterMin: mm(625),
    adjusterMax: mm(680),
    pivotToAxle: mm(585),
    slackMin: mm(30),
    slackMax: mm(40),
    frontTorque: torque(100),
    rearBolts: { value: 5, unit: 'pieces' },
    axleTorque: torque(98),
  },
  drive: {
    primary: 2.1,
    gears: [2.5, 1.75, 1.35, 1.1, 0.95, 0.85],
    rollingCircumference: 1980,
    maxRpm: 10500,
  },
};

// The newest machine came without its figures: they are read from its maker's service manual during the first job.
const unread: MachineCard = {
  id: 'LF-09',
  says: 'New machine 9',
  plate: 'Brynd Lea 300, first year',
  facts: { sealed: true, adapter: false },
  figures: { pitch: mm(15.875), oldFront: teeth(14), oldRear: teeth(42) },
};

/** The workshop as it stands on `WRITTEN`. */
export const workshop: Workshop = {
  name: 'Low Fold Riding School',
  badges: { 'BADGE-NV1': 'w-nora', 'BADGE-TR2': 'w-tomas', 'BADGE-IM3': 'w-ilse', 'BADGE-PL4': 'w-pia' },
  hint: 'Demo workshop: Nora 1111, Tomas 2222, Ilse 3333, Pia 4444.',
  machines: [small, trail, road, unread],
  people: [
    { id: 'w-nora', name: 'Nora Vance', role: 'supervisor', signsOn: true },
    { id: 'w-tomas', name: 'Tomas Reedle', role: 'mechanic', signsOn: true },
    { id: 'w-ilse', name: 'Ilse Marrok', role: 'mechanic', signsOn: true },
    { id: 'w-pia', name: 'Pia Lundry', role: 'apprentice', signsOn: true },
  ],
  tools: [
    {
      id: 'TW-2',
      kind: 'torqueWrench',
      says: 'Torque wrench, 20–120 N·m',
      calibratedUntil: '2027-05-31',
      classPercent: 4,
    },
    {
      id: 'TW-3',
      kind: 'torqueWrench',
      says: 'Torque wrench, 5–25 N·m',
      calibratedUntil: '2027-02-28',
      classPercent: 6,
    },
    {
      id: 'TW-1',
      kind: 'torqueWrench',
      says: 'Torque wrench, old',
      calibratedUntil: '2026-04-30',
      classPercent: 4,
    },
    { id: 'PG-1', kind: 'pressureGauge', says: 'Pressure gauge, 0–4 bar', calibratedUntil: '2027-03-31' },
    { id: 'MI-1', kind: 'micrometer', says: 'Micrometer, 0–25 mm', calibratedUntil: '2027-08-31' },
    { id: 'CA-1', kind: 'caliper', says: 'Caliper, 150 mm', calibratedUntil: '2027-08-31' },
    { id: 'SR-1', kind: 'steelRule', says: 'Steel rule, 300 mm' },
    { id: 'FG-1', kind: 'feelerGauge', says: 'Feeler gauges' },
    { id: 'DG-1', kind: 'depthGauge', says: 'Depth gauge' },
  ],
  parts,
};

/** The demo's PINs are on the screen that asks for them: there is nothing here to keep secret. */
export const pins: Readonly<Record<string, string>> = {
  'w-nora': '1111',
  'w-tomas': '2222',
  'w-ilse': '3333',
  'w-pia': '4444',
};

/** The day for which the calibration dates above were chosen, ms since 1970. */
const WRITTEN = 1_795_564_800_000;
const DAY = 86_400_000;

/** The workshop as it stands at `now` (ms since 1970): what was in calibration on the day it was written is so now. */
export function workshopAt(now: number): Workshop {
  const later = Math.floor((now - WRITTEN) / DAY) * DAY;
  const moved = (until: string) => dayOf((fromMoment(`${until}T00:00:00.000Z`) ?? WRITTEN) + later);
  const tools = workshop.tools.map((tool) =>
    tool.calibratedUntil === undefined ? tool : { ...tool, calibratedUntil: moved(tool.calibratedUntil) },
  );
  return { ...workshop, tools };
}
