import { fork, hold, round, step } from '../../src/procedure/index.ts';
import { TORQUE_TOLERANCE } from './head.ts';

const clicks = (name: string, label: string, as: string) =>
  ({ name, label, unit: '', min: { reading: as }, max: { reading: as } }) as const;

/** Clamped, settings given back, steering free, and a second look. */
export const finish = {
  pinchRound: round({
    // Pinch bolts last, after the fork has been pumped: motorcyclecruiser.com/tips-tech/tech-tip-front-fork-alignment
    say: 'Tighten the axle pinch bolts in turn, never one alone.',
    shows: [{ label: 'Full torque', amount: { figure: 'pinchTorque' }, unit: 'N·m' }],
    fasteners: { figure: 'pinchBolts' },
    passes: ['snug', 'full torque'],
    fastener: 'bolt',
    next: 'pinchTight',
  }),
  pinchTight: hold({
    say: 'Once round with the wrench at its figure, no bolt may move. Give the figure.',
    phrase: 'pinch bolts gripping',
    why: 'The first bolt loosens as the second closes the clamp. A free axle turns itself out.',
    witness: 'apprentice',
    measure: {
      name: 'pinchTorque',
      label: 'Pinch bolts',
      unit: 'N·m',
      target: { figure: 'pinchTorque' },
      tolerancePercent: TORQUE_TOLERANCE,
      tool: 'torqueWrench',
    },
    pass: 'aloneLifted',
    fail: 'pinchAgain',
  }),
  pinchAgain: step({ say: 'Slacken every pinch bolt. Begin once more.', rework: true, next: 'bounce' }),
  clicksFork: fork({
    say: 'Do the legs have damping adjusters that click?',
    fact: 'clickers',
    ways: [
      { value: true, phrase: 'clickers fitted', to: 'reboundBack' },
      { value: false, phrase: 'nothing clicks', to: 'lockToLock' },
    ],
  }),
  reboundBack: hold({
    say: 'Rebound back to its count, both legs. Give the clicks from full in.',
    phrase: 'rebound given back',
    why: 'Forgotten full in, the fork packs down over bumps until it has no travel left.',
    applies: { clickers: true },
    measure: clicks('reboundEnd', 'Rebound clicks from full in', 'rebound'),
    pass: 'compressionBack',
    fail: 'clicksMiss',
  }),
  compressionBack: hold({
    say: 'Compression back to its count, both legs. Give the clicks from full in.',
    phrase: 'compression as before',
    why: 'Forgotten full in, the fork hits every stone like a rod and the wheel skips.',
    applies: { clickers: true },
    measure: clicks('compressionEnd', 'Compression clicks from full in', 'compression'),
    pass: 'lockToLock',
    fail: 'clicksMiss',
  }),
  clicksMiss: step({
    say: 'Turn it gently full in and count it out again.',
    rework: true,
    next: 'reboundBack',
  }),
  lockToLock: step({
    say: 'Bars from lock to lock, slowly. Watch hoses, cables and wiring.',
    next: 'steersFree',
  }),
  steersFree: hold({
    say: 'No tight spot, no hose pulled, nothing caught. The bars fall to both sides.',
    phrase: 'steers freely both ways',
    why: 'A hose that pulls at full lock steers the machine, or tears and takes the brake.',
    witness: 'apprentice',
    pass: 'diveTest',
    fail: 'hoseAgain',
  }),
  hoseAgain: step({ say: 'Lay hose and cables anew, every clip closed.', rework: true, next: 'lockToLock' }),
  diveTest: hold({
    say: 'Front brake on, push down, let rise. Smooth, quiet, no oil at the seals.',
    phrase: 'dives smooth and dry',
    why: 'Oil from a seal runs on to the disc. A fork that sticks lets the wheel hop in the bend.',
    pass: 'secondLook',
    fail: 'sticks',
  }),
  sticks: step({
    say: 'It sticks: pinch bolts slack and begin there. It leaks: seals, by the manual.',
    rework: true,
    next: 'bounce',
  }),
  secondLook: hold({
    say: 'Second person: axle, pinch bolts, caps, clamps, brake. Turn the bars yourself.',
    phrase: 'fork released to rider',
    why: 'Whoever did the work sees what he meant to do. A second pair of eyes sees what is there.',
    witness: 'always',
    pass: 'handOver',
    fail: 'secondFinds',
  }),
  secondFinds: step({
    say: 'Put right what was found. From the pinch bolts on, everything is read again.',
    rework: true,
    next: 'bounce',
  }),
  handOver: step({
    say: 'Hand over with sag, turns and clicks. A careful first ride, then look for oil.',
    cautions: [
      {
        word: 'warning',
        text: 'It steers and dives otherwise than before: gently at first.',
        why: 'A rider who expects the old fork brakes and turns in too late.',
      },
    ],
    next: 'complete',
  }),
};
