import assert from 'node:assert/strict';
import { check, close, holds, near, output } from '../register.ts';
import { slackByBisection } from './belt-oracle.ts';

const practice = 'mechanical-design-handbook.blogspot.com/2011/03/';

export const chainFitChecks = [
  check({
    working: 'chain-cut',
    says: '49 to 48 rear teeth with the same 114 pitches moves the axle back 4.36 mm',
    source: 'both formulas worked out apart',
    mark: 'computed',
    input: {
      pitch: 15.875,
      old: { front: 13, rear: 49, pitches: 114, centre: 652.4625 },
      new: { front: 13, rear: 48 },
      adjuster: { min: 650, max: 670 },
      link: 'rivet',
    },
    expect: { pitches: 114, axleMove: near(4.36, 0.01), cutAfterPitch: 113, fits: true },
  }),
  holds(
    {
      working: 'chain-cut',
      says: 'one link pair more is 16.03 mm of axle, about a pitch',
      source: 'both formulas worked out apart',
      mark: 'computed',
    },
    () => {
      const input = {
        pitch: 15.875,
        old: { front: 13, rear: 49, pitches: 114, centre: 652.46 },
        new: { front: 13, rear: 48 },
        adjuster: { min: 650, max: 690 },
        link: 'clip',
      };
      const rows = output('chain-cut', input, 'alternatives') as { pitches: number; centre: number }[];
      const longer = rows.find(({ pitches }) => pitches === 116);
      close((longer?.centre ?? 0) - (output('chain-cut', input, 'centre') as number), 16.03, 0.02);
    },
  ),
  holds(
    {
      working: 'chain-cut',
      says: 'a chain to be closed by a joining link is cut to an odd count, inner link at both ends: 39 for 40',
      source: 'adoz.cz/en/actualities/how-to-determine-the-proper-length-of-a-roller-chain',
      mark: 'opened',
    },
    () => {
      const input = {
        pitch: 25.4,
        old: { front: 9, rear: 9, pitches: 40, centre: 31 * 12.7 },
        new: { front: 9, rear: 9 },
        adjuster: { min: 385, max: 400 },
        link: 'clip',
      };
      assert.equal(output('chain-cut', input, 'pitches'), 40);
      assert.equal(output('chain-cut', input, 'cutAfterPitch'), 39);
    },
  ),
  check({
    working: 'chain-cut',
    says: 'odd counts are only offered with a cranked link, which carries about 65 % of the load',
    source: `${practice}; adoz.cz/en/actualities/how-to-determine-the-proper-length-of-a-roller-chain`,
    mark: 'opened',
    input: {
      pitch: 15.875,
      old: { front: 13, rear: 49, pitches: 114, centre: 652.46 },
      new: { front: 13, rear: 48 },
      adjuster: { min: 645, max: 655 },
      link: 'clip',
    },
    expect: { pitches: null, fits: false, 'alternatives/1/pitches': 113, 'alternatives/1/crankedLink': true },
  }),
  holds(
    {
      working: 'chain-slack',
      says: 'four swing arms agree with coordinates and a bisected triangle to 1e-6 mm',
      source: 'coordinates of the three shafts and Pythagoras, worked out apart in the test',
      mark: 'computed',
    },
    () => {
      for (const [pivotToFront, pivotToAxle, restAngle, leastSlack] of [
        [80, 570, 12, 15],
        [95, 540, 8, 20],
        [60, 600, -15, 10],
        [110, 480, 0, 25],
      ] as const) {
        const given = {
          pivotToFront,
          pivotToAxle,
          restAngle,
          leastSlack,
          pitch: 15.875,
          front: 13,
          rear: 48,
        };
        close(output('chain-slack', given, 'slackAtRest'), slackByBisection(given), 1e-6, `${restAngle}°`);
      }
    },
  ),
  holds(
    {
      working: 'chain-slack',
      says: 'the chain tightens as the suspension brings the three shafts into line, so slack at rest is more than the least',
      source:
        'engineerfix.com/how-tight-should-a-motorcycle-chain-be-2 (distance to the axle grows as the suspension compresses)',
      mark: 'opened',
    },
    () => {
      const given = {
        pivotToFront: 80,
        pivotToAxle: 570,
        pitch: 15.875,
        front: 13,
        rear: 48,
        leastSlack: 15,
      };
      close(output('chain-slack', { ...given, restAngle: 0 }, 'slackAtRest'), 15, 1e-9);
      const angles = [2, 4, 8, 16].map(
        (restAngle) => output('chain-slack', { ...given, restAngle }, 'slackAtRest') as number,
      );
      assert.deepEqual(
        angles,
        [...angles].sort((a, b) => a - b),
      );
    },
  ),
  check({
    working: 'chain-slack',
    says: 'slack is measured at several wheel positions and set at the tightest',
    source: 'rideapart.com/articles/390443/know-when-replace-motorcycle-chain/ (tight spots and loose spots)',
    mark: 'opened',
    input: {
      pivotToFront: 80,
      pivotToAxle: 570,
      restAngle: 5,
      pitch: 15.875,
      front: 13,
      rear: 48,
      leastSlack: 15,
      measured: [40, 35, 38, 44],
    },
    expect: { tightest: 35, tightestAt: 2, spread: 9 },
  }),
  holds(
    {
      working: 'chain-slack',
      says: 'a road machine (arm 5° off the line) comes to 25 to 30 mm, a long-travel one (8°) to 35 to 50 mm',
      source: 'common practice, no source: 25–30 mm and 35–50 mm; the machine’s own figure decides',
      mark: 'common practice, no source',
    },
    () => {
      const given = {
        pivotToFront: 80,
        pivotToAxle: 570,
        pitch: 15.875,
        front: 13,
        rear: 48,
        leastSlack: 12,
      };
      close(output('chain-slack', { ...given, restAngle: 5 }, 'slackAtRest'), 27.5, 2.5);
      close(output('chain-slack', { ...given, restAngle: 8 }, 'slackAtRest'), 42.5, 7.5);
    },
  ),
];
