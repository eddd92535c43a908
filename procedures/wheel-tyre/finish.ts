import { fork, hold, round, step } from '../../src/procedure/index.ts';
import { TOLERANCE } from './head.ts';

/** On its wheels: the fork settled on its axle, a second look, and a word about new rubber. */
export const finish = {
  lower: step({
    say: 'Lower the machine. Brake on before the chock comes away.',
    cautions: [
      {
        word: 'warning',
        text: 'A rolling machine can crush you: helper at the other end.',
        why: 'Off its stand it rolls before the brake is felt, and pins whoever stands in front.',
      },
    ],
    next: 'settleFork',
  }),
  settleFork: fork({
    say: 'Front wheel, or rear wheel?',
    fact: 'end',
    ways: [
      { value: 'front', phrase: 'front wheel', to: 'bounce' },
      { value: 'rear', phrase: 'rear wheel', to: 'toolsCounted' },
    ],
  }),
  bounce: step({
    // Pinch bolts last, after the fork has been pumped: motorcyclecruiser.com/tips-tech/tech-tip-front-fork-alignment
    say: 'Front brake on. Push the fork down hard, four times.',
    why: 'The free leg finds its place on the axle. Clamped out of place, the fork sticks.',
    next: 'pinchRound',
  }),
  pinchRound: round({
    say: 'Tighten the pinch bolts in turn, never one alone.',
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
    applies: { end: 'front' },
    witness: 'apprentice',
    measure: {
      name: 'pinchTorque',
      label: 'Pinch bolts',
      unit: 'N·m',
      target: { figure: 'pinchTorque' },
      tolerancePercent: TOLERANCE,
      tool: 'torqueWrench',
    },
    pass: 'toolsCounted',
    fail: 'pinchAgain',
  }),
  pinchAgain: step({
    say: 'Slacken every pinch bolt. Begin once more.',
    rework: true,
    next: 'bounce',
  }),
  toolsCounted: step({ say: 'Valve cap on. Count your tools.', next: 'secondLook' }),
  secondLook: hold({
    say: 'Second person: look at arrow, axle, brake bolts and pressure. Try the brake.',
    phrase: 'wheel released to rider',
    why: 'Whoever did the work sees what he meant to do. A second pair of eyes sees what is there.',
    witness: 'always',
    pass: 'handOver',
    fail: 'secondFinds',
  }),
  secondFinds: step({
    say: 'Back on the stand. Put it right; from the axle on, everything is read again.',
    rework: true,
    next: 'endFork',
  }),
  handOver: step({
    // New rubber slips until it is scuffed: common practice, no source.
    say: 'Hand over: gently until the tyre is scuffed. Check pressure before the next ride.',
    cautions: [
      {
        word: 'warning',
        text: 'A new tyre slides without warning: no hard lean, no hard brake.',
        why: 'Its skin comes smooth out of the mould: until it is worn off there is no grip.',
      },
    ],
    why: 'Axle and spokes settle on the first ride. Look at both when it comes back.',
    next: 'complete',
  }),
};
