import { check, close, holds, near, output } from '../register.ts';

const page = 'a hobby page on one machine’s gearing (address withheld: it names the model)';
const inch = 25.4;
const mile = 1.609344;
const drive = { primary: 63 / 22, rollingCircumference: 81.78 * inch };

const perThousand = (gearbox: number, front: number, rear: number) =>
  output('road-speed', { ...drive, rpm: 1000, gearbox, front, rear }, 'kmh') as number;

export const gearingChecks = [
  check({
    working: 'final-ratio',
    says: '50/14 = 3.571429',
    source: page,
    mark: 'opened',
    input: { front: 14, rear: 50 },
    expect: { ratio: near(3.571429, 5e-7) },
  }),
  check({
    working: 'road-speed',
    says: 'overall ratio 63/22 × 50/14 = 10.227273, with top gear 19/21 it is 9.253247',
    source: page,
    mark: 'opened',
    input: { ...drive, rpm: 1000, gearbox: 19 / 21, front: 14, rear: 50 },
    expect: { overall: near(9.253247, 5e-7) },
  }),
  check({
    working: 'road-speed',
    says: 'the ratios of the stages multiply: 2 × 3 × 2.5 = 15',
    source: 'dev.mabts.edu/tag/gear/page/4/',
    mark: 'opened',
    input: { rpm: 1500, primary: 2, gearbox: 3, front: 14, rear: 35, rollingCircumference: 2000 },
    expect: { overall: near(15, 1e-9), kmh: near(12, 1e-9) },
  }),
  holds(
    {
      working: 'road-speed',
      says: 'mph at 1000 rpm in six gears at 81.78 in: printed 2.5, 3.75, 5.1, 6.1, 7.2, 8.4, loosely rounded',
      source: page,
      mark: 'opened',
    },
    () => {
      const printed = [2.5, 3.75, 5.1, 6.1, 7.2, 8.4];
      [3, 2, 1.5, 1.25, 1.05, 19 / 21].forEach((gearbox, at) => {
        close(perThousand(gearbox, 14, 50) / mile, printed[at] ?? 0, 0.055, `gear ${at + 1}`);
      });
    },
  ),
  holds(
    {
      working: 'road-speed',
      says: 'overall ratio and mph at 1000 rpm in top gear for seven sprocket pairs',
      source: page,
      mark: 'opened',
    },
    () => {
      const table = [
        [15, 45, 7.773, 9.963],
        [15, 46, 7.945, 9.747],
        [15, 48, 8.291, 9.341],
        [15, 49, 8.464, 9.15],
        [15, 50, 8.636, 8.967],
        [14, 48, 8.883, 8.718],
        [13, 45, 8.969, 8.635],
      ] as const;
      for (const [front, rear, overall, mph] of table) {
        close(
          output('road-speed', { ...drive, rpm: 1000, gearbox: 19 / 21, front, rear }, 'overall'),
          overall,
          5.1e-4,
        );
        close(perThousand(19 / 21, front, rear) / mile, mph, 5.1e-4, `${rear}/${front}`);
      }
    },
  ),
  check({
    working: 'road-speed',
    says: 'trap: the same page prints 6.117 for 47/15; the product is 8.118',
    source: page,
    mark: 'computed',
    input: { ...drive, rpm: 1000, gearbox: 19 / 21, front: 15, rear: 47 },
    expect: { overall: near(8.118, 5e-4) },
  }),
  check({
    working: 'ratio-change',
    says: '49 to 48 rear teeth: ratio and engine speed −2.0408 %, road speed +2.0833 %',
    source: 'arithmetic: 48/49 and 49/48',
    mark: 'computed',
    input: { from: { front: 13, rear: 49 }, to: { front: 13, rear: 48 } },
    expect: {
      percent: near(-2.0408, 5e-5),
      engineSpeedPercent: near(-2.0408, 5e-5),
      roadSpeedPercent: near(2.0833, 5e-5),
    },
  }),
  check({
    working: 'ratio-change',
    says: '13 to 14 front teeth: ratio −7.143 %, road speed +7.692 %',
    source: 'arithmetic: 13/14 and 14/13',
    mark: 'computed',
    input: { from: { front: 13, rear: 49 }, to: { front: 14, rear: 49 } },
    expect: { percent: near(-7.143, 5e-4), roadSpeedPercent: near(7.692, 5e-4) },
  }),
];
