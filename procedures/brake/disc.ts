import { fork, hold, lookUp, round, step } from '../../src/procedure/index.ts';
import { TORQUE_TOLERANCE } from './head.ts';

const wrench = { unit: 'N·m', tolerancePercent: TORQUE_TOLERANCE, tool: 'torqueWrench' } as const;

/**
 * A new disc: wheel out, new bolts with thread locker, tightened in a round, wheel back. Locker and torque:
 * cycleconnections.com, hydraulic brake rotor replacement.
 */
export const disc = {
  discNeeds: lookUp({
    say: "The card lacks a figure for the disc. Read it from the maker's service manual.",
    needs: [
      { figure: 'discTorque' },
      { figure: 'discBolts' },
      { figure: 'lockerCure' },
      { figure: 'frontAxleTorque', when: { end: 'front' } },
      { figure: 'pinchTorque', when: { end: 'front' } },
      { figure: 'pinchBolts', when: { end: 'front' } },
      { figure: 'axleTorque', when: { end: 'rear' } },
      { figure: 'slackMin', when: { end: 'rear' } },
      { figure: 'slackMax', when: { end: 'rear' } },
    ],
    next: 'discKit',
  }),
  discKit: step({
    say: 'Lay out the new disc, new bolts and thread locker.',
    why: 'Disc bolts stretch and lose their locker once. Used again they work loose.',
    next: 'wheelOut',
  }),
  wheelOut: step({
    say: 'Wheel out. Lay it on blocks, disc up and bearing on nothing.',
    cautions: [
      {
        word: 'caution',
        text: 'Fingers get crushed under the hub: lift by the tyre.',
        why: 'The wheel drops as the axle leaves, with its whole weight on what lies under it.',
      },
    ],
    next: 'discFree',
  }),
  discFree: round({
    say: 'Break each disc bolt free: half a turn, in opposite pairs.',
    why: 'Undone one after the other the last one bends the disc and rounds its head.',
    drawing: 'bolt-round.svg',
    fasteners: { figure: 'discBolts' },
    passes: ['break free'],
    fastener: 'bolt',
    next: 'discOff',
  }),
  discOff: step({ say: 'Bolts out and scrap. Lift the old disc off.', next: 'hubClean' }),
  hubClean: step({
    say: 'Scrape the hub face to bare metal. Degrease face and threads.',
    why: 'A crumb under the disc makes it wobble, and the lever pulses.',
    next: 'discOn',
  }),
  discOn: step({
    say: 'Lay the new disc on the hub, its arrow the way the wheel turns.',
    drawing: 'disc-arrow.svg',
    next: 'discWay',
  }),
  discWay: hold({
    say: 'Point at the arrow on the disc, then at the way the wheel turns. The same.',
    phrase: 'disc turns its way',
    why: 'Mounted backwards a floating disc pulls on its buttons and cracks them out.',
    drawing: 'disc-arrow.svg',
    applies: { disc: 'renew' },
    pass: 'locker',
    fail: 'discTurn',
  }),
  discTurn: step({ say: 'Lift it off and turn it over.', rework: true, next: 'discOn' }),
  locker: step({
    say: 'Thread locker on each new bolt. All in by hand.',
    cautions: [
      {
        word: 'caution',
        text: 'Thread locker irritates skin and eyes.',
        why: 'Skin that has once reacted to it reacts every time after. An eye may be hurt for good.',
      },
      {
        word: 'warning',
        text: 'None on the disc: it burns into the pads.',
        why: 'Burnt into a pad it cannot be cleaned out: the brake stays weak, and squeals.',
      },
    ],
    next: 'discRound',
  }),
  discRound: round({
    say: 'Tighten the disc bolts in opposite pairs.',
    why: 'One side first tips the disc, and it runs out for good.',
    drawing: 'bolt-round.svg',
    shows: [{ label: 'Full torque', amount: { figure: 'discTorque' }, unit: 'N·m' }],
    fasteners: { figure: 'discBolts' },
    // Passes as published for flanges, hswhite.com/flange-bolt-torque-sequence/, in words a hand can follow.
    passes: ['snug', 'about two thirds', 'full torque'],
    fastener: 'bolt',
    next: 'discTight',
  }),
  discTight: hold({
    say: 'Wrench at the figure: once round in a circle, no bolt may move. Give the figure.',
    phrase: 'rotor ring all tight',
    why: 'One loose bolt shears the rest. The disc comes off under the brake.',
    drawing: 'bolt-round.svg',
    applies: { disc: 'renew' },
    witness: 'apprentice',
    measure: { ...wrench, name: 'discTorque', label: 'Disc bolts', target: { figure: 'discTorque' } },
    pass: 'wheelIn',
    fail: 'discAgain',
  }),
  discAgain: step({
    say: 'That bolt out and scrap. Clean thread, new bolt, fresh locker.',
    rework: true,
    next: 'discRound',
  }),
  wheelIn: step({
    say: 'Wheel in, spacers home, axle through.',
    cautions: [
      {
        word: 'caution',
        text: 'Fingers get crushed at the hub: lift by the tyre.',
        why: 'The wheel drops the last bit by itself, with its whole weight on the finger.',
      },
    ],
    next: 'axleFork',
  }),
  axleFork: fork({
    say: 'Front brake, or rear brake?',
    fact: 'end',
    ways: [
      { value: 'front', phrase: 'front end', to: 'axleFront' },
      { value: 'rear', phrase: 'back wheel', to: 'axleRear' },
    ],
  }),
  axleFront: hold({
    say: 'Tighten the front axle with the torque wrench. Give the figure.',
    phrase: 'front axle at torque',
    why: 'A loose front axle lets the wheel lean in the fork, and at last out of it.',
    applies: { end: 'front', disc: 'renew' },
    witness: 'apprentice',
    measure: { ...wrench, name: 'axleTorque', label: 'Front axle', target: { figure: 'frontAxleTorque' } },
    pass: 'discClean',
    fail: 'axleFrontAgain',
  }),
  axleFrontAgain: step({
    say: 'Axle back half a turn, no further. Begin once more.',
    rework: true,
    next: 'axleFront',
  }),
  axleRear: hold({
    say: 'Wheel forward against the adjusters. Tighten the axle nut. Give the figure.',
    phrase: 'back axle stays put',
    why: 'A loose rear axle walks in its slots: the chain jumps and locks the wheel.',
    applies: { end: 'rear', disc: 'renew' },
    witness: 'apprentice',
    measure: { ...wrench, name: 'axleTorque', label: 'Rear axle nut', target: { figure: 'axleTorque' } },
    pass: 'slack',
    fail: 'axleRearAgain',
  }),
  axleRearAgain: step({
    say: 'Nut back fully. Turn both adjusters alike if the slack is out.',
    drawing: 'alignment.svg',
    rework: true,
    next: 'axleRear',
  }),
  slack: hold({
    say: 'Chain at its tightest, half-way along: up and down. Give the whole movement.',
    phrase: 'chain hangs between limits',
    why: 'Too tight bends the shaft. Too slack jumps off and locks the wheel.',
    drawing: 'slack-point.svg',
    applies: { end: 'rear', disc: 'renew' },
    measure: {
      name: 'slack',
      label: 'Chain slack',
      unit: 'mm',
      min: { figure: 'slackMin' },
      max: { figure: 'slackMax' },
      tool: 'steelRule',
    },
    pass: 'splitPin',
    fail: 'axleRearAgain',
  }),
  splitPin: step({ say: 'New split pin where the axle has one.', next: 'discClean' }),
};
