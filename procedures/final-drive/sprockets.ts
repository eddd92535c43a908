import { fork, hold, round, step } from '../../src/procedure/index.ts';
import { TORQUE_TOLERANCE } from './head.ts';

/** Front sprocket with its three retainers, held by hand for now; rear sprocket to its figure on the bench. */
export const sprockets = {
  outerFace: step({
    say: 'Mark the outer face of the old front sprocket.',
    why: 'Many are offset to one side. The mark tells you which way the new one goes.',
    next: 'undo',
  }),
  undo: fork({
    say: 'A bolt, a circlip, or a nut with a tab washer?',
    fact: 'retainer',
    ways: [
      { value: 'bolt', phrase: 'centre bolt', to: 'undoBolt' },
      { value: 'circlip', phrase: 'circlip ring', to: 'undoCirclip' },
      { value: 'tab nut', phrase: 'nut with tab', to: 'undoNut' },
    ],
  }),
  undoBolt: step({ say: 'Take the bolt out. Lay its washers down in order.', next: 'frontOff' }),
  undoCirclip: step({
    say: 'Cut the old silicone away. Spread the circlip off and scrap it.',
    cautions: [
      {
        word: 'warning',
        text: 'A circlip can fly into your eye: a hand over it as it comes.',
        why: 'Spread in the pliers it is a spring. When a tip slips it shoots straight out.',
      },
    ],
    next: 'frontOff',
  }),
  undoNut: step({ say: 'Take off the nut and the tab washer. Scrap the washer.', next: 'frontOff' }),
  frontOff: step({ say: 'Slide the old front sprocket off.', next: 'shaft' }),
  shaft: step({
    say: 'Clean the shaft. Look for worn splines, a torn thread, a weeping seal.',
    next: 'frontOn',
  }),
  frontOn: step({
    say: 'Slide the new front sprocket on, the same way round as the old one.',
    fits: 'front',
    next: 'frontWay',
  }),
  frontWay: hold({
    say: 'Old and new side by side: the same face must look outward.',
    phrase: 'same face outward',
    why: 'Turned round it runs out of line. It eats the chain, and one day throws it.',
    pass: 'width',
    fail: 'turnFront',
  }),
  turnFront: step({
    say: 'Take it off, turn it round, slide it on.',
    rework: true,
    next: 'frontWay',
  }),
  width: fork({
    say: 'Sealed chain, or plain chain?',
    fact: 'sealed',
    ways: [
      { value: true, phrase: 'sealed chain', to: 'drape' },
      { value: false, phrase: 'plain chain', to: 'retain' },
    ],
  }),
  drape: step({
    say: 'Drape the new chain over the front sprocket. Push the sprocket home.',
    why: 'A sealed chain is wider. Now is the time to find out, with nothing else fitted.',
    next: 'caseGap',
  }),
  caseGap: hold({
    say: 'Measure the gap between chain and engine case. Give the gap.',
    phrase: 'chain clears the case',
    why: 'A chain that touches saws through the case, and the oil runs on to the tyre.',
    applies: { sealed: true },
    measure: {
      name: 'caseGap',
      label: 'Chain to engine case',
      unit: 'mm',
      min: { figure: 'caseGapMin' },
      tool: 'feelerGauge',
    },
    pass: 'retain',
    fail: 'spaceOut',
  }),
  spaceOut: step({
    say: 'Sprocket off. Space it from the case as the parts list says.',
    rework: true,
    next: 'frontOn',
  }),
  retain: fork({
    say: 'A bolt, a circlip, or a nut with a tab washer?',
    fact: 'retainer',
    ways: [
      { value: 'bolt', phrase: 'centre bolt', to: 'washers' },
      { value: 'circlip', phrase: 'circlip ring', to: 'circlipOn' },
      { value: 'tab nut', phrase: 'nut with tab', to: 'tabOn' },
    ],
  }),
  washers: step({
    // Common practice, no source; some makers use a dished washer instead, and then the manual's order rules.
    say: 'On the bolt: spring washer first, then the flat washer. Bolt in by hand.',
    drawing: 'washers-order.svg',
    next: 'washersOrder',
  }),
  washersOrder: hold({
    say: 'Look from the side. Flat washer on the sprocket, spring washer under the head.',
    phrase: 'spring washer outermost',
    why: 'The other way round the spring washer digs into the sprocket, and the bolt works loose.',
    drawing: 'washers-order.svg',
    applies: { retainer: 'bolt' },
    pass: 'rearOff',
    fail: 'washersAgain',
  }),
  washersAgain: step({
    say: 'Bolt out. Spring washer first, then the flat one. Bolt in.',
    rework: true,
    next: 'washersOrder',
  }),
  circlipOn: step({
    say: 'Spread a new circlip just enough, and let it into its groove.',
    why: 'A circlip opened too far stays open, and comes off with the first hard pull.',
    cautions: [
      {
        word: 'warning',
        text: 'A circlip can fly into your eye: a hand over it as it goes on.',
        why: 'Spread in the pliers it is a spring. When a tip slips it shoots straight out.',
      },
    ],
    next: 'circlipSeated',
  }),
  circlipSeated: hold({
    say: 'Turn the circlip with a pick. It must turn in its groove all the way round.',
    phrase: 'circlip turns in groove',
    why: 'A circlip half in its groove jumps off, the sprocket follows, and the chain locks the wheel.',
    applies: { retainer: 'circlip' },
    witness: 'apprentice',
    pass: 'bead',
    fail: 'circlipAgain',
  }),
  circlipAgain: step({
    say: 'Take it off and scrap it. Fit another new circlip.',
    rework: true,
    next: 'circlipSeated',
  }),
  bead: step({
    // Common practice of off-road workshops, no source.
    say: 'Lay a bead of silicone across the circlip ends, on to the shaft.',
    why: 'The bead is a tell-tale: if it is torn at the re-check, the circlip has moved.',
    drawing: 'circlip-bead.svg',
    next: 'rearOff',
  }),
  tabOn: step({
    say: 'Fit a new tab washer, its tongue in the slot. Nut on by hand.',
    drawing: 'tab-washer.svg',
    why: 'A tab bent twice cracks, and a cracked tab holds nothing.',
    next: 'rearOff',
  }),
  rearOff: step({ say: 'Take off the rear sprocket bolts. Lift the old sprocket away.', next: 'rearClean' }),
  rearClean: step({
    say: 'Scrape and degrease the hub face, the threads and the countersinks.',
    why: 'Thread locker grips bare metal. On oil it is just paint.',
    next: 'rearOn',
  }),
  rearOn: step({
    say: 'Lay the new rear sprocket flat on the hub, countersinks facing you.',
    fits: 'rear',
    next: 'locker',
  }),
  locker: step({
    // Medium on the bolts: mxstore.com.au, the ultimate guide to dirt bike sprockets. Not the strongest grade:
    // dirtbikemagazine.com/tech-chain-and-sprocket-done-right-sink-your-teeth-into-the-job/
    say: 'Thread locker on every thread and in every countersink. Nuts on by hand.',
    why: 'Medium or low strength, as the manual says. The strongest grade strips the head next time.',
    cautions: [
      {
        word: 'caution',
        text: 'Thread locker irritates skin and eyes: gloves on.',
        why: 'Skin that has once reacted to it reacts every time after. An eye may be hurt for good.',
      },
    ],
    next: 'rearRound',
  }),
  rearRound: round({
    say: 'Helper holds the wheel flat. Tighten in opposite pairs, by the nuts.',
    why: 'One side first cocks the sprocket on the hub, and it never sits flat afterwards.',
    drawing: 'bolt-round.svg',
    shows: [{ label: 'Full torque', amount: { figure: 'rearTorque' }, unit: 'N·m' }],
    fasteners: { figure: 'rearBolts' },
    // Passes as published for flanges, hswhite.com/flange-bolt-torque-sequence/, in words a hand can follow.
    passes: ['snug', 'about two thirds', 'full torque'],
    fastener: 'bolt',
    next: 'rearTight',
  }),
  rearTight: hold({
    say: 'Wrench at the figure: once round in a circle, no nut may move. Give the figure.',
    phrase: 'rear ring all tight',
    why: 'One loose bolt loosens the rest. The sprocket shears off and locks the wheel.',
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
    pass: 'sideBySide',
    fail: 'rearAgain',
  }),
  rearAgain: step({
    say: 'Nuts off. Clean the threads, fresh locker, nuts on by hand.',
    rework: true,
    next: 'rearRound',
  }),
};
