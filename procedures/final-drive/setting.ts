import { fork, hold, step } from '../../src/procedure/index.ts';
import { axleTorque } from './axle.ts';
import { TORQUE_TOLERANCE } from './head.ts';

const measuredAs = {
  word: 'notice',
  text: 'The slack figure is for one position: on the stand or on its wheels, as the manual says.',
  why: 'The swinging arm moves the chain: set in the wrong position it is tight under the rider.',
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
    why: "The maker's limits are for the maker's sizes. Where the two disagree, ask the supervisor.",
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
  ...axleTorque('frontHold', 'axleAgain'),
  axleAgain: step({ say: 'Slacken the axle nut fully. Begin once more.', rework: true, next: 'slackFor' }),
  frontHold: fork({
    say: 'A bolt, a circlip, or a nut with a tab washer?',
    fact: 'retainer',
    ways: [
      { value: 'bolt', phrase: 'centre bolt', to: 'brakeForBolt' },
      { value: 'circlip', phrase: 'circlip ring', to: 'splitPin' },
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
