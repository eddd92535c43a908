import { fork, hold, reading, step } from '../../src/procedure/index.ts';
import { TOLERANCE } from './head.ts';

const pressure = {
  name: 'pressure',
  unit: 'bar',
  tolerancePercent: TOLERANCE,
  tool: 'pressureGauge',
} as const;

/*
 * The new tyre on. Soap, start opposite the valve and finish at it, a tube that is not trapped, seating a little over
 * the running pressure at most, standing aside, the moulded line at one distance from the rim all the way round: tyre
 * chapter of a published service manual, stored at manualshive.com (manual 899547, page 301).
 */
export const tyre = {
  rimFork: fork({
    say: 'Inner tube, or tubeless rim?',
    fact: 'tyre',
    ways: [
      { value: 'tube', phrase: 'inner tube', to: 'rimTape' },
      { value: 'tubeless', phrase: 'tubeless rim', to: 'valveNew' },
    ],
  }),
  rimTape: step({ say: 'Fit the new rim tape, its hole on the valve hole.', next: 'nipplesCovered' }),
  nipplesCovered: hold({
    say: 'Run a finger round the well. Every nipple covered, no spoke end to be felt.',
    phrase: 'tape lies smooth',
    why: 'A spoke end that pokes through lets the air out at once, at speed.',
    applies: { tyre: 'tube' },
    pass: 'tyreWay',
    fail: 'spokeFile',
  }),
  spokeFile: step({
    say: 'File the spoke end flush. Fit another rim tape.',
    cautions: [
      {
        word: 'caution',
        text: 'Filings fly: eye protection on.',
        why: 'A steel splinter in the eye rusts there and has to be cut out.',
      },
    ],
    rework: true,
    next: 'nipplesCovered',
  }),
  valveNew: step({
    say: 'Old valve out. Pull the new one in, wet with soap, until its groove seats.',
    why: 'Rubber ages from the day it is made. A valve that tears lets all the air out.',
    next: 'tyreWay',
  }),
  tyreWay: step({
    say: 'Lay the tyre on the rim, its arrow with the chalk arrow.',
    fits: 'tyre',
    drawing: 'tyre-arrow.svg',
    next: 'lightMark',
  }),
  lightMark: step({
    // Paint dot at the valve: motorcycleinstitute.tk, mounting tire on rim (balance mark).
    say: 'Turn the tyre until its paint dot is at the valve.',
    why: 'The dot is the light spot, the valve the heavy one. Together they need least weight.',
    drawing: 'tyre-dot.svg',
    next: 'soap',
  }),
  soap: step({
    // Oil lets the tyre creep and harms it: a workshop page stored at issuhub.com, view 9108, page 79.
    say: 'Soap both beads and both rim edges.',
    cautions: [
      {
        word: 'notice',
        text: 'Never oil or grease: the tyre creeps on the rim and the rubber swells.',
        why: 'A tyre that creeps tears the valve out of its tube, and goes flat at speed.',
      },
    ],
    next: 'beadOne',
  }),
  beadOne: step({
    say: 'Push the first bead over the rim, by hand as far as it goes.',
    next: 'arrowRight',
  }),
  arrowRight: hold({
    say: 'Point at the arrow on the tyre, then at the chalk. Both the same way.',
    phrase: 'arrow points with travel',
    why: 'Turned round it throws no water out and its joints lift. It lets go under the brake.',
    drawing: 'tyre-arrow.svg',
    witness: 'apprentice',
    pass: 'tubeIn',
    fail: 'tyreTurn',
  }),
  tyreTurn: step({ say: 'Take the tyre off and turn it round.', rework: true, next: 'tyreWay' }),
  tubeIn: fork({
    say: 'Inner tube, or tubeless rim?',
    fact: 'tyre',
    ways: [
      { value: 'tube', phrase: 'inner tube', to: 'tubePlace' },
      { value: 'tubeless', phrase: 'tubeless rim', to: 'beadTwo' },
    ],
  }),
  tubePlace: step({
    say: 'A breath of air into the tube. Valve through, its nut on two turns only.',
    fits: 'tube',
    why: 'A little air keeps the tube out from under the levers.',
    next: 'beadTwo',
  }),
  beadTwo: step({
    say: 'Second bead: begin opposite the valve, end at the valve, small bites.',
    cautions: [
      {
        word: 'notice',
        text: 'A lever pushed in too far nips the tube or tears the bead.',
        why: 'A nipped tube goes flat on the first ride. A torn bead lets the tyre off the rim.',
      },
    ],
    next: 'nipFork',
  }),
  nipFork: fork({
    say: 'Inner tube, or tubeless rim?',
    fact: 'tyre',
    ways: [
      { value: 'tube', phrase: 'inner tube', to: 'tubeFree' },
      { value: 'tubeless', phrase: 'tubeless rim', to: 'inflate' },
    ],
  }),
  tubeFree: hold({
    say: 'Push the valve in. Look all round under both beads: no rubber caught.',
    phrase: 'nothing caught below',
    why: 'A nipped tube holds air in the workshop and bursts on the first kerb.',
    applies: { tyre: 'tube' },
    pass: 'inflate',
    fail: 'tubeAgain',
  }),
  tubeAgain: step({
    say: 'Bead off again. A nipped tube is scrap: fit another.',
    rework: true,
    next: 'beadTwo',
  }),
  inflate: step({
    say: 'Clip the chuck on, stand aside. Short bursts, never over this pressure.',
    cautions: [
      {
        word: 'danger',
        text: 'A bursting tyre kills. Nobody over it, nobody near it, hands off.',
        why: 'If the bead lets go, the air in the tyre throws rim and tyre through a roof.',
      },
      {
        word: 'caution',
        text: 'The bead goes home with a bang: hearing protection on.',
        why: 'The bang is as loud as a shot. Hearing lost by it does not come back.',
      },
    ],
    shows: [{ label: 'Never over', amount: { figure: 'seatPressure' }, unit: 'bar' }],
    next: 'beadEven',
  }),
  beadEven: hold({
    say: 'Follow the moulded line round, both sides. One distance from the rim.',
    phrase: 'bead line even throughout',
    why: 'A bead that sits low somewhere climbs off the rim in a bend, all at once.',
    drawing: 'bead-line.svg',
    witness: 'apprentice',
    pass: 'coreIn',
    fail: 'seatAgain',
  }),
  seatAgain: step({
    say: 'All the air out. Soap the low place, bounce the wheel on it.',
    cautions: [
      {
        word: 'danger',
        text: 'More pressure is no remedy: at the limit the tyre bursts.',
        why: 'A bead that does not seat is caught or dry. More air breaks its wire, and then it bursts.',
      },
    ],
    rework: true,
    next: 'inflate',
  }),
  coreIn: step({ say: 'Valve core in. Valve nut and rim lock snug.', next: 'pressureFork' }),
  pressureFork: fork({
    say: 'Front wheel, or rear wheel?',
    fact: 'end',
    ways: [
      { value: 'front', phrase: 'front wheel', to: 'pressureFront' },
      { value: 'rear', phrase: 'rear wheel', to: 'pressureRear' },
    ],
  }),
  pressureFront: reading({
    say: 'Set the running pressure, tyre cold. Give the pressure.',
    measure: { ...pressure, label: 'Front tyre', target: { figure: 'frontPressure' } },
    inside: 'airTight',
    outside: 'pressureSet',
  }),
  pressureRear: reading({
    say: 'Set the running pressure, tyre cold. Give the pressure.',
    measure: { ...pressure, label: 'Rear tyre', target: { figure: 'rearPressure' } },
    inside: 'airTight',
    outside: 'pressureSet',
  }),
  pressureSet: step({
    say: 'Air in or out, a little at a time.',
    rework: true,
    next: 'pressureFork',
  }),
  airTight: hold({
    say: 'Brush soap on the valve and along both beads. No bubble may grow.',
    phrase: 'no bubble anywhere',
    why: 'A slow leak empties the tyre overnight, and the rider finds out in the first bend.',
    pass: 'balanceFork',
    fail: 'leakFind',
  }),
  leakFind: step({
    say: 'Core tighter or new; bead leaks: air out, clean it, seat it again.',
    rework: true,
    next: 'inflate',
  }),
  balanceFork: fork({
    say: 'Balance it, or leave it?',
    fact: 'balance',
    ways: [
      { value: true, phrase: 'balance it', to: 'heavySpot' },
      { value: false, phrase: 'leave unbalanced', to: 'bearings' },
    ],
  }),
  heavySpot: step({
    say: 'On the balancing stand let it settle. Chalk the top.',
    next: 'weights',
  }),
  weights: step({
    say: 'Weights at the chalk, a little at a time. It must stay where you leave it.',
    next: 'balanced',
  }),
  balanced: hold({
    say: 'Stand the chalk at twelve, three, six, nine. It must stay each time.',
    phrase: 'stays in every quarter',
    why: 'An unbalanced front wheel shakes the bars out of tired hands at one certain speed.',
    applies: { balance: true },
    pass: 'bearings',
    fail: 'weightsMove',
  }),
  weightsMove: step({ say: 'Take a weight off or add one.', rework: true, next: 'weights' }),
};
