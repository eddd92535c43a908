import { hold, step } from '../../src/procedure/index.ts';

/** Covering up, trying it, marking it, and handing it over. */
export const finish = {
  wiringBack: step({
    say: 'Lay the wiring back the way you sketched it. Every clip closed.',
    next: 'guardOn',
  }),
  guardOn: step({ say: 'Refit the sprocket cover and the chain guard. Every screw in.', next: 'guarded' }),
  guarded: hold({
    say: 'Pull at cover, guard and wiring. Nothing moves, nothing near the chain.',
    phrase: 'guard sits solid',
    why: 'Without the guard a boot or a trouser leg goes into the chain. A loose wire ends the engine.',
    pass: 'lubricate',
    fail: 'guardAgain',
  }),
  guardAgain: step({ say: 'Take it off and fit it properly.', rework: true, next: 'wiringBack' }),
  lubricate: step({
    say: 'Lubricate the lower run from inside, turning the wheel by its tyre.',
    cautions: [
      {
        word: 'warning',
        text: 'Chain and sprocket pull a rag in, and the hand with it: spray, never wipe.',
        why: 'A rag wraps round the sprocket at once and does not let go of the hand that holds it.',
      },
      {
        word: 'caution',
        text: 'Lubricant on the brake disc or tyre: clean it off before anyone rides.',
        why: 'Oil on the disc leaves no brake, oil on the tyre leaves no grip: the rider falls.',
      },
    ],
    why: 'Use what the chain maker names. The wrong solvent swells the seals.',
    next: 'spin',
  }),
  spin: hold({
    say: 'Helper clear, hands clear. Spin the wheel by its tyre. Watch and listen.',
    phrase: 'silent smooth running',
    why: 'A tick is a stiff link, a swing is a sprocket off true. Better heard here than on the road.',
    drawing: 'spin-clear.svg',
    cautions: [
      {
        word: 'danger',
        text: 'A turning sprocket takes fingers off. Never spin it with the engine.',
        why: 'The engine does not feel a finger. A wheel turned by hand stops at it.',
      },
    ],
    pass: 'paint',
    fail: 'findNoise',
  }),
  findNoise: step({
    say: 'Wheel still. Find what rubs, ticks or swings, and put it right.',
    rework: true,
    next: 'slackFor',
  }),
  paint: step({
    say: 'Paint a line over each tightened fastener, on to the part below.',
    drawing: 'paint-mark.svg',
    next: 'painted',
  }),
  painted: hold({
    say: 'Count the lines: axle nut, front sprocket, every rear sprocket bolt.',
    phrase: 'paint lines all across',
    why: 'At the re-check a broken line shows at one look what has turned.',
    drawing: 'paint-mark.svg',
    pass: 'pumpBrake',
    fail: 'paintAgain',
  }),
  paintAgain: step({
    say: 'Torque wrench on the ones without a line, then paint them.',
    rework: true,
    next: 'painted',
  }),
  pumpBrake: step({ say: 'Pump the rear brake until it is firm.', next: 'brakeFirm' }),
  brakeFirm: hold({
    say: 'Turn the wheel, press the rear brake. It must stop dead and let go clean.',
    phrase: 'brake bites every time',
    why: 'With the wheel out the pads move. The first press then goes to the bar, with a rider on board.',
    witness: 'apprentice',
    pass: 'lower',
    fail: 'brakeLook',
  }),
  brakeLook: step({
    say: 'Look at disc, pads and hose. Pump again. Still soft: do not hand it over.',
    rework: true,
    next: 'pumpBrake',
  }),
  lower: step({ say: 'Lower the machine. Take the chock away. Count your tools.', next: 'secondLook' }),
  secondLook: hold({
    say: 'Second person: look at joining link, axle nut, slack and brake yourself.',
    phrase: 'released to the rider',
    why: 'Whoever did the work sees what he meant to do. A second pair of eyes sees what is there.',
    witness: 'always',
    pass: 'handOver',
    fail: 'secondFinds',
  }),
  secondFinds: step({
    say: 'Put right what was found. From the adjusters on, everything is read once more.',
    rework: true,
    next: 'slackFor',
  }),
  handOver: step({
    say: 'Hand over: not ridden before the locker has cured, re-check after the first ride.',
    why: 'Chain, bolts and spokes settle in the first hour. The re-check catches what moved.',
    cautions: [
      {
        word: 'warning',
        text: 'Uncured thread locker lets the sprocket bolts turn.',
        why: 'Uncured it is a lubricant: the bolts back out and the sprocket comes off under load.',
      },
    ],
    shows: [{ label: 'Cure before riding', amount: { figure: 'lockerCure' }, unit: 'h' }],
    next: 'complete',
  }),
};
