import assert from 'node:assert/strict';
import { pitchOfNumber, standardChains } from '../../../src/trade/chain-sizes.ts';
import { check, close, holds, near, output, refuses } from '../register.ts';

const inchTable: Readonly<Record<number, number>> = {
  9: 74.26,
  10: 82.2,
  11: 90.16,
  12: 98.14,
  13: 106.14,
  14: 114.15,
  15: 122.17,
  16: 130.2,
  17: 138.23,
  18: 146.27,
  19: 154.32,
  20: 162.37,
  25: 202.66,
  30: 243,
  36: 291.43,
  38: 307.58,
  40: 323.74,
  42: 339.89,
  45: 364.12,
  48: 388.36,
  49: 396.44,
  50: 404.52,
  51: 412.6,
  52: 420.68,
  60: 485.33,
  76: 614.64,
  100: 808.64,
  152: 1229.02,
};
const unitTable: Readonly<Record<number, number>> = {
  9: 2.9238,
  10: 3.2361,
  11: 3.5495,
  12: 3.8637,
  13: 4.1786,
  14: 4.494,
  15: 4.8097,
  16: 5.1258,
  17: 5.4422,
  18: 5.7588,
  19: 6.0755,
  20: 6.3925,
  25: 7.9787,
  40: 12.7455,
  48: 15.2898,
  49: 15.6079,
  50: 15.926,
  52: 16.5622,
};
const halfInch: Readonly<Record<number, number>> = {
  8: 33.18,
  9: 37.13,
  13: 53.06,
  14: 57.07,
  17: 69.11,
  20: 81.19,
  30: 121.5,
  36: 145.72,
};
const millimetres = [
  [12.7, 13, 53.068],
  [12.7, 14, 57.073],
  [12.7, 50, 202.26],
  [15.875, 13, 66.335],
  [15.875, 14, 71.342],
  [15.875, 48, 242.725],
  [15.875, 49, 247.775],
  [15.875, 50, 252.825],
  [15.875, 52, 262.925],
] as const;
const caliper: Readonly<Record<number, number>> = {
  9: 2.8794,
  11: 3.5133,
  13: 4.1481,
  15: 4.7834,
  17: 5.419,
};
const chordal: Readonly<Record<number, number>> = {
  9: 6.031,
  11: 4.051,
  12: 3.407,
  13: 2.906,
  14: 2.507,
  15: 2.185,
  17: 1.703,
  21: 1.117,
  25: 0.789,
  49: 0.205,
};

const pitchDiameter = (teeth: number, pitch: number) =>
  output('sprocket-diameter', { teeth, pitch }, 'pitchDiameter');
const each = (table: Readonly<Record<number, number>>, one: (teeth: number, value: number) => void) => {
  for (const [teeth, value] of Object.entries(table)) one(Number(teeth), value);
};

const working = 'sprocket-diameter';
const size = 'chain-size';

/** B29.1 rows as printed, in inches and pounds-force: pitch, roller, width, least tensile. */
const b29 = [
  ['41', 0.5, 0.306, 0.25, 1500],
  ['40', 0.5, 0.312, 0.312, 3125],
  ['50', 0.625, 0.4, 0.375, 4880],
  ['60', 0.75, 0.469, 0.5, 7030],
] as const;
const charts = [
  ['415', 12.7, 4.76, 4.88],
  ['420', 12.7, 6.35, 6.35],
  ['428', 12.7, 7.75, 7.95],
  ['520', 15.875, 6.35, 6.35],
  ['525', 15.875, 7.85, 7.95],
  ['530', 15.875, 9.53, 9.53],
] as const;

export const sprocketChecks = [
  holds(
    {
      working,
      says: '28 wheels of 1 inch pitch from 9 to 152 teeth, to 0.005 mm',
      source: 'tandwiel.info/en/gears/pitch-diameter-of-roller-chain-wheels/',
      mark: 'opened',
    },
    () =>
      each(inchTable, (teeth, value) => close(pitchDiameter(teeth, 25.4), value, 0.0051, `${teeth} teeth`)),
  ),
  holds(
    {
      working,
      says: '8 wheels of 1/2 inch pitch; the source cuts figures off, so to 0.011 mm',
      source: 'a public CAD library’s table “Chain Plate Wheels ISO 606 simplex 1/2 × 1/8”',
      mark: 'opened',
    },
    () => each(halfInch, (teeth, value) => close(pitchDiameter(teeth, 12.7), value, 0.011, `${teeth} teeth`)),
  ),
  holds(
    {
      working,
      says: 'unit pitch diameters of 18 wheels',
      source: 'Machinery’s Handbook, sprocket diameters; ISO 606, unit pitch table',
      mark: 'from memory',
    },
    () =>
      each(unitTable, (teeth, value) =>
        close(pitchDiameter(teeth, 10), 10 * value, 5.1e-4, `${teeth} teeth`),
      ),
  ),
  holds(
    {
      working,
      says: '9 wheels of 12.7 and 15.875 mm pitch',
      source: 'p / sin(180°/z), worked out apart',
      mark: 'computed',
    },
    () => {
      for (const [pitch, teeth, value] of millimetres) close(pitchDiameter(teeth, pitch), value, 5.1e-4);
    },
  ),
  holds(
    {
      working,
      says: 'caliper diameter of odd wheels is d cos(90°/z) − roller, of even ones d − roller',
      source:
        'ns2.engineersedge.com/hardware/precision_sprockets_caliper_diameters_13888.htm (formula; factors computed)',
      mark: 'opened',
    },
    () => {
      each(caliper, (teeth, factor) =>
        close(output(working, { teeth, pitch: 10, roller: 1 }, 'caliperDiameter'), 10 * factor - 1, 5.1e-4),
      );
      close(output(working, { teeth: 10, pitch: 10, roller: 1 }, 'caliperDiameter'), 32.361 - 1, 5.1e-4);
    },
  ),
  check({
    working,
    says: 'root diameter is the pitch diameter less the roller',
    source: 'tandwiel.info/en/gears/roller-chain-wheels/',
    mark: 'opened',
    input: { teeth: 14, pitch: 25.4, roller: 15.88 },
    expect: { rootDiameter: near(114.15 - 15.88, 0.0051) },
  }),
  holds(
    {
      working,
      says: 'articulation angle 16.36° at 11 teeth, 15° at 12',
      source: 'cozybeehive.blogspot.com/2010/01/52x12-vs-52x11-gearing-look-at-chordal.html',
      mark: 'opened',
    },
    () => {
      close(output(working, { teeth: 11, pitch: 12.7 }, 'articulationAngle'), 16.36, 0.0051);
      close(output(working, { teeth: 12, pitch: 12.7 }, 'articulationAngle'), 15, 1e-9);
    },
  ),
  holds(
    {
      working,
      says: 'chordal speed variation of ten wheels; the handbook curve shows about 4 % at 11 and 1.7 % at 17 teeth',
      source: 'a handbook’s curve of chordal speed variation',
      mark: 'from memory',
    },
    () =>
      each(chordal, (teeth, value) =>
        close(
          output(working, { teeth, pitch: 12.7 }, 'chordalVariationPercent'),
          value,
          5.1e-4,
          `${teeth} teeth`,
        ),
      ),
  ),
  refuses({
    working,
    says: 'a tooth count is a whole number',
    source: 'ISO 606 counts whole teeth',
    mark: 'from memory',
    input: { teeth: 13.5, pitch: 12.7 },
    code: 'teeth-not-whole',
  }),
  holds(
    {
      working: size,
      says: 'B29.1 numbers 41, 40, 50, 60: pitch, roller, width, least tensile strength',
      source: 'amesweb.info/chain/roller-chain-dimensions-table.aspx',
      mark: 'opened',
    },
    () => {
      for (const [number, pitch, roller, width, tensile] of b29) {
        close(output(size, { number }, 'pitch'), pitch * 25.4, 1e-9);
        close(output(size, { number }, 'roller'), roller * 25.4, 0.0051);
        close(output(size, { number }, 'innerWidth'), width * 25.4, 0.0051);
        close(output(size, { number }, 'tensile'), tensile * 4.4482216152605, 1);
      }
    },
  ),
  holds(
    {
      working: size,
      says: 'least tensile strength is 12,500 p² lbf (p in inches), except for the light 41',
      source: 'ASME B29.1, rule for minimum ultimate tensile strength',
      mark: 'from memory',
    },
    () => {
      for (const { number, pitch, tensile } of standardChains) {
        const rule = 12_500 * (pitch / 25.4) ** 2 * 4.4482216152605;
        if (number === '41') assert.ok((tensile ?? rule) < rule / 2);
        else close(tensile, rule, 0.002 * rule);
      }
    },
  ),
  holds(
    {
      working: size,
      says: 'pitch and inner width of 415, 420, 428, 520, 525, 530 lie in the range of two charts',
      source:
        'two trade charts; The Complete Guide to Chain, table 1.9, online.flippingbook.com/view/303981549/127',
      mark: 'opened',
    },
    () => {
      for (const [number, pitch, low, high] of charts) {
        close(output(size, { number }, 'pitch'), pitch, 1e-9, number);
        close(output(size, { number }, 'innerWidth'), (low + high) / 2, (high - low) / 2 + 1e-9, number);
      }
    },
  ),
  holds(
    {
      working: size,
      says: 'trap: the rule of eighths gives 8.89 mm for 428 and 7.94 mm for 525; only the second is true',
      source: 'everything2.com/user/eav/writeups/Motorcycle+chain (rule); two trade charts (widths)',
      mark: 'opened',
    },
    () => {
      close(output(size, { number: '525' }, 'innerWidth'), (2.5 / 8) * 25.4, 0.02);
      assert.ok((output(size, { number: '428' }, 'innerWidth') as number) < (2.8 / 8) * 25.4 - 0.9);
    },
  ),
  holds(
    {
      working: size,
      says: 'trap: number 40 is 4/8 inch pitch, not 40/8; the pitch is in the figures before the last',
      source:
        'transtutors.com/homework-help/mechanical-engineering/design-drafting/machines-components/roller-chains/',
      mark: 'opened',
    },
    () => {
      assert.equal(pitchOfNumber('40'), 12.7);
      assert.equal(pitchOfNumber('520'), 15.875);
      close(pitchOfNumber('120'), 38.1, 1e-12);
      assert.equal(pitchOfNumber('x'), null);
    },
  ),
];
