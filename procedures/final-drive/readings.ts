import { hold, step } from '../../src/procedure/index.ts';

/** Line, tightest point and slack, read with the axle tight. */
export const readings = {
  line: hold({
    say: 'Straight edge along the rear sprocket. Give the gap at the front sprocket.',
    phrase: 'sprockets run in line',
    why: 'Out of line the chain climbs the teeth. It wears one side, and throws under power.',
    drawing: 'alignment.svg',
    measure: {
      name: 'alignment',
      label: 'Sprockets out of line',
      unit: 'mm',
      min: 0,
      max: { figure: 'alignmentMax' },
      tool: 'feelerGauge',
    },
    pass: 'tightest',
    fail: 'axleLoose',
  }),
  axleLoose: step({
    say: 'Split pin out, axle nut loose. Back to both adjusters.',
    rework: true,
    next: 'slackFor',
  }),
  tightest: step({
    say: 'Turn the wheel by its tyre, slowly. Leave it where the chain is tightest.',
    cautions: [
      {
        word: 'warning',
        text: 'Chain and sprocket pull a glove in and take the finger: hands on the tyre.',
        why: 'Where the chain runs on to the sprocket there is no way out, even turned by hand.',
      },
    ],
    why: 'No chain is even. Set at a loose place, it is far too tight half a turn later.',
    drawing: 'slack-point.svg',
    next: 'slack',
  }),
  slack: hold({
    say: 'Half-way along the lower run: push up, pull down. Give the whole movement.',
    phrase: 'slack within both limits',
    why: 'Too tight bends the shaft and tears bearings out. Too slack jumps off and locks the wheel.',
    drawing: 'slack-point.svg',
    witness: 'apprentice',
    measure: {
      name: 'slack',
      label: 'Slack at the tightest point',
      unit: 'mm',
      min: { figure: 'slackMin' },
      max: { figure: 'slackMax' },
      tool: 'steelRule',
    },
    pass: 'wiringBack',
    fail: 'axleLoose',
  }),
};
