import { hold, round, step } from '../../src/procedure/index.ts';
import { HEIGHT_MARGIN, TORQUE_TOLERANCE } from './head.ts';

const wrench = { unit: 'N·m', tolerancePercent: TORQUE_TOLERANCE, tool: 'torqueWrench' } as const;
const height = {
  unit: 'mm',
  min: { figure: 'legHeight', plus: -HEIGHT_MARGIN },
  max: { figure: 'legHeight', plus: HEIGHT_MARGIN },
  tool: 'steelRule',
} as const;
const changed = { oil: 'change' } as const;

/**
 * Legs back at one height, clamps and caps, wheel and brake. Heights equal, the axle sliding through by itself, pinch
 * bolts last: motorcyclecruiser.com/tips-tech/tech-tip-front-fork-alignment.
 */
export const legs = {
  legsIn: step({
    say: 'Push both legs up through the clamps to their height. Lower bolts snug.',
    drawing: 'fork-height.svg',
    next: 'heightLeft',
  }),
  heightLeft: hold({
    say: 'Left tube above the upper clamp, cap not counted. Give the height.',
    phrase: 'left tube stands right',
    why: 'Height sets how quickly it steers. A centimetre out, it wanders or falls into the bend.',
    drawing: 'fork-height.svg',
    applies: changed,
    measure: { ...height, name: 'heightLeft', label: 'Left tube above clamp' },
    pass: 'heightRight',
    fail: 'heightAgain',
  }),
  heightRight: hold({
    say: 'Right tube above the upper clamp, cap not counted. Give the height.',
    phrase: 'both stand level',
    why: 'One leg higher than the other bends the axle and jams the fork.',
    drawing: 'fork-height.svg',
    applies: changed,
    measure: { ...height, name: 'heightRight', label: 'Right tube above clamp' },
    pass: 'lowerRound',
    fail: 'heightAgain',
  }),
  heightAgain: step({ say: 'Lower bolts slack. Move the leg.', rework: true, next: 'legsIn' }),
  lowerRound: round({
    say: 'Tighten the lower clamp bolts in turn, left and right.',
    shows: [{ label: 'Full torque', amount: { figure: 'lowerClampTorque' }, unit: 'N·m' }],
    fasteners: { figure: 'lowerClampBolts' },
    passes: ['snug', 'full torque'],
    fastener: 'bolt',
    next: 'lowerTight',
  }),
  lowerTight: hold({
    say: 'Once round the lower bolts with the wrench at its figure. Give the figure.',
    phrase: 'lower clamps torqued',
    why: 'A leg that slips in its clamp turns the bars away from the wheel.',
    applies: changed,
    witness: 'apprentice',
    measure: {
      ...wrench,
      name: 'lowerClampTorque',
      label: 'Lower clamps',
      target: { figure: 'lowerClampTorque' },
    },
    pass: 'capTight',
    fail: 'lowerAgain',
  }),
  lowerAgain: step({ say: 'All lower bolts slack. Begin once more.', rework: true, next: 'lowerRound' }),
  capTight: hold({
    say: 'Upper clamps still slack: tighten both fork caps. Give the figure.',
    phrase: 'caps screwed home',
    why: 'A cap that unscrews is shot out by its spring, past the rider.',
    applies: changed,
    measure: { ...wrench, name: 'forkCapTorque', label: 'Fork caps', target: { figure: 'forkCapTorque' } },
    pass: 'upperTight',
    fail: 'capAgain',
  }),
  capAgain: step({ say: 'Cap back half a turn. Look at its thread.', rework: true, next: 'capTight' }),
  upperTight: hold({
    say: 'Tighten both upper clamps. Give the figure.',
    phrase: 'top yoke gripping',
    why: 'The upper clamp carries the bars. Too tight, it squeezes the tube and the fork sticks.',
    applies: changed,
    measure: {
      ...wrench,
      name: 'upperClampTorque',
      label: 'Upper clamps',
      target: { figure: 'upperClampTorque' },
    },
    pass: 'wheelIn',
    fail: 'upperAgain',
  }),
  upperAgain: step({ say: 'Upper clamps slack. Begin once more.', rework: true, next: 'upperTight' }),
  wheelIn: step({
    say: 'Mudguard on. Wheel in, spacers home. The axle must slide through by itself.',
    cautions: [
      {
        word: 'caution',
        text: 'Fingers get crushed between disc and fork: lift by the tyre.',
        why: 'The wheel drops the last bit by itself, and the disc cuts like a blade.',
      },
    ],
    why: 'An axle that has to be driven shows legs that are not level.',
    next: 'axle',
  }),
  axle: hold({
    say: 'Tighten the front axle, pinch bolts slack. Give the figure.',
    phrase: 'front axle at torque',
    why: 'A loose front axle lets the wheel lean in the fork, and at last out of it.',
    applies: changed,
    witness: 'apprentice',
    measure: { ...wrench, name: 'axleTorque', label: 'Front axle', target: { figure: 'frontAxleTorque' } },
    pass: 'caliperOn',
    fail: 'axleAgain',
  }),
  axleAgain: step({ say: 'Axle back half a turn. Begin once more.', rework: true, next: 'axle' }),
  caliperOn: step({
    say: 'Caliper over the disc, both bolts in by hand, hose not twisted.',
    next: 'caliperTight',
  }),
  caliperTight: hold({
    say: 'Tighten the caliper bolts with the torque wrench. Give the figure.',
    phrase: 'caliper bolted fast',
    why: 'A caliper that comes off winds itself round the wheel and throws the rider.',
    applies: changed,
    witness: 'apprentice',
    measure: {
      ...wrench,
      name: 'caliperTorque',
      label: 'Caliper bolts',
      target: { figure: 'caliperTorque' },
    },
    pass: 'pump',
    fail: 'caliperAgain',
  }),
  caliperAgain: step({ say: 'Bolts out, threads clean. Once more.', rework: true, next: 'caliperOn' }),
  pump: step({
    say: 'Pump the front brake slowly until it is firm.',
    cautions: [
      {
        word: 'warning',
        text: 'The machine must not move yet: the first pull goes to the bar.',
        why: 'The pads stand back: the first pull moves them only, and nothing is braked.',
      },
    ],
    next: 'brakeFirm',
  }),
  brakeFirm: hold({
    say: 'Squeeze as hard as a rider would. Firm, clear of the bar, and it stays so.',
    phrase: 'lever hard as stone',
    why: 'With the wheel out the pads move apart. Rolled out like that, there is no brake at all.',
    applies: changed,
    witness: 'apprentice',
    pass: 'tape',
    fail: 'brakeLook',
  }),
  brakeLook: step({
    say: 'Look at pads, hose and fluid. Still soft: it stays on the stand.',
    rework: true,
    next: 'pump',
  }),
};
