import { fork, hold, reading, round, step, working } from '../../src/procedure/index.ts';
import { TORQUE_TOLERANCE } from './head.ts';

const wrench = { unit: 'N·m', tolerancePercent: TORQUE_TOLERANCE, tool: 'torqueWrench' } as const;
const byShim = { valveAdjuster: 'shim', outside: true } as const;
const shim = { unit: 'mm', min: 0.5, max: 6, tool: 'micrometer' } as const;
const sold = {
  step: { figure: 'shimStep' },
  smallest: { figure: 'shimSmallest' },
  largest: { figure: 'shimLargest' },
} as const;
const inletTarget = { min: { figure: 'inletMin' }, max: { figure: 'inletMax' } } as const;
const exhaustTarget = { min: { figure: 'exhaustMin' }, max: { figure: 'exhaustMax' } } as const;

/**
 * Camshafts out, shims measured, chosen and fitted, camshafts back on their marks. Rag in the chain tunnel, crank not
 * turned meanwhile, magnet: bowl-of-mice.co.uk/ST_valve2.html. Caps in two or three passes, then several turns by hand
 * and the marks once more: a published service manual stored at manualshelf.com (camshafts, page 95).
 */
export const shims = {
  lockNuts: hold({
    say: 'Hold each screw still and tighten its lock nut. Give the figure.',
    phrase: 'lock nuts at figure',
    why: 'A screw that works loose opens the gap until the follower breaks.',
    applies: { valveAdjuster: 'screw', outside: true },
    measure: { ...wrench, name: 'lockNutTorque', label: 'Lock nuts', target: { figure: 'lockNutTorque' } },
    pass: 'handTurns',
    fail: 'screwsAgain',
  }),
  screwsAgain: step({ say: 'Nut slack, set that gap anew.', rework: true, next: 'screws' }),
  paintChain: step({
    say: 'Paint chain and both camshaft sprockets where they meet.',
    why: 'The chain hides a tooth gained or lost. The paint does not.',
    next: 'ragsIn',
  }),
  ragsIn: step({ say: 'One red rag in the chain tunnel, one on the spark plug hole.', next: 'holesShut' }),
  holesShut: hold({
    say: 'Look and count: two red rags, no way down into the engine.',
    phrase: 'both rags in place',
    why: 'A shim that falls down the tunnel means splitting the whole engine.',
    applies: byShim,
    pass: 'tensionerOut',
    fail: 'ragsAgain',
  }),
  ragsAgain: step({ say: 'Push the rag in properly, its end hanging out.', rework: true, next: 'ragsIn' }),
  tensionerOut: step({
    say: 'Cam chain tensioner: centre bolt first, then the body out.',
    cautions: [
      {
        word: 'warning',
        text: 'Its spring can fly: goggles on, thumb on the bolt.',
        why: 'It is loaded until the last thread, and then leaves at once.',
      },
    ],
    next: 'capsFree',
  }),
  capsFree: round({
    say: 'Slacken the camshaft caps evenly, outer bolts first.',
    cautions: [
      {
        word: 'notice',
        text: 'A camshaft that tips cracks its cap, and caps are not sold apart.',
        why: 'One side free and the valve springs lever the shaft against the other cap.',
      },
    ],
    fasteners: { figure: 'camCapBolts' },
    passes: ['quarter turn', 'loose'],
    fastener: 'bolt',
    next: 'camsOut',
  }),
  camsOut: step({
    say: 'Wire the chain up. Lift the camshafts out.',
    cautions: [
      {
        word: 'notice',
        text: 'From now on nobody turns the crank: a loose chain jams.',
        why: 'The chain bunches up at the crank, and what jams there breaks the case.',
      },
    ],
    next: 'bucketOut',
  }),
  bucketOut: step({
    say: 'Magnet: bucket and shim out, valve by valve, each to its place in the tray.',
    why: 'Each bucket has worn into its own bore. Swapped, they scuff.',
    drawing: 'shim-tray.svg',
    next: 'shimInletOne',
  }),
  shimInletOne: reading({
    say: 'First inlet valve: measure its shim. Do not trust the number on it.',
    measure: { ...shim, name: 'shimInletOne', label: 'Shim, first inlet' },
    inside: 'shimInletMore',
    outside: 'shimAgain',
  }),
  shimInletMore: fork({
    say: 'Two valves, or four?',
    fact: 'valves',
    ways: [
      { value: 'two', phrase: 'two valves', to: 'shimExhaustOne' },
      { value: 'four', phrase: 'twice two valves', to: 'shimInletTwo' },
    ],
  }),
  shimInletTwo: reading({
    say: 'Second inlet valve: measure its shim.',
    measure: { ...shim, name: 'shimInletTwo', label: 'Shim, second inlet' },
    inside: 'shimExhaustOne',
    outside: 'shimAgain',
  }),
  shimExhaustOne: reading({
    say: 'First exhaust valve: measure its shim.',
    measure: { ...shim, name: 'shimExhaustOne', label: 'Shim, first exhaust' },
    inside: 'shimExhaustMore',
    outside: 'shimAgain',
  }),
  shimExhaustMore: fork({
    say: 'Two valves, or four?',
    fact: 'valves',
    ways: [
      { value: 'two', phrase: 'two valves', to: 'pickInlet' },
      { value: 'four', phrase: 'twice two valves', to: 'shimExhaustTwo' },
    ],
  }),
  shimExhaustTwo: reading({
    say: 'Second exhaust valve: measure its shim.',
    measure: { ...shim, name: 'shimExhaustTwo', label: 'Shim, second exhaust' },
    inside: 'pickInlets',
    outside: 'shimAgain',
  }),
  shimAgain: step({
    say: 'Wipe shim and micrometer. Look again at the readings.',
    rework: true,
    next: 'shimInletOne',
  }),
  pickInlet: working({
    say: 'Look which shim the inlet valve needs.',
    why: 'Between two sizes the thinner, within the limits. A little loose ticks, a little tight burns.',
    working: 'valve-shim',
    inputs: {
      measured: [{ reading: 'inletOne' }],
      fitted: [{ reading: 'shimInletOne' }],
      target: inletTarget,
      ...sold,
    },
    answers: [
      { key: 'shims.0', label: 'Inlet shim', unit: 'mm' },
      { key: 'clearances.0', label: 'Gap it gives', unit: 'mm' },
    ],
    gives: { newInletOne: 'shims.0' },
    next: 'pickExhaust',
    noAnswer: 'shimAgain',
  }),
  pickExhaust: working({
    say: 'Look which shim the exhaust valve needs.',
    working: 'valve-shim',
    inputs: {
      measured: [{ reading: 'exhaustOne' }],
      fitted: [{ reading: 'shimExhaustOne' }],
      target: exhaustTarget,
      ...sold,
    },
    answers: [
      { key: 'shims.0', label: 'Exhaust shim', unit: 'mm' },
      { key: 'clearances.0', label: 'Gap it gives', unit: 'mm' },
    ],
    gives: { newExhaustOne: 'shims.0' },
    next: 'fitInletOne',
    noAnswer: 'shimAgain',
  }),
  pickInlets: working({
    say: 'Look which shims the inlet valves need.',
    why: 'Between two sizes the thinner, within the limits. A little loose ticks, a little tight burns.',
    working: 'valve-shim',
    inputs: {
      measured: [{ reading: 'inletOne' }, { reading: 'inletTwo' }],
      fitted: [{ reading: 'shimInletOne' }, { reading: 'shimInletTwo' }],
      target: inletTarget,
      ...sold,
    },
    answers: [
      { key: 'shims.0', label: 'First inlet shim', unit: 'mm' },
      { key: 'shims.1', label: 'Second inlet shim', unit: 'mm' },
    ],
    gives: { newInletOne: 'shims.0', newInletTwo: 'shims.1' },
    next: 'pickExhausts',
    noAnswer: 'shimAgain',
  }),
  pickExhausts: working({
    say: 'Look which shims the exhaust valves need.',
    working: 'valve-shim',
    inputs: {
      measured: [{ reading: 'exhaustOne' }, { reading: 'exhaustTwo' }],
      fitted: [{ reading: 'shimExhaustOne' }, { reading: 'shimExhaustTwo' }],
      target: exhaustTarget,
      ...sold,
    },
    answers: [
      { key: 'shims.0', label: 'First exhaust shim', unit: 'mm' },
      { key: 'shims.1', label: 'Second exhaust shim', unit: 'mm' },
    ],
    gives: { newExhaustOne: 'shims.0', newExhaustTwo: 'shims.1' },
    next: 'fitInlets',
    noAnswer: 'shimAgain',
  }),
  fitInletOne: step({
    say: 'Measure this shim, oil it, fit it in the inlet valve. Bucket on.',
    shows: [{ label: 'Inlet shim', amount: { figure: 'newInletOne' }, unit: 'mm' }],
    next: 'fitExhaustOne',
  }),
  fitExhaustOne: step({
    say: 'Measure this shim, oil it, fit it in the exhaust valve. Bucket on.',
    shows: [{ label: 'Exhaust shim', amount: { figure: 'newExhaustOne' }, unit: 'mm' }],
    next: 'bucketsTurn',
  }),
  fitInlets: step({
    say: 'Measure these shims, oil them, fit them in the inlet valves. Buckets on.',
    drawing: 'shim-tray.svg',
    shows: [
      { label: 'First inlet', amount: { figure: 'newInletOne' }, unit: 'mm' },
      { label: 'Second inlet', amount: { figure: 'newInletTwo' }, unit: 'mm' },
    ],
    next: 'fitExhausts',
  }),
  fitExhausts: step({
    say: 'Measure these shims, oil them, fit them in the exhaust valves. Buckets on.',
    drawing: 'shim-tray.svg',
    shows: [
      { label: 'First exhaust', amount: { figure: 'newExhaustOne' }, unit: 'mm' },
      { label: 'Second exhaust', amount: { figure: 'newExhaustTwo' }, unit: 'mm' },
    ],
    next: 'bucketsTurn',
  }),
  bucketsTurn: hold({
    say: 'Turn each bucket with a finger. It turns and sits level; the tray is empty.',
    phrase: 'buckets turn level',
    why: 'A shim beside its seat is spat out at speed and breaks camshaft and head.',
    applies: byShim,
    witness: 'apprentice',
    pass: 'camsIn',
    fail: 'bucketAgain',
  }),
  bucketAgain: step({
    say: 'That bucket out. Shim flat in its seat with a drop of oil.',
    rework: true,
    next: 'bucketsTurn',
  }),
  camsIn: step({
    say: 'Oil the lobes. Camshafts in, chain over both sprockets on their marks.',
    cautions: [
      {
        word: 'caution',
        text: 'A finger between chain and sprocket gets caught: lay it by the wire.',
        why: 'The valve springs can turn the shaft by themselves, and the finger with it.',
      },
    ],
    drawing: 'cam-marks.svg',
    next: 'marks',
  }),
  marks: hold({
    say: 'Point at crank mark, then both camshaft marks: level with the head, paint on paint.',
    phrase: 'timing marks agree',
    why: 'One tooth out and the valves meet the piston at the first turn of the starter.',
    drawing: 'cam-marks.svg',
    applies: byShim,
    witness: 'apprentice',
    pass: 'capsRound',
    fail: 'marksAgain',
  }),
  marksAgain: step({
    say: 'Camshafts up again. Count the links between the marks.',
    rework: true,
    next: 'camsIn',
  }),
  capsRound: round({
    say: 'Caps on by their numbers. Tighten evenly, inner bolts first.',
    shows: [{ label: 'Full torque', amount: { figure: 'camCapTorque' }, unit: 'N·m' }],
    fasteners: { figure: 'camCapBolts' },
    passes: ['by hand', 'half torque', 'full torque'],
    fastener: 'bolt',
    next: 'capsTight',
  }),
  capsTight: hold({
    say: 'Once round with the wrench at its figure, no bolt may move. Give the figure.',
    phrase: 'caps torqued evenly',
    why: 'Tightened unevenly the camshaft seizes in its bearings, and there is no repair.',
    applies: byShim,
    witness: 'apprentice',
    measure: { ...wrench, name: 'camCapTorque', label: 'Camshaft caps', target: { figure: 'camCapTorque' } },
    pass: 'tensionerIn',
    fail: 'capsAgain',
  }),
  capsAgain: step({ say: 'Slacken all caps evenly. Begin once more.', rework: true, next: 'capsRound' }),
  tensionerIn: step({
    say: 'Tensioner wound in, body on, then let it spring out.',
    next: 'tensionerOn',
  }),
  tensionerOn: hold({
    say: 'Press the chain between the sprockets: taut, no slack to push down.',
    phrase: 'tensioner sprung out',
    why: 'Left wound in, the chain jumps a tooth at the first start.',
    applies: byShim,
    pass: 'ragsOut',
    fail: 'tensionerAgain',
  }),
  tensionerAgain: step({
    say: 'Tensioner out. Wind it, fit it, let it go.',
    rework: true,
    next: 'tensionerIn',
  }),
  ragsOut: hold({
    say: 'Both red rags out. Hold them up and count: two.',
    phrase: 'two red rags here',
    why: 'A rag in the tunnel winds into the chain at the first turn.',
    applies: byShim,
    pass: 'handTurns',
    fail: 'ragsFind',
  }),
  ragsFind: step({
    say: 'Stop here and find it. Nothing turns until you do.',
    rework: true,
    next: 'ragsOut',
  }),
};
