import { hold, step, wait } from '../../src/procedure/index.ts';
import { TORQUE_TOLERANCE } from './head.ts';

/** Minutes under a tied lever before the joints are looked at. Common practice, no source. */
const UNDER_PRESSURE = 5;

/*
 * Bleeding. Clear hose and jar, air seen as bubbles, cap cleaned first, bars turned until the reservoir is level, a lever
 * that must be firm: engineerfix.com/how-to-bleed-the-brakes-on-a-motorcycle. Fluid draws water and is renewed every two
 * years: roadrunner.travel, bleeding brakes, 2014-04-15.
 */
export const bleed = {
  hoseOn: step({
    say: 'Reservoir level and full. Ring spanner, then hose on the nipple, end under fluid.',
    cautions: [
      {
        word: 'caution',
        text: 'Fluid can squirt into the eyes: goggles stay on.',
        why: 'A hose that slips off under the lever sprays at face height.',
      },
    ],
    drawing: 'bleed-hose.svg',
    next: 'squeeze',
  }),
  squeeze: step({ say: 'Helper: squeeze, and keep it squeezed.', next: 'nippleOpen' }),
  nippleOpen: step({
    say: 'Open the nipple a quarter turn. Close it before the lever reaches the bar.',
    why: 'Closed too late, the lever coming back draws air in through the nipple.',
    next: 'release',
  }),
  release: step({
    say: 'Helper: let go slowly. Top the reservoir up.',
    next: 'bubbles',
  }),
  bubbles: hold({
    say: 'Again and again, until ten strokes run clear without a bubble.',
    phrase: 'ten clean strokes',
    why: 'One bubble squeezes like a spring. The lever comes to the bar and nothing happens.',
    pass: 'nippleTight',
    fail: 'airAgain',
  }),
  airAgain: step({
    say: 'Tap caliper and hose from below upward. Lift the nipple to the top.',
    rework: true,
    next: 'squeeze',
  }),
  nippleTight: hold({
    say: 'Close the nipple to its figure, hose off, dust cap on. Give the figure.',
    phrase: 'nipple closed to figure',
    why: 'Too loose it weeps the brake empty. Too tight it snaps off in the caliper.',
    measure: {
      name: 'nippleTorque',
      label: 'Bleed nipple',
      unit: 'N·m',
      target: { figure: 'nippleTorque' },
      tolerancePercent: TORQUE_TOLERANCE,
      tool: 'torqueWrench',
    },
    pass: 'level',
    fail: 'nippleAgain',
  }),
  nippleAgain: step({
    say: 'Nipple damaged: a new one, and bleed again.',
    rework: true,
    next: 'hoseOn',
  }),
  level: step({
    say: 'Fill to the upper mark. Bellows in, cap on, screws snug.',
    next: 'levelRight',
  }),
  levelRight: hold({
    say: 'Look at the glass with the reservoir level: fluid between the two marks.',
    phrase: 'fluid between both marks',
    why: 'Too low draws air in a bend. Too full, the hot fluid puts the brake on by itself.',
    pass: 'leverFirm',
    fail: 'levelAgain',
  }),
  levelAgain: step({ say: 'Cap off. Draw off or top up.', rework: true, next: 'level' }),
  leverFirm: hold({
    say: 'Squeeze as hard as a rider would. Firm, clear of the bar, not creeping in.',
    phrase: 'lever hard as stone',
    why: 'A soft lever here is no brake on the road. Nothing else you did today matters more.',
    cautions: [
      {
        word: 'danger',
        text: 'Until the lever is firm the machine does not move at all.',
        why: 'Air in the line is pressed together instead of the pads: the machine rolls on.',
      },
    ],
    witness: 'always',
    pass: 'tie',
    fail: 'softAgain',
  }),
  softAgain: step({
    say: 'There is still air, or a swelling hose. Bleed again from the start.',
    rework: true,
    next: 'hoseOn',
  }),
  tie: step({ say: 'Strap the lever hard on.', next: 'underPressure' }),
  underPressure: wait({
    say: 'Leave it under pressure.',
    why: 'A weep that ten seconds do not show is a puddle on the tyre tomorrow.',
    minutes: UNDER_PRESSURE,
    next: 'leak',
  }),
  leak: hold({
    say: 'White paper on nipple, hose ends, pistons and reservoir. All dry.',
    phrase: 'paper dry all over',
    why: 'A leak empties the brake and oils the disc at the same time.',
    witness: 'apprentice',
    pass: 'untie',
    fail: 'leakFind',
  }),
  leakFind: step({
    say: 'Strap off. Find it: new sealing washers, new nipple, or a new hose.',
    cautions: [
      {
        word: 'warning',
        text: 'Fluid on pad or disc: pads are scrap, disc is degreased.',
        why: 'A pad soaks it up and cannot be cleaned. Each heat brings it out again on the disc.',
      },
    ],
    rework: true,
    next: 'discClean',
  }),
  untie: step({ say: 'Strap off. Wash off every drop with water.', next: 'spin' }),
};
