import { fork, hold, reading, step, working } from '../../src/procedure/index.ts';
import { TORQUE_TOLERANCE } from './head.ts';

const fromSeal = { unit: 'mm', min: 0, max: 400, tool: 'steelRule' } as const;

/*
 * Sag: hanging free, then standing, each read once after lifting and once after pressing down, so that friction cancels:
 * docstoc.com/docs/14826882; sportrider.com/ask-geek-set-your-static-sag.
 */
export const sag = {
  tape: step({
    say: 'Tape on the fork: the two places you measure between.',
    drawing: 'sag-readings.svg',
    next: 'extended',
  }),
  extended: reading({
    say: 'Wheel hanging free: seal to clamp along the tube. Give the length.',
    measure: { ...fromSeal, name: 'extended', label: 'Hanging free' },
    inside: 'lower',
    outside: 'measureAgain',
  }),
  measureAgain: step({
    say: 'Look which reading is which. Raise it and begin anew.',
    rework: true,
    next: 'raise',
  }),
  lower: step({
    say: 'Lower the machine. Brake on before the chock comes away.',
    cautions: [
      {
        word: 'warning',
        text: 'A rolling machine can crush you: helper at the rear.',
        why: 'Off its stand it rolls before the brake is felt, and pins whoever stands in front.',
      },
    ],
    next: 'bounce',
  }),
  bounce: step({
    say: 'Pinch bolts slack. Front brake on, push the fork down hard, four times.',
    why: 'The free leg finds its place on the axle. Clamped out of place, the fork sticks.',
    next: 'pinchRound',
  }),
  aloneLifted: reading({
    say: 'Machine alone: lift the bars, let it settle. Give the length.',
    measure: { ...fromSeal, name: 'aloneLifted', label: 'Alone, lifted' },
    inside: 'alonePressed',
    outside: 'measureAgain',
  }),
  alonePressed: reading({
    say: 'Machine alone: press the bars, let it rise. Give the length.',
    measure: { ...fromSeal, name: 'alonePressed', label: 'Alone, pressed' },
    inside: 'riderUp',
    outside: 'measureAgain',
  }),
  riderUp: step({
    say: 'Rider on in full gear, as on the road. Helper holds the machine upright.',
    cautions: [
      {
        word: 'warning',
        text: 'It falls sideways with the rider on: helper at the side.',
        why: "With both feet up nobody on it can catch it, and the rider's leg lies under it.",
      },
    ],
    next: 'ladenLifted',
  }),
  ladenLifted: reading({
    say: 'Rider on: lift the bars, let it settle. Give the length.',
    measure: { ...fromSeal, name: 'ladenLifted', label: 'Rider, lifted' },
    inside: 'ladenPressed',
    outside: 'measureAgain',
  }),
  ladenPressed: reading({
    say: 'Rider on: press the bars, let it rise. Give the length.',
    measure: { ...fromSeal, name: 'ladenPressed', label: 'Rider, pressed' },
    inside: 'found',
    outside: 'measureAgain',
  }),
  found: working({
    say: 'Look at the sag, and what the springs need.',
    why: 'Too little sag and the wheel leaves the ground. Too much and it runs out of travel in a hole.',
    working: 'sag',
    inputs: {
      extended: [{ reading: 'extended' }],
      unladen: [{ reading: 'aloneLifted' }, { reading: 'alonePressed' }],
      laden: [{ reading: 'ladenLifted' }, { reading: 'ladenPressed' }],
      travel: { figure: 'forkTravel' },
      target: { figure: 'sagTarget' },
      least: { figure: 'sagMin' },
      most: { figure: 'sagMax' },
    },
    answers: [
      { key: 'ladenSag', label: 'Sag with the rider', unit: 'mm' },
      { key: 'unladenSag', label: 'Sag alone', unit: 'mm' },
      { key: 'friction', label: 'Stiction', unit: 'mm' },
      { key: 'preloadChange', label: 'Preload to add', unit: 'mm' },
    ],
    gives: {
      ladenShortest: 'ladenShortest',
      ladenLongest: 'ladenLongest',
      preloadChange: 'preloadChange',
    },
    next: 'setFork',
    noAnswer: 'measureAgain',
  }),
  setFork: fork({
    say: 'Preload adjusters, or spacers inside?',
    fact: 'preload',
    ways: [
      { value: 'adjuster', phrase: 'preload adjusters', to: 'turnLeft' },
      { value: 'spacer', phrase: 'spacers inside', to: 'spacers' },
    ],
  }),
  turnLeft: reading({
    say: 'Both adjusters alike: add what is shown. Give the left one in turns from full out.',
    why: 'One turn is one thread pitch of preload, as the manual says. Less than a millimetre: leave it.',
    shows: [{ label: 'Preload to add', amount: { figure: 'preloadChange' }, unit: 'mm' }],
    measure: { name: 'turnsLeft', label: 'Left, turns from full out', unit: 'turns', min: 0, max: 40 },
    inside: 'turnRight',
    outside: 'turnAgain',
  }),
  turnRight: hold({
    say: 'Right adjuster: turn it out, count it, set it back. Give its turns.',
    phrase: 'adjusters turned alike',
    why: 'Unequal springs twist the fork and it sticks.',
    applies: { preload: 'adjuster' },
    measure: {
      name: 'turnsRight',
      label: 'Right, turns from full out',
      unit: 'turns',
      min: { reading: 'turnsLeft' },
      max: { reading: 'turnsLeft' },
    },
    pass: 'sagRight',
    fail: 'turnAgain',
  }),
  turnAgain: step({ say: 'Both fully out. Set them again.', rework: true, next: 'turnLeft' }),
  spacers: step({
    say: 'Wheel hanging free: upper clamps slack, caps off, spacers of the new length in.',
    cautions: [
      {
        word: 'warning',
        text: 'The spring throws the cap up: face away, hand flat on top.',
        why: 'The spring is loaded to the last thread and throws the cap at whoever looks into it.',
      },
    ],
    shows: [{ label: 'Longer by', amount: { figure: 'preloadChange' }, unit: 'mm' }],
    next: 'spacerCaps',
  }),
  spacerCaps: hold({
    say: 'Caps to their figure, then the upper clamps. Give the figure of the caps.',
    phrase: 'spacer caps tight again',
    why: 'A cap that unscrews is shot out by its spring, past the rider.',
    applies: { preload: 'spacer' },
    measure: {
      name: 'spacerCapTorque',
      label: 'Fork caps',
      unit: 'N·m',
      target: { figure: 'forkCapTorque' },
      tolerancePercent: TORQUE_TOLERANCE,
      tool: 'torqueWrench',
    },
    pass: 'clampsAgain',
    fail: 'spacersAgain',
  }),
  spacersAgain: step({ say: 'Cap off. Look at thread and ring.', rework: true, next: 'spacers' }),
  clampsAgain: hold({
    say: 'Upper clamps with the wrench. Give the figure.',
    phrase: 'handlebar clamp holds fast',
    why: 'The upper clamp carries the bars. Loose, they turn without the wheel.',
    applies: { preload: 'spacer' },
    witness: 'apprentice',
    measure: {
      name: 'clampTorque',
      label: 'Upper clamps',
      unit: 'N·m',
      target: { figure: 'upperClampTorque' },
      tolerancePercent: TORQUE_TOLERANCE,
      tool: 'torqueWrench',
    },
    pass: 'sagRight',
    fail: 'spacersAgain',
  }),
  sagRight: hold({
    say: 'Rider on: lift and read, press and read. Give the middle of the two.',
    phrase: 'sag inside both limits',
    why: 'Off its sag the fork tops out or bottoms, and the front wheel lets go.',
    drawing: 'sag-readings.svg',
    measure: {
      name: 'ladenEnd',
      label: 'Length with the rider',
      unit: 'mm',
      min: { figure: 'ladenShortest' },
      max: { figure: 'ladenLongest' },
      tool: 'steelRule',
    },
    pass: 'clicksFork',
    fail: 'sagAgain',
  }),
  sagAgain: step({
    say: 'Read it all again. Adjuster at its end: the springs are wrong for this rider.',
    rework: true,
    next: 'riderUp',
  }),
};
