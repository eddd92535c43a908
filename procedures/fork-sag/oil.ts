import { hold, step, wait } from '../../src/procedure/index.ts';
import { OIL_MARGIN } from './head.ts';

/** Minutes that the filled legs stand so that the air rises. Common practice, no source. */
const AIR_RISES = 10;

const level = {
  unit: 'mm',
  min: { figure: 'forkOilLevel', plus: -OIL_MARGIN },
  max: { figure: 'forkOilLevel', plus: OIL_MARGIN },
  tool: 'depthGauge',
} as const;

/*
 * Legs out, old oil out, new oil to its level. Level is the distance from the rim of the tube to the oil, tube
 * compressed, spring and spacer out, so that a smaller figure means more oil; pumped over its stroke to drive the air
 * out: sonicsprings.com, changing springs and oil in damper rod forks.
 */
export const oil = {
  wheelOff: step({
    say: 'Caliper off and hung on a wire. Wheel out, mudguard off.',
    cautions: [
      {
        word: 'notice',
        text: 'From now on nobody touches the brake: the pads would close up.',
        why: 'Without a disc between them the pads meet, and the wheel does not go back in.',
      },
    ],
    next: 'legsOut',
  }),
  legsOut: step({
    say: 'Hold the leg, lower clamp slack, draw it down. Then the other. Mark left and right.',
    cautions: [
      {
        word: 'caution',
        text: 'The leg drops all at once: hand under it.',
        why: 'Let go by the clamp it falls on the foot, and its slider is dented.',
      },
    ],
    next: 'capsOff',
  }),
  capsOff: step({
    say: 'Leg upright, cap off by hand for its last turns, face beside it.',
    cautions: [
      {
        word: 'warning',
        text: 'The spring throws the cap up: face away, hand flat on top.',
        why: 'The spring is loaded to the last thread and throws the cap at whoever looks into it.',
      },
    ],
    next: 'springOut',
  }),
  springOut: step({
    say: 'Spacer, washer and spring out in order. Note which end of the spring is up.',
    next: 'drain',
  }),
  drain: step({
    say: 'Tip the leg over the tray. Pump it until nothing more comes.',
    why: 'Oil that stays behind makes the level lie.',
    cautions: [
      {
        word: 'notice',
        text: 'Old oil goes to the waste oil, never down the drain.',
        why: 'One litre of it spoils the water of a whole pond, and it is against the law.',
      },
    ],
    next: 'fill',
  }),
  fill: step({ say: 'Leg upright. Pour new oil in, a little more than wanted.', next: 'pumpLegs' }),
  pumpLegs: step({
    say: 'Pump tube and damper slowly, the whole stroke. Go on until no more air comes.',
    next: 'airRises',
  }),
  airRises: wait({
    say: 'Leave the legs standing upright. Air rises.',
    minutes: AIR_RISES,
    next: 'levelLeft',
  }),
  levelLeft: hold({
    say: 'Left leg fully compressed, spring out: rim down to the oil. Give the distance.',
    phrase: 'left leg at its level',
    why: 'Too much oil makes the fork lock solid before its end, and the seals blow out.',
    drawing: 'oil-level.svg',
    measure: { ...level, name: 'levelLeft', label: 'Oil below rim, left' },
    applies: { oil: 'change' },
    pass: 'levelRight',
    fail: 'levelAgain',
  }),
  levelRight: hold({
    say: 'Right leg fully compressed, spring out: rim down to the oil. Give the distance.',
    phrase: 'second leg holds the same',
    why: 'Legs that differ twist the fork under the brake, and it sticks.',
    drawing: 'oil-level.svg',
    measure: { ...level, name: 'levelRight', label: 'Oil below rim, right' },
    applies: { oil: 'change' },
    witness: 'apprentice',
    pass: 'springIn',
    fail: 'levelAgain',
  }),
  levelAgain: step({
    say: 'Draw oil off or pour some in. Pump that leg again.',
    rework: true,
    next: 'levelLeft',
  }),
  springIn: step({
    say: 'Leg drawn out, spring in the way it was, washer, spacer.',
    next: 'capsOn',
  }),
  capsOn: step({
    say: 'New ring on the cap. Push down straight and turn it in by hand.',
    cautions: [
      {
        word: 'caution',
        text: 'A cap cross-threaded jumps off later: by hand, all its thread.',
        why: "It holds on the stand, and lets go in the first bump, under the rider's face.",
      },
    ],
    next: 'legsIn',
  }),
};
