import { fork, hold, reading, step, working } from '../../src/procedure/index.ts';
import { TORQUE_TOLERANCE } from './head.ts';

const measured = {
  name: 'axleTorque',
  unit: 'N·m',
  tolerancePercent: TORQUE_TOLERANCE,
  tool: 'torqueWrench',
} as const;

/**
 * The axle nut to its figure, with a plain socket or through an adapter, which lowers the wrench setting. Begins at
 * `reach`; `again` is the rework that leads back to it.
 */
export const axleTorque = <const N extends string, const A extends string>(next: N, again: A) => ({
  reach: fork({
    say: 'Plain socket at the axle nut, or an adapter?',
    fact: 'adapter',
    ways: [
      { value: false, phrase: 'plain socket', to: 'axleTight' },
      { value: true, phrase: 'adapter needed', to: 'wrenchLength' },
    ],
  }),
  axleTight: hold({
    say: 'Tighten the axle nut with the torque wrench. Give the figure.',
    phrase: 'axle holds its torque',
    why: 'A loose axle walks in its slots: the chain jumps, or the wheel leans in the swing arm.',
    applies: { adapter: false },
    witness: 'apprentice',
    measure: { ...measured, label: 'Axle nut', target: { figure: 'axleTorque' } },
    pass: next,
    fail: again,
  }),
  wrenchLength: reading({
    say: 'Measure the wrench from the middle of its grip to the square drive.',
    measure: { name: 'wrenchLength', label: 'Wrench', unit: 'mm', min: 100, max: 1200, tool: 'steelRule' },
    inside: 'adapterLength',
    outside: 'wrenchAgain',
  }),
  wrenchAgain: step({ say: 'Look at both ends of the rule.', rework: true, next: 'wrenchLength' }),
  adapterLength: reading({
    say: 'Measure the adapter from the square drive to the middle of the nut.',
    measure: { name: 'adapterLength', label: 'Adapter', unit: 'mm', min: 10, max: 300, tool: 'steelRule' },
    inside: 'wrenchSetting',
    outside: 'adapterAgain',
  }),
  adapterAgain: step({ say: 'Look at both ends of the rule.', rework: true, next: 'adapterLength' }),
  wrenchSetting: working({
    say: 'Adapter in line with the wrench. Set the wrench to this figure.',
    why: 'An adapter makes the lever longer: at the plain figure the axle nut is overtightened.',
    working: 'torque-adapter',
    inputs: {
      target: { figure: 'axleTorque' },
      wrench: { reading: 'wrenchLength' },
      extension: { reading: 'adapterLength' },
      angle: 0,
    },
    answers: [{ key: 'setting', label: 'Set the wrench to', unit: 'N·m' }],
    next: 'axleAdapted',
    noAnswer: 'wrenchLength',
  }),
  axleAdapted: hold({
    say: 'Tighten the axle nut, adapter in line. Give the figure on the wrench.',
    phrase: 'adapter reached its setting',
    why: 'A loose axle walks in its slots: the chain jumps, or the wheel leans in the swing arm.',
    applies: { adapter: true },
    witness: 'apprentice',
    measure: {
      ...measured,
      label: 'Wrench setting at the axle nut',
      target: { result: 'wrenchSetting', of: 'setting' },
    },
    pass: next,
    fail: again,
  }),
});
