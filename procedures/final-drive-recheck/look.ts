import { fork, hold, kit, lookUp, step } from '../../src/procedure/index.ts';

/** Making safe, then only looking: paint lines, joining link and retainer, before a wrench hides what has moved. */
export const look = {
  protect: kit({
    say: 'First yourself and your helper. Call each one off.',
    cautions: [
      {
        word: 'warning',
        text: 'A broken clip or pin can blind you: eye protection on.',
        why: 'A worn or loose clip may go at the first touch. It flies towards the face above it.',
      },
    ],
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
    why: 'It has just been ridden. Slack read on a hot chain is not the slack it has cold.',
    next: 'neutral',
  }),
  neutral: step({ say: 'Select neutral. Chock the front wheel.', next: 'rider' }),
  rider: step({
    say: 'Ask the rider: any noise, any jerk, any smell?',
    why: 'The rider has felt it run under load. You have not.',
    next: 'coverOff',
  }),
  coverOff: step({ say: 'Take off the front sprocket cover. Touch no nut yet.', next: 'lookRetainer' }),
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
    say: 'What closes the chain: a clip link, or a riveted link?',
    fact: 'link',
    look: true,
    ways: [
      { value: 'clip', phrase: 'clip link', to: 'lookReach' },
      { value: 'rivet', phrase: 'riveted link', to: 'lookReach' },
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
    items: {
      torqueWrench: { calls: 'Torque wrench that covers every figure', kind: 'tool', tool: 'torqueWrench' },
      adapter: { calls: 'Torque adapter for the axle nut', kind: 'tool', when: { adapter: true } },
      steelRule: { calls: 'Steel rule', kind: 'tool', tool: 'steelRule' },
      feelerGauge: { calls: 'Feeler gauges', kind: 'tool', tool: 'feelerGauge' },
      straightEdge: { calls: 'Straight edge for the sprockets', kind: 'tool' },
      stand: { calls: 'Rear stand', kind: 'tool' },
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
    ],
    next: 'linesWhole',
  }),
  linesWhole: hold({
    say: 'Look at each paint line: axle nut, front sprocket, every rear bolt. All whole?',
    phrase: 'every line unbroken',
    why: 'A broken line is a fastener that turned on the first ride. On the second it comes off.',
    drawing: 'paint-mark.svg',
    witness: 'apprentice',
    pass: 'joint',
    fail: 'lineBroken',
  }),
  lineBroken: step({
    say: 'That one out: clean it, fresh locker where it had some, torque it, new paint line.',
    rework: true,
    next: 'linesWhole',
  }),
  joint: fork({
    say: 'Clip link, or riveted link?',
    fact: 'link',
    ways: [
      { value: 'clip', phrase: 'clip link', to: 'clipStill' },
      { value: 'rivet', phrase: 'riveted link', to: 'rivetsStill' },
    ],
  }),
  clipStill: hold({
    say: 'Push the clip with a pick: closed end leading, both legs in the grooves.',
    phrase: 'clip sits where fitted',
    why: 'A clip that has crept is about to leave. The link follows, and the wheel locks.',
    drawing: 'clip-way.svg',
    applies: { link: 'clip' },
    witness: 'apprentice',
    pass: 'keeper',
    fail: 'linkRenew',
  }),
  rivetsStill: hold({
    say: 'Look at both rivets: round, whole, the plate hard up against them.',
    phrase: 'both rivets whole',
    why: 'A rivet that has split in one ride lets the plate off in the next.',
    drawing: 'rivet-flare.svg',
    applies: { link: 'rivet' },
    witness: 'apprentice',
    pass: 'keeper',
    fail: 'linkRenew',
  }),
  linkRenew: step({
    say: 'Fetch the supervisor. New link, fitted and inspected as in the full job.',
    rework: true,
    next: 'joint',
  }),
  keeper: fork({
    say: 'A bolt, a circlip, or a nut with a tab washer?',
    fact: 'retainer',
    ways: [
      { value: 'bolt', phrase: 'centre bolt', to: 'brakeForFront' },
      { value: 'circlip', phrase: 'circlip ring', to: 'beadWhole' },
      { value: 'tab nut', phrase: 'nut with tab', to: 'tabStill' },
    ],
  }),
  beadWhole: hold({
    say: 'Look at the silicone bead: in one piece, stuck to circlip and shaft.',
    phrase: 'bead in one piece',
    why: 'A torn bead means that the circlip turned or jumped. It leaves its groove soon after.',
    drawing: 'circlip-bead.svg',
    applies: { retainer: 'circlip' },
    witness: 'apprentice',
    pass: 'rearTight',
    fail: 'circlipRenew',
  }),
  circlipRenew: step({
    say: 'Fetch the supervisor. New circlip and bead, inspected as in the full job.',
    rework: true,
    next: 'beadWhole',
  }),
  tabStill: hold({
    say: 'Look at the tab: hard against the flat, not cracked at its bend.',
    phrase: 'tab lies along the flat',
    why: 'A tab that has opened is a nut that has tried to turn.',
    drawing: 'tab-washer.svg',
    applies: { retainer: 'tab nut' },
    witness: 'apprentice',
    pass: 'rearTight',
    fail: 'tabRenew',
  }),
  tabRenew: step({
    say: 'Fetch the supervisor. New tab washer, nut to torque, as in the full job.',
    rework: true,
    next: 'tabStill',
  }),
};
