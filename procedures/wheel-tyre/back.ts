import { fork, hold, step } from '../../src/procedure/index.ts';
import { TOLERANCE } from './head.ts';

const wrench = { unit: 'N·m', tolerancePercent: TOLERANCE, tool: 'torqueWrench' } as const;

/** The wheel back: axle first, brake next, and the brake firm before anything moves. */
export const back = {
  bearings: step({
    say: 'Turn both wheel bearings with a finger. Smooth, no play, seals whole.',
    next: 'spacersIn',
  }),
  spacersIn: step({
    say: 'Grease the axle. Spacers home, left and right as they came.',
    next: 'wheelFork',
  }),
  wheelFork: fork({
    say: 'Disc brake, or brake drum?',
    fact: 'wheelBrake',
    ways: [
      { value: 'disc', phrase: 'disc brake', to: 'wheelDisc' },
      { value: 'drum', phrase: 'brake drum', to: 'wheelDrum' },
    ],
  }),
  wheelDisc: step({
    say: 'Lift the wheel in, chalk arrow forward at the top. Axle through.',
    cautions: [
      {
        word: 'caution',
        text: 'Fingers get crushed between disc and fork: lift by the tyre.',
        why: 'The wheel drops the last bit by itself, and the disc cuts like a blade.',
      },
    ],
    drawing: 'tyre-arrow.svg',
    next: 'endFork',
  }),
  wheelDrum: step({
    say: 'Lift the wheel in, the brake plate on its anchor. Axle through.',
    cautions: [
      {
        word: 'caution',
        text: 'Fingers get crushed at the anchor: lift by the tyre.',
        why: 'The back plate turns to its stop when the wheel drops, and shears what lies there.',
      },
    ],
    why: 'A plate beside its anchor turns with the wheel at the first braking and locks it.',
    next: 'endFork',
  }),
  endFork: fork({
    say: 'Front wheel, or rear wheel?',
    fact: 'end',
    ways: [
      { value: 'front', phrase: 'front wheel', to: 'axleFront' },
      { value: 'rear', phrase: 'rear wheel', to: 'chainOn' },
    ],
  }),
  axleFront: hold({
    say: 'Tighten the front axle with the torque wrench. Give the figure.',
    phrase: 'front axle at torque',
    why: 'A loose front axle lets the wheel lean in the fork, and at last out of it.',
    applies: { end: 'front' },
    witness: 'apprentice',
    measure: {
      ...wrench,
      name: 'axleTorque',
      label: 'Front axle',
      target: { figure: 'frontAxleTorque' },
    },
    pass: 'brakeFork',
    fail: 'axleFrontAgain',
  }),
  axleFrontAgain: step({
    say: 'Axle back half a turn, no further. Begin once more.',
    rework: true,
    next: 'axleFront',
  }),
  chainOn: step({
    say: 'Chain on its sprocket. Wheel forward against both adjusters.',
    cautions: [
      {
        word: 'caution',
        text: 'A finger between chain and sprocket is lost: turn by the tyre.',
        why: 'Where the chain runs on to the sprocket there is no way out, even turned by hand.',
      },
    ],
    next: 'axleRear',
  }),
  axleRear: hold({
    say: 'Tighten the rear axle nut with the torque wrench. Give the figure.',
    phrase: 'back axle stays put',
    why: 'A loose rear axle walks in its slots: the chain jumps and locks the wheel.',
    applies: { end: 'rear' },
    witness: 'apprentice',
    measure: { ...wrench, name: 'axleTorque', label: 'Rear axle nut', target: { figure: 'axleTorque' } },
    pass: 'slack',
    fail: 'axleRearAgain',
  }),
  axleRearAgain: step({
    say: 'Nut back fully. Wheel forward against both adjusters.',
    rework: true,
    next: 'axleRear',
  }),
  slack: hold({
    say: 'Chain at its tightest, half-way along: up and down. Give the whole movement.',
    phrase: 'chain hangs between limits',
    why: 'Too tight bends the shaft. Too slack jumps off and locks the wheel.',
    drawing: 'slack-point.svg',
    applies: { end: 'rear' },
    measure: {
      name: 'slack',
      label: 'Chain slack',
      unit: 'mm',
      min: { figure: 'slackMin' },
      max: { figure: 'slackMax' },
      tool: 'steelRule',
    },
    pass: 'rearPin',
    fail: 'slackSet',
  }),
  slackSet: step({
    say: 'Axle nut loose. Turn both adjusters alike, same mark on both sides.',
    drawing: 'alignment.svg',
    rework: true,
    next: 'axleRear',
  }),
  rearPin: step({
    say: 'Adjuster lock nuts tight. New split pin where the axle has one.',
    next: 'brakeFork',
  }),
  brakeFork: fork({
    say: 'Disc brake, or brake drum?',
    fact: 'wheelBrake',
    ways: [
      { value: 'disc', phrase: 'disc brake', to: 'caliperOn' },
      { value: 'drum', phrase: 'brake drum', to: 'armTight' },
    ],
  }),
  caliperOn: step({
    say: 'Caliper over the disc, both bolts in by hand, hose not twisted.',
    next: 'caliperTight',
  }),
  caliperTight: hold({
    say: 'Tighten the caliper bolts with the torque wrench. Give the figure.',
    phrase: 'caliper bolts at torque',
    why: 'A caliper that comes off winds itself round the wheel and throws the rider.',
    applies: { wheelBrake: 'disc' },
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
  caliperAgain: step({
    say: 'Bolts out, threads clean. Caliper over the disc once more.',
    rework: true,
    next: 'caliperTight',
  }),
  armTight: hold({
    // An arm that came adrift: kiwibiker.co.nz/forums/archive/index.php/t-182852.html
    say: 'Torque arm on: tighten its nut, then a new split pin. Give the figure.',
    phrase: 'brake arm pinned',
    why: 'Without its arm the brake plate turns with the wheel and locks it dead.',
    applies: { wheelBrake: 'drum' },
    witness: 'apprentice',
    measure: { ...wrench, name: 'armTorque', label: 'Torque arm nut', target: { figure: 'armTorque' } },
    pass: 'rodSet',
    fail: 'armAgain',
  }),
  armAgain: step({
    say: 'Nut off. Bolt, washers and pin in order once more.',
    rework: true,
    next: 'armTight',
  }),
  rodSet: step({
    say: 'Brake rod or cable on. Set the free play as the manual says.',
    next: 'brakeFirm',
  }),
  pump: step({
    say: 'Pump the brake slowly until it is firm. Fluid stays above its mark.',
    cautions: [
      {
        word: 'warning',
        text: 'The machine must not move yet: the first press goes to the bar.',
        why: 'The pads stand back: the first press moves them only, and nothing is braked.',
      },
    ],
    next: 'brakeFirm',
  }),
  brakeFirm: hold({
    say: 'Brake on as hard as a rider would. Firm, and it stays so for ten seconds.',
    phrase: 'brake firm and holding',
    why: 'With the wheel out the pads move apart. Rolled out like that, there is no brake at all.',
    witness: 'apprentice',
    pass: 'spin',
    fail: 'brakeLook',
  }),
  brakeLook: step({
    say: 'Look at pads, hose, rod and fluid. Still soft: it stays on the stand.',
    rework: true,
    next: 'brakeFork',
  }),
  spin: hold({
    say: 'Spin the wheel by its tyre. It runs true, nothing rubs, the brake lets go.',
    phrase: 'spins true without rubbing',
    why: 'A dragging brake cooks its fluid. A tyre that hops is not seated.',
    drawing: 'spin-clear.svg',
    cautions: [
      {
        word: 'danger',
        text: 'Spokes and sprocket take fingers off. Never spin it with the engine.',
        why: 'The engine does not feel a finger. A wheel turned by hand stops at it.',
      },
    ],
    pass: 'lower',
    fail: 'rubFind',
  }),
  rubFind: step({
    say: 'Wheel still. Find what rubs or hops, and put it right.',
    rework: true,
    next: 'endFork',
  }),
};
