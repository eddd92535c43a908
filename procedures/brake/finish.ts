import { fork, hold, round, step } from '../../src/procedure/index.ts';
import { TORQUE_TOLERANCE } from './head.ts';

/** Free, on its wheels, tried at walking pace, and handed over with a word about bedding in. */
export const finish = {
  spin: hold({
    say: 'Spin the wheel by its tyre, brake once, let go. It must run on free.',
    phrase: 'spins and lets go',
    why: 'A brake that drags heats its fluid until it boils, and then it is gone.',
    drawing: 'spin-clear.svg',
    cautions: [
      {
        word: 'danger',
        text: 'Spokes and disc take fingers off. Never spin it with the engine.',
        why: 'The engine does not feel a finger. A wheel turned by hand stops at it.',
      },
    ],
    pass: 'lower',
    fail: 'dragFind',
  }),
  dragFind: step({
    say: 'Wheel still. Sticking piston or slide: caliper off and look.',
    rework: true,
    next: 'caliperOn',
  }),
  lower: step({
    say: 'Lower the machine. Brake on before the chock comes away.',
    cautions: [
      {
        word: 'warning',
        text: 'A rolling machine can crush you: helper at the other end.',
        why: 'Off its stand it rolls before the brake is felt, and pins whoever stands in front.',
      },
    ],
    next: 'discWas',
  }),
  discWas: fork({
    say: 'Old disc kept, or new disc?',
    fact: 'disc',
    ways: [
      { value: 'keep', phrase: 'disc stays on', to: 'walk' },
      { value: 'renew', phrase: 'fit another rotor', to: 'endWas' },
    ],
  }),
  endWas: fork({
    say: 'Front brake, or rear brake?',
    fact: 'end',
    ways: [
      { value: 'front', phrase: 'front end', to: 'bounce' },
      { value: 'rear', phrase: 'back wheel', to: 'walk' },
    ],
  }),
  bounce: step({
    // Pinch bolts last, after the fork has been pumped: motorcyclecruiser.com/tips-tech/tech-tip-front-fork-alignment
    say: 'Front brake on. Push the fork down hard, four times.',
    next: 'pinchRound',
  }),
  pinchRound: round({
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
    applies: { end: 'front', disc: 'renew' },
    witness: 'apprentice',
    measure: {
      name: 'pinchTorque',
      label: 'Pinch bolts',
      unit: 'N·m',
      target: { figure: 'pinchTorque' },
      tolerancePercent: TORQUE_TOLERANCE,
      tool: 'torqueWrench',
    },
    pass: 'walk',
    fail: 'pinchAgain',
  }),
  pinchAgain: step({ say: 'Slacken every pinch bolt. Begin once more.', rework: true, next: 'bounce' }),
  walk: step({ say: 'Walk the machine forward, clear floor ahead, engine off.', next: 'bites' }),
  bites: hold({
    say: 'Brake at a walk, three times. It must bite each time, straight and at once.',
    phrase: 'bites at a walk',
    why: 'Better that it fails at a walk in the yard than at the first junction.',
    pass: 'secondLook',
    fail: 'weakBrake',
  }),
  weakBrake: step({
    say: 'Back on the stand. Oil on the disc or air in the hose: begin at the disc.',
    rework: true,
    next: 'discClean',
  }),
  secondLook: hold({
    say: 'Second person: caliper bolts, pin, hose, fluid. Squeeze the lever yourself.',
    phrase: 'brake released to rider',
    why: 'Whoever did the work sees what he meant to do. A second pair of eyes sees what is there.',
    witness: 'always',
    pass: 'cureFork',
    fail: 'secondFinds',
  }),
  secondFinds: step({
    say: 'Back on the stand. Put it right; from the pads on, everything is read again.',
    rework: true,
    next: 'discClean',
  }),
  cureFork: fork({
    say: 'Old disc kept, or new disc?',
    fact: 'disc',
    ways: [
      { value: 'keep', phrase: 'disc stays on', to: 'handOver' },
      { value: 'renew', phrase: 'fit another rotor', to: 'cure' },
    ],
  }),
  cure: step({
    say: 'Tell the rider: not ridden before the thread locker has cured.',
    cautions: [
      {
        word: 'warning',
        text: 'Uncured thread locker lets the disc bolts turn.',
        why: 'Uncured it is a lubricant: the bolts back out and the disc comes off while braking.',
      },
    ],
    shows: [{ label: 'Cure before riding', amount: { figure: 'lockerCure' }, unit: 'h' }],
    next: 'handOver',
  }),
  handOver: step({
    // Gently at first, then harder, up to 100 to 200 miles: motorcyclecruiser.com/breaking-down-your-brake-pads
    say: 'Hand over: bed it in. Gentle braking first, a little harder each time.',
    cautions: [
      {
        word: 'warning',
        text: 'Before it is bedded in the brake is weak: keep a long distance.',
        why: 'New pads touch the disc in spots only. The first stops take twice as long.',
      },
    ],
    why: 'Hot too early the lining turns to glass and never bites.',
    next: 'complete',
  }),
};
