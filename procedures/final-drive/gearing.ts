import { fork, reading, step, working } from '../../src/procedure/index.ts';

const from = { front: { figure: 'oldFront' }, rear: { figure: 'oldRear' } };
const to = { front: { figure: 'newFront' }, rear: { figure: 'newRear' } };

/** Other sprocket sizes: everything is worked out while the old chain still shows where the axle sits. */
export const gearing = {
  gearing: fork({
    say: 'Like for like, or other sizes?',
    fact: 'regear',
    ways: [
      { value: false, phrase: 'like for like', to: 'brakeOn' },
      { value: true, phrase: 'other sizes', to: 'oldCentre' },
    ],
  }),
  oldCentre: reading({
    say: 'Measure from the front sprocket shaft to the middle of the axle.',
    measure: {
      name: 'oldCentre',
      label: 'Shaft to axle now',
      unit: 'mm',
      min: { figure: 'adjusterMin' },
      max: { figure: 'adjusterMax' },
      tool: 'steelRule',
    },
    inside: 'ratio',
    outside: 'oldCentreAgain',
  }),
  oldCentreAgain: step({
    say: 'That is outside the adjuster. Look at both ends of the rule.',
    rework: true,
    next: 'oldCentre',
  }),
  ratio: working({
    say: 'Look what the new sizes do.',
    why: 'A rider who expects the old gearing meets the next corner in another gear.',
    working: 'ratio-change',
    inputs: { from, to },
    answers: [
      { key: 'percent', label: 'Final ratio changes by', unit: '%' },
      { key: 'roadSpeedPercent', label: 'Road speed changes by', unit: '%' },
    ],
    next: 'chainCut',
    noAnswer: 'noLength',
  }),
  chainCut: working({
    say: 'Look how long the new chain must be.',
    why: 'Too short will not close. Too long runs out of adjuster before it is worn.',
    working: 'chain-cut',
    inputs: {
      pitch: { figure: 'pitch' },
      old: { ...from, pitches: { figure: 'oldPitches' }, centre: { reading: 'oldCentre' } },
      new: to,
      adjuster: { min: { figure: 'adjusterMin' }, max: { figure: 'adjusterMax' } },
      link: { fact: 'link' },
      slack: { figure: 'slackMin' },
    },
    answers: [
      { key: 'pitches', label: 'New chain, joining link counted', unit: 'pitches' },
      { key: 'cutAfterPitch', label: 'Count and cut after', unit: 'pitches' },
      { key: 'wearReservePercent', label: 'Wear the adjuster can take up', unit: '%' },
    ],
    gives: { newPitches: 'pitches' },
    next: 'newCentre',
    noAnswer: 'noLength',
  }),
  newCentre: working({
    say: 'Look where the axle will sit.',
    working: 'centre-distance',
    inputs: { ...to, pitch: { figure: 'pitch' }, pitches: { figure: 'newPitches' } },
    answers: [{ key: 'centre', label: 'Shaft to axle, chain taut', unit: 'mm' }],
    next: 'newSlack',
    noAnswer: 'noLength',
  }),
  newSlack: working({
    say: 'Look how much slack this geometry needs at rest.',
    why: 'As the suspension goes down the chain tightens. Too little slack bends the shaft.',
    working: 'chain-slack',
    inputs: {
      ...to,
      pitch: { figure: 'pitch' },
      pivotToFront: { figure: 'pivotToFront' },
      pivotToAxle: { figure: 'pivotToAxle' },
      restAngle: { figure: 'restAngle' },
      leastSlack: { figure: 'leastSlack' },
    },
    answers: [{ key: 'slackAtRest', label: 'Least slack at rest', unit: 'mm' }],
    next: 'brakeOn',
    noAnswer: 'noLength',
  }),
  noLength: step({
    say: 'These sizes do not work here. Fetch the supervisor and choose others.',
    rework: true,
    next: 'lookSizes',
  }),
};
