import assert from 'node:assert/strict';
import { convert } from '../../../src/trade/units.ts';
import { close, holds, output, refuses } from '../register.ts';

const inLbf = 0.1129848290276167;
const ftLbf = 1.3558179483314003;

const conversions = [
  [10, 7.376, 88.51, 1.0197],
  [25, 18.439, 221.27, 2.5493],
  [50, 36.878, 442.54, 5.0986],
  [80, 59.005, 708.06, 8.1577],
  [100, 73.756, 885.07, 10.1972],
] as const;
const torque = 'torque-convert';

export const convertChecks = [
  holds(
    {
      working: torque,
      says: '10, 25, 50, 80, 100 N·m in ft·lbf, in·lbf and kgf·m',
      source: 'exact SI definitions, worked out apart',
      mark: 'computed',
    },
    () => {
      for (const [value, foot, inchPound, kilo] of conversions) {
        close(output(torque, { value, from: 'N·m', to: 'ft·lbf' }, 'value'), foot, 5.1e-4);
        close(output(torque, { value, from: 'N·m', to: 'in·lbf' }, 'value'), inchPound, 5.1e-3);
        close(output(torque, { value, from: 'N·m', to: 'kgf·m' }, 'value'), kilo, 5.1e-5);
      }
    },
  ),
  holds(
    {
      working: torque,
      says: '1 lbf·ft = 1.3558179483314004, 1 lbf·in = 0.1129848290276167, 1 kgf·m = 9.80665 N·m',
      source: 'NIST SP 811, appendix B, as quoted at torqueconverter.org/methodology',
      mark: 'opened',
    },
    () => {
      assert.equal(convert(1, 'ft·lbf', 'N·m'), ftLbf);
      assert.equal(convert(1, 'in·lbf', 'N·m'), inLbf);
      assert.equal(convert(1, 'kgf·m', 'N·m'), 9.80665);
    },
  ),
  holds(
    {
      working: torque,
      says: '1 ft·lbf is 1.355 82 N·m, 1 in·lbf 0.112 985 N·m',
      source:
        'aerodynamics4students.com/resources/conversion-factors.php; navalfacilities.tpub.com/1004_6/1004_60046.htm',
      mark: 'opened',
    },
    () => {
      close(output(torque, { value: 1, from: 'ft·lbf', to: 'N·m' }, 'value'), 1.35582, 5.1e-6);
      close(output(torque, { value: 1, from: 'in·lbf', to: 'N·m' }, 'value'), 0.112985, 5.1e-7);
    },
  ),
  holds(
    {
      working: torque,
      says: '1 ozf·in is 0.00706155 N·m, 1 kgf·cm 0.0980665 N·m',
      source: 'NIST SP 811, appendix B.8',
      mark: 'from memory',
    },
    () => {
      close(convert(1, 'ozf·in', 'N·m'), 0.00706155181422604, 1e-17);
      close(convert(1, 'kgf·cm', 'N·m'), 0.0980665, 1e-16);
    },
  ),
  holds(
    {
      working: torque,
      says: 'inch 25.4 mm, foot 304.8 mm, mile 1.609344 km; psi 6894.757 Pa',
      source: 'navalfacilities.tpub.com/1004_6/1004_60046.htm; brassmein.com/tech/tech003.htm',
      mark: 'opened',
    },
    () => {
      assert.equal(convert(1, 'in', 'mm'), 25.4);
      assert.equal(convert(1, 'ft', 'mm'), 304.8);
      assert.equal(convert(1, 'mile', 'km'), 1.609344);
      close(convert(1, 'psi', 'kPa'), 6.894757, 5.1e-7);
      close(convert(1, 'bar', 'psi'), 14.503773773, 5.1e-10);
    },
  ),
  holds(
    {
      working: torque,
      says: 'spring rate 1 lbf/in is 175.13 N/m',
      source: 'id.scribd.com/document/338645509',
      mark: 'opened',
    },
    () => {
      close(convert(1, 'lbf/in', 'N/mm') * 1000, 175.13, 0.0051);
      assert.equal(convert(1, 'kgf/mm', 'N/mm'), 9.80665);
    },
  ),
  refuses({
    working: torque,
    says: 'a length is not a torque',
    source: 'the SI: metre and newton metre are of different kinds',
    mark: 'computed',
    input: { value: 1, from: 'mm', to: 'N·m' },
    code: 'wrong-quantity',
  }),
];
