import { fork, kit, lookUp, step } from '../../src/procedure/index.ts';

/** Making safe, then looking at what is really there before anything is laid out: the machine counts, not its card. */
export const makeSafe = {
  protect: kit({
    say: 'First yourself and your helper. Call each one off.',
    cautions: [
      {
        word: 'warning',
        text: 'Clips and pins fly off and can blind you: eye protection on until the hand-over.',
        why: 'A clip leaves its groove faster than an eyelid closes. What it hits does not heal.',
      },
    ],
    why: 'Worn sprocket teeth cut like a saw, and a circlip leaves the groove at eye height.',
    items: {
      eyes: { calls: 'Eye protection on', kind: 'protective' },
      gloves: { calls: 'Close-fitting gloves on', kind: 'protective' },
      helper: { calls: 'Helper here for the brake', kind: 'person' },
    },
    next: 'engineOff',
  }),
  engineOff: step({
    say: 'Engine off. Put the ignition key in your pocket.',
    cautions: [
      {
        word: 'danger',
        text: 'A chain driven by the engine takes fingers off. Never run the engine for this job.',
        why: 'Even at idle a chain draws a glove in faster than a hand can be pulled back.',
      },
    ],
    next: 'engineCold',
  }),
  engineCold: step({
    say: 'Feel for heat: engine and silencer must be cold to the touch.',
    cautions: [
      {
        word: 'caution',
        text: 'A hot silencer burns through a glove.',
        why: 'A silencer stays hot for half an hour. A burnt hand drops the part that it holds.',
      },
    ],
    next: 'neutral',
  }),
  neutral: step({ say: 'Select neutral.', next: 'chock' }),
  chock: step({
    say: 'Chock the front wheel. Both wheels stay on the floor for now.',
    // Fasteners are broken free with the machine's weight on its wheels: lamotorcyclist.com/chainsnsprockets016.html
    why: 'You will pull hard on long spanners. On a raised stand that pull tips the machine on to you.',
    next: 'coverOff',
  }),
  coverOff: step({
    say: 'Take off the front sprocket cover. Lay its screws out in order.',
    next: 'wiringSeen',
  }),
  wiringSeen: step({
    say: 'Look how the wiring runs behind the cover. Sketch or photograph it.',
    why: 'A wire put back on the wrong side of a boss is sawn through by the new chain.',
    next: 'lookRetainer',
  }),
  lookRetainer: fork({
    say: 'What holds the front sprocket: a bolt, a circlip, or a nut with a tab washer?',
    fact: 'retainer',
    look: true,
    ways: [
      { value: 'bolt', phrase: 'centre bolt', to: 'lookLink' },
      { value: 'circlip', phrase: 'circlip ring', to: 'lookLink' },
      { value: 'tab nut', phrase: 'nut with tab', to: 'lookLink' },
    ],
  }),
  lookLink: fork({
    say: 'Open the new chain. What closes it: a clip link, or a riveted link?',
    fact: 'link',
    look: true,
    ways: [
      { value: 'clip', phrase: 'clip link', to: 'lookSealed' },
      { value: 'rivet', phrase: 'riveted link', to: 'lookSealed' },
    ],
  }),
  lookSealed: fork({
    say: 'Look between its plates. Rubber rings, or none?',
    fact: 'sealed',
    look: true,
    ways: [
      { value: true, phrase: 'sealed chain', to: 'lookSizes' },
      { value: false, phrase: 'plain chain', to: 'lookSizes' },
    ],
  }),
  lookSizes: fork({
    say: 'Read the teeth on old and new sprockets. Like for like, or other sizes?',
    fact: 'regear',
    look: true,
    ways: [
      { value: false, phrase: 'like for like', to: 'lookReach' },
      { value: true, phrase: 'other sizes', to: 'lookReach' },
    ],
  }),
  lookReach: fork({
    say: 'Can a plain socket reach the axle nut, or does it take an adapter?',
    fact: 'adapter',
    look: true,
    ways: [
      { value: false, phrase: 'plain socket', to: 'kit' },
      { value: true, phrase: 'adapter needed', to: 'kit' },
    ],
  }),
  kit: kit({
    say: 'Lay everything out. Call off each item as you put it down.',
    why: 'A part found missing half-way leaves a wheel out and a tired mechanic making do.',
    items: {
      torqueWrench: { calls: 'Torque wrench that covers every figure', kind: 'tool', tool: 'torqueWrench' },
      adapter: { calls: 'Torque adapter for the axle nut', kind: 'tool', when: { adapter: true } },
      caliper: { calls: 'Caliper for the rivets', kind: 'tool', tool: 'caliper', when: { link: 'rivet' } },
      steelRule: { calls: 'Steel rule', kind: 'tool', tool: 'steelRule' },
      feelerGauge: { calls: 'Feeler gauges', kind: 'tool', tool: 'feelerGauge' },
      straightEdge: { calls: 'Straight edge for the sprockets', kind: 'tool' },
      chainBreaker: { calls: 'Chain breaker with a sound pin', kind: 'tool' },
      rivetTool: { calls: 'Rivet tool', kind: 'tool', when: { link: 'rivet' } },
      pressPlate: { calls: 'Side plate press', kind: 'tool', when: { sealed: true } },
      circlipPliers: { calls: 'Circlip pliers', kind: 'tool', when: { retainer: 'circlip' } },
      stand: { calls: 'Rear stand', kind: 'tool' },
      chain: { calls: 'New chain', kind: 'part' },
      front: { calls: 'New front sprocket', kind: 'part' },
      rear: { calls: 'New rear sprocket', kind: 'part' },
      clipLink: { calls: 'New clip link, with its clip', kind: 'part', when: { link: 'clip' } },
      rivetLink: { calls: 'New riveted link', kind: 'part', when: { link: 'rivet' } },
      seals: { calls: 'Four new seals for the link', kind: 'part', when: { sealed: true } },
      washers: { calls: 'Flat and spring washer', kind: 'part', when: { retainer: 'bolt' } },
      circlip: { calls: 'New circlip', kind: 'part', when: { retainer: 'circlip' } },
      tabWasher: { calls: 'New tab washer', kind: 'part', when: { retainer: 'tab nut' } },
      locker: { calls: 'Thread locker, grade as the manual says', kind: 'consumable' },
      silicone: { calls: 'Silicone sealant', kind: 'consumable', when: { retainer: 'circlip' } },
      degreaser: { calls: 'Degreaser and clean rag', kind: 'consumable' },
      lubricant: { calls: 'Chain lubricant', kind: 'consumable' },
      paint: { calls: 'Paint marker', kind: 'consumable' },
    },
    next: 'card',
  }),
  card: lookUp({
    say: "The card lacks a figure. Read it from the maker's service manual.",
    needs: [
      { figure: 'axleTorque' },
      { figure: 'rearTorque' },
      { figure: 'rearBolts' },
      { figure: 'frontTorque', when: { retainer: ['bolt', 'tab nut'] } },
      { figure: 'slackMin' },
      { figure: 'slackMax' },
      { figure: 'alignmentMax' },
      { figure: 'oldPitches' },
      { figure: 'lockerCure' },
      { figure: 'flareMin', when: { link: 'rivet' } },
      { figure: 'flareMax', when: { link: 'rivet' } },
      { figure: 'caseGapMin', when: { sealed: true } },
      { figure: 'pitch', when: { regear: true } },
      { figure: 'oldFront', when: { regear: true } },
      { figure: 'oldRear', when: { regear: true } },
      { figure: 'newFront', when: { regear: true } },
      { figure: 'newRear', when: { regear: true } },
      { figure: 'adjusterMin', when: { regear: true } },
      { figure: 'adjusterMax', when: { regear: true } },
      { figure: 'pivotToFront', when: { regear: true } },
      { figure: 'pivotToAxle', when: { regear: true } },
      { figure: 'restAngle', when: { regear: true } },
      { figure: 'leastSlack', when: { regear: true } },
    ],
    next: 'gearing',
  }),
};
