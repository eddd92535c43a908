import assert from 'node:assert/strict';
import { check, close, holds, near, output, refuses } from '../register.ts';

const adapter = 'torque-adapter';
const inch = 25.4;
const inLbf = 0.1129848290276167;
const ftLbf = 1.3558179483314003;

/** Setting in the source's own torque unit for lengths in its own length unit. */
const setting = (
  unit: number,
  length: number,
  target: number,
  wrench: number,
  extension: number,
  angle = 0,
) =>
  (output(
    adapter,
    { target: target * unit, wrench: wrench * length, extension: extension * length, angle },
    'setting',
  ) as number) / unit;

const armyManual = 'US Army TM 1-1500-204-23-9, paragraph 8-5';

export const adapterChecks = [
  holds(
    {
      working: adapter,
      says: '300 in·lbf, wrench 10 in, adapter 4 in: 214 in·lbf',
      source: armyManual,
      mark: 'opened',
    },
    () => {
      close(setting(inLbf, inch, 300, 10, 4), 214.29, 0.0051);
    },
  ),
  holds(
    {
      working: adapter,
      says: '100 in·lbf, wrench 12 in, adapter 6 in: 66.67 in·lbf (inputs printed, result in a figure)',
      source: 'US Navy NAVEDTRA 14315, figures 3-44 and 3-45, navyaviation.tpub.com/14315/',
      mark: 'opened',
    },
    () => close(setting(inLbf, inch, 100, 12, 6), 66.67, 0.0051),
  ),
  holds(
    {
      working: adapter,
      says: '30 ft·lbf, 12 in, 6 in: 20 ft·lbf',
      source: 'torqwrench.com/Info/extens.php',
      mark: 'opened',
    },
    () => {
      close(setting(ftLbf, inch, 30, 12, 6), 20, 1e-9);
    },
  ),
  holds(
    {
      working: adapter,
      says: '30 ft·lbf, 1 ft, 0.25 ft: 24 ft·lbf',
      source: 'a light-aircraft maintenance manual (address withheld: it names the type)',
      mark: 'opened',
    },
    () => {
      close(setting(ftLbf, 12 * inch, 30, 1, 0.25), 24, 1e-9);
    },
  ),
  holds(
    {
      working: adapter,
      says: '135 in·lbf, 10 in, 1.5 in longer or shorter: 117.39 and 158.82',
      source: 'a rotorcraft maintenance manual, chapter 20 (address withheld: it names the type)',
      mark: 'opened',
    },
    () => {
      close(setting(inLbf, inch, 135, 10, 1.5), 117.39, 0.0051);
      close(setting(inLbf, inch, 135, 10, 1.5, 180), 158.82, 0.0051);
    },
  ),
  holds(
    {
      working: adapter,
      says: '80 N·m, 400 mm, 50 mm: 71.1 in line, 80.0 square to the wrench',
      source: 'agentcalc.com/torque-wrench-extension-calculator',
      mark: 'opened',
    },
    () => {
      close(setting(1, 1, 80, 400, 50), 71.1, 0.051);
      close(setting(1, 1, 80, 400, 50, 90), 80, 1e-9);
    },
  ),
  holds(
    {
      working: adapter,
      says: '80 N·m, 400 mm, 50 mm at 45°: 73.50',
      source: 'moment of a force about the fastener, worked out apart',
      mark: 'computed',
    },
    () => {
      close(setting(1, 1, 80, 400, 50, 45), 73.5, 0.0051);
    },
  ),
  holds(
    {
      working: adapter,
      says: 'shortening form T L/(L − E) is the adapter folded back',
      source: 'engineersedge.com/manufacturing_spec/torque_wrench_2.htm',
      mark: 'opened',
    },
    () => {
      close(setting(1, 1, 60, 300, 40, 180), (60 * 300) / (300 - 40), 1e-9);
    },
  ),
  holds(
    {
      working: adapter,
      says: 'trap: two pages turn the rule round and correct only at 90°; in line the setting falls, at 90° nothing changes',
      source: `${armyManual}; the cosine rule discussed at physicsforums.com (thread 860812)`,
      mark: 'opened',
    },
    () => {
      assert.ok(setting(1, 1, 80, 400, 50, 0) < 75);
      assert.equal(setting(1, 1, 80, 400, 50, 90), 80);
      assert.equal(setting(1, 1, 80, 400, 50, -90), 80);
    },
  ),
  check({
    working: adapter,
    says: 'run-down torque of a locking nut is added to the target first',
    source: 'FAA AC 43.13-1B, paragraph 7-40 d',
    mark: 'opened',
    input: { target: 70, runDown: 10, wrench: 400, extension: 50, angle: 0 },
    expect: { setting: near(80 * (400 / 450), 1e-9) },
  }),
  refuses({
    working: adapter,
    says: 'an adapter folded back over the grip has no lever',
    source: 'moment of a force about the fastener',
    mark: 'computed',
    input: { target: 80, wrench: 100, extension: 120, angle: 180 },
    code: 'lever-too-short',
  }),
];
