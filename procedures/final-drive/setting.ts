import { fork, hold, reading, step, working } from '../../src/procedure/index.ts';
import { TORQUE_TOLERANCE } from './head.ts';

const axle = {
  name: 'axleTorque',
  unit: 'N·m',
  tolerancePercent: TORQUE_TOLERANCE,
  tool: 'torqueWrench',
} as const;

const measuredAs = {
  word: 'notice',
  text: 'The slack figure holds in the position that the manual names: on its stand, or on its wheels.',
} as const;

/**
 * Slack is set roughly, the axle is tightened, and only then are line and slack read: tightening moves the axle. A figure
 * out of limits therefore goes back to the adjusters, and the axle is tightened and read again.
 */
export const setting = {
  slackFor: fork({
    say: 'Like for like, or other sizes?',
    fact: 'regear',
    ways: [
      { value: false, phrase: 'like for like', to: 'setSlack' },
      { value: true, phrase: 'other sizes', to: 'setSlackNew' },
    ],
  }),
  setSlackNew: step({
    say: 'Turn both adjusters alike. No less slack than the new sizes need.',
    why: "The maker's limits are for the maker's sizes. Mind the larger of the two.",
    cautions: [measuredAs],
    drawing: 'slack-point.svg',
    shows: [
      {
        label: 'New sizes need at least',
        amount: { result: 'newSlack', of: 'slackAtRest' },
        unit: 'mm',
      },
      { label: 'Slack, most', amount: { figure: 'slackMax' }, unit: 'mm' },
    ],
    next: 'lineUp',
  }),
  setSlack: step({
    say: 'Turn both adjusters alike until the chain hangs about right.',
    why: 'Equal turns keep the axle square. Unequal turns run the chain off one side.',
    cautions: [measuredAs],
    drawing: 'slack-point.svg',
    shows: [
      { label: 'Slack, least', amount: { figure: 'slackMin' }, unit: 'mm' },
      { label: 'Slack, most', amount: { figure: 'slackMax' }, unit: 'mm' },
    ],
    next: 'lineUp',
  }),
  lineUp: step({
    say: 'Same mark on both sides. Push the wheel forward against the adjusters.',
    drawing: 'alignment.svg',
    next: 'reach',
  }),
  reach: fork({
    say: 'Plain socket at the axle nut, or an adapter?',
    fact: 'adapter',
    ways: [
      { value: false, phrase: 'plain socket', to: 'axleTight' },
      { value: true, phrase: 'adapter needed', to: 'wrenchLength' },
    ],
  }),
  axleTight: hold({
    say: 'Tighten the axle nut with the torque wrench. Give the figure.',
    phrase: 'axle holds its torque',
    why: 'A loose axle walks in its slots: the chain jumps, or the wheel leans in the swing arm.',
    applies: { adapter: false },
    witness: 'apprentice',
    measure: { ...axle, label: 'Axle nut', target: { figure: 'axleTorque' } },
    pass: 'frontHold',
    fail: 'axleAgain',
  }),
  axleAgain: step({ say: 'Slacken the axle nut fully. Begin once more.', rework: true, next: 'slackFor' }),
  wrenchLength: reading({
    say: 'Measure the wrench from the middle of its grip to the square drive.',
    measure: { name: 'wrenchLength', label: 'Wrench', unit: 'mm', min: 100, max: 1200, tool: 'steelRule' },
    inside: 'adapterLength',
    outside: 'wrenchAgain',
  }),
  wrenchAgain: step({ say: 'Look at both ends of the rule.', rework: true, next: 'wrenchLength' }),
  adapterLength: reading({
    say: 'Measure the adapter from the square drive to the middle of the nut.',
    measure: { name: 'adapterLength', label: 'Adapter', unit: 'mm', min: 10, max: 300, tool: 'steelRule' },
    inside: 'wrenchSetting',
    outside: 'adapterAgain',
  }),
  adapterAgain: step({ say: 'Look at both ends of the rule.', rework: true, next: 'adapterLength' }),
  wrenchSetting: working({
    say: 'Adapter in line with the wrench. Set the wrench to this figure.',
    why: 'An adapter makes the lever longer: at the plain figure the axle nut is overtightened.',
    working: 'torque-adapter',
    inputs: {
      target: { figure: 'axleTorque' },
      wrench: { reading: 'wrenchLength' },
      extension: { reading: 'adapterLength' },
      angle: 0,
    },
    answers: [{ key: 'setting', label: 'Set the wrench to', unit: 'N·m' }],
    next: 'axleAdapted',
    noAnswer: 'wrenchLength',
  }),
  axleAdapted: hold({
    say: 'Tighten the axle nut, adapter in line. Give the figure on the wrench.',
    phrase: 'adapter reached its setting',
    why: 'A loose axle walks in its slots: the chain jumps, or the wheel leans in the swing arm.',
    applies: { adapter: true },
    witness: 'apprentice',
    measure: {
      ...axle,
      label: 'Wrench setting at the axle nut',
      target: { result: 'wrenchSetting', of: 'setting' },
    },
    pass: 'frontHold',
    fail: 'axleAgain',
  }),
  frontHold: fork({
    say: 'A bolt, a circlip, or a nut with a tab washer?',
    fact: 'retainer',
    ways: [
      { value: 'bolt', phrase: 'centre bolt', to: 'brakeForBolt' },
      { value: 'circlip', phrase: 'circlip', to: 'splitPin' },
      { value: 'tab nut', phrase: 'nut with tab', to: 'brakeForNut' },
    ],
  }),
  brakeForBolt: step({
    say: 'Helper: rear brake on, and keep it on.',
    drawing: 'brake-helper.svg',
    next: 'boltTight',
  }),
  boltTight: hold({
    say: 'Tighten the front sprocket bolt with the torque wrench. Give the figure.',
    phrase: 'front bolt to its figure',
    why: 'A loose bolt lets the sprocket work on its splines until shaft and sprocket are both scrap.',
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
    fail: 'boltAgain',
  }),
  boltAgain: step({
    say: 'Back the bolt off half a turn, no further. Begin once more.',
    rework: true,
    next: 'boltTight',
  }),
  brakeForNut: step({
    say: 'Helper: rear brake on, and keep it on.',
    drawing: 'brake-helper.svg',
    next: 'nutTight',
  }),
  nutTight: hold({
    say: 'Tighten the front sprocket nut with the torque wrench. Give the figure.',
    phrase: 'big nut on the mark',
    why: 'A loose nut hammers its tab washer to pieces and then comes off on the road.',
    applies: { retainer: 'tab nut' },
    witness: 'apprentice',
    measure: {
      name: 'frontTorque',
      label: 'Front sprocket nut',
      unit: 'N·m',
      target: { figure: 'frontTorque' },
      tolerancePercent: TORQUE_TOLERANCE,
      tool: 'torqueWrench',
    },
    pass: 'tabBend',
    fail: 'nutAgain',
  }),
  nutAgain: step({
    say: 'Back the nut off half a turn, no further. Begin once more.',
    rework: true,
    next: 'nutTight',
  }),
  tabBend: step({
    say: 'Bend one tab up against a flat of the nut.',
    drawing: 'tab-washer.svg',
    next: 'tabOver',
  }),
  tabOver: hold({
    say: 'Look at the tab: hard against the flat, not against a corner, not cracked.',
    phrase: 'tab lies along the flat',
    why: 'The tab is all that keeps this nut from turning off. Against a corner it holds nothing.',
    drawing: 'tab-washer.svg',
    applies: { retainer: 'tab nut' },
    witness: 'apprentice',
    pass: 'helperOff',
    fail: 'tabAgain',
  }),
  tabAgain: step({
    say: 'Nut off. Fit another new tab washer.',
    rework: true,
    next: 'nutTight',
  }),
  helperOff: step({ say: 'Helper: brake off, and stand clear.', next: 'splitPin' }),
  splitPin: step({
    say: 'Adjuster lock nuts tight. A new split pin where the axle has one.',
    next: 'line',
  }),
};
