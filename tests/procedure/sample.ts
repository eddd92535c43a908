import type { JobInput } from '../../src/procedure/context.ts';
import {
  fork,
  hold,
  kit,
  lookUp,
  oneOf,
  procedure,
  reading,
  round,
  step,
  wait,
  working,
  yesNo,
} from '../../src/procedure/index.ts';

/** A short procedure with one station of each kind: for tests only. */
export const sample = procedure({
  id: 'sample',
  title: 'Sample with every kind of station',
  revision: 1,
  covers: 'Nothing real: it exists for tests.',
  facts: { link: oneOf('Joining link', 'clip', 'rivet'), sealed: yesNo('Sealed chain') },
  figures: {
    axleTorque: { says: 'Axle nut torque', unit: 'N·m', plausible: [20, 200] },
    bolts: { says: 'Sprocket bolts', unit: '', plausible: [3, 12] },
    oldFront: { says: 'Old front sprocket', unit: 'teeth', plausible: [9, 25] },
    rear: { says: 'Rear sprocket', unit: 'teeth', plausible: [25, 70] },
  },
  tools: { torqueWrench: { says: 'torque wrench', calibrated: true }, steelRule: { says: 'steel rule' } },
  initial: 'kit',
  states: {
    kit: kit({
      say: 'Call off what you need.',
      items: {
        gloves: { calls: 'Gloves', kind: 'protective' },
        wrench: { calls: 'Torque wrench', kind: 'tool', tool: 'torqueWrench' },
        seals: { calls: 'Four seals', kind: 'part', when: { sealed: true } },
      },
      next: 'card',
    }),
    card: lookUp({
      say: "Read the missing figures from the maker's service manual.",
      needs: [{ figure: 'axleTorque' }, { figure: 'bolts' }, { figure: 'oldFront' }, { figure: 'rear' }],
      next: 'ratio',
    }),
    ratio: working({
      say: 'Look at the ratio.',
      working: 'final-ratio',
      inputs: { front: { figure: 'oldFront' }, rear: { figure: 'rear' } },
      answers: [{ key: 'ratio', label: 'Ratio', unit: '' }],
      next: 'bolts',
      noAnswer: 'kit',
    }),
    bolts: round({
      say: 'Tighten the bolts in opposite pairs.',
      fasteners: { figure: 'bolts' },
      fastener: 'bolt',
      passes: ['by hand', 'to torque'],
      next: 'cure',
    }),
    cure: wait({ say: 'Let the thread locker set.', minutes: 10, next: 'which' }),
    which: fork({
      say: 'Clip link, or riveted link?',
      fact: 'link',
      look: true,
      ways: [
        { value: 'clip', phrase: 'clip link', to: 'clipWay' },
        { value: 'rivet', phrase: 'riveted link', to: 'slack' },
      ],
    }),
    clipWay: hold({
      say: 'Check the clip: its open end must trail.',
      phrase: 'open end trails',
      why: 'A clip whose open end leads is knocked off by the first thing that touches it.',
      applies: { link: 'clip' },
      witness: 'apprentice',
      pass: 'slack',
      fail: 'refit',
    }),
    refit: step({ say: 'Turn the clip round.', rework: true, next: 'clipWay' }),
    slack: reading({
      say: 'Measure the slack.',
      measure: { name: 'slack', label: 'Slack', unit: 'mm', min: 30, max: 40, tool: 'steelRule' },
      inside: 'torque',
      outside: 'adjust',
    }),
    adjust: step({ say: 'Set the slack.', rework: true, next: 'slack' }),
    torque: hold({
      say: 'Tighten the axle nut.',
      phrase: 'axle torque confirmed',
      why: 'A loose axle lets the wheel walk out of line.',
      measure: {
        name: 'axleTorque',
        label: 'Axle nut torque',
        unit: 'N·m',
        target: { figure: 'axleTorque' },
        tolerancePercent: 5,
        tool: 'torqueWrench',
      },
      pass: 'complete',
      fail: 'loosen',
    }),
    loosen: step({ say: 'Loosen the nut and begin again.', rework: true, next: 'torque' }),
  },
});

export const NOON = 1_795_000_000_000;

export const sampleInput: JobInput = {
  facts: { sealed: true },
  figures: {
    axleTorque: { value: 90, unit: 'N·m', source: 'card' },
    oldFront: { value: 13, unit: 'teeth', source: 'card' },
    rear: { value: 48, unit: 'teeth', source: 'card' },
  },
  people: [
    { id: 'ada', name: 'Ada', role: 'mechanic' },
    { id: 'ben', name: 'Ben', role: 'apprentice' },
    { id: 'cyd', name: 'Cyd', role: 'supervisor' },
  ],
  tools: [
    { id: 'T1', kind: 'torqueWrench', says: 'Torque wrench T1', calibratedUntil: '2027-06-30' },
    { id: 'T2', kind: 'torqueWrench', says: 'Torque wrench T2', calibratedUntil: '2020-06-30' },
    { id: 'R1', kind: 'steelRule', says: 'Steel rule R1' },
  ],
  at: NOON,
};
