import { hold, step } from '../../src/procedure/index.ts';
import { axleTorque } from '../final-drive/axle.ts';
import { TORQUE_TOLERANCE } from '../final-drive/head.ts';
import { readings } from '../final-drive/readings.ts';

const { line, tightest, slack } = readings;

/** The wrench, then line and slack: the chain beds in on its first ride, so slack has nearly always grown. */
export const read = {
  brakeForFront: step({
    say: 'Helper: rear brake on, and keep it on.',
    drawing: 'brake-helper.svg',
    next: 'boltTight',
  }),
  boltTight: hold({
    say: 'Torque wrench on the front sprocket bolt: it may not turn. Give the figure.',
    phrase: 'front bolt to its figure',
    why: 'A bolt that still turns has lost its grip: new locker or washers, not just a pull.',
    applies: { retainer: 'bolt' },
    witness: 'apprentice',
    measure: {
      name: 'frontTorque',
      label: 'Front sprocket bolt',
      unit: 'N·m',
      target: { figure: 'frontTorque' },
      tolerancePercent: TORQUE_TOLERANCE,
      tool: 'torqueWrench',
    },
    pass: 'helperOff',
    fail: 'boltRenew',
  }),
  boltRenew: step({
    say: 'Bolt out: clean it, spring washer outermost, back in by hand.',
    drawing: 'washers-order.svg',
    rework: true,
    next: 'boltTight',
  }),
  helperOff: step({ say: 'Helper: brake off, and stand clear.', next: 'rearTight' }),
  rearTight: hold({
    say: 'Torque wrench once round the rear sprocket: no nut may turn. Give the figure.',
    phrase: 'rear ring all tight',
    why: 'New metal beds in. One bolt that has lost its grip loosens the rest.',
    drawing: 'bolt-round.svg',
    witness: 'apprentice',
    measure: {
      name: 'rearTorque',
      label: 'Rear sprocket bolts',
      unit: 'N·m',
      target: { figure: 'rearTorque' },
      tolerancePercent: TORQUE_TOLERANCE,
      tool: 'torqueWrench',
    },
    pass: 'raise',
    fail: 'rearRenew',
  }),
  rearRenew: step({
    say: 'The nut that turned: off, clean, fresh locker, torque. Then once round.',
    rework: true,
    next: 'rearTight',
  }),
  raise: step({
    say: 'Raise the machine on its stand until the rear wheel hangs clear.',
    cautions: [
      {
        word: 'warning',
        text: 'A falling machine can crush you: lift with your helper.',
        why: 'Once it tips past its stand one person cannot stop it, and lies under it.',
      },
    ],
    next: 'standFirm',
  }),
  standFirm: hold({
    say: 'Rock the machine by hand. It must not tip, roll or creep.',
    phrase: 'rock steady on stand',
    why: 'You kneel beside it and turn the wheel. It must not come down.',
    pass: 'reach',
    fail: 'raiseAgain',
  }),
  raiseAgain: step({
    say: 'Lower it, move the stand, and raise it once more.',
    rework: true,
    next: 'standFirm',
  }),
  ...axleTorque('line', 'axleLoose'),
  line,
  tightest,
  slack,
  axleLoose: step({
    say: 'Split pin out, axle nut loose. Turn both adjusters alike, wheel pushed forward.',
    drawing: 'alignment.svg',
    rework: true,
    next: 'reach',
  }),
};
