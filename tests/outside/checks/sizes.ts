import assert from 'node:assert/strict';
import * as statistics from 'simple-statistics';
import { percentile, wilson } from '../../../src/trade/percentile.ts';
import { check, close, holds, near, output, refuses } from '../register.ts';

const tyre = 'tyre-size';
const type = 'type-size';
const time = 'job-time';
const guide = 'a tyre maker’s sidewall guide (address withheld: it names the make)';

const guideSizes = [
  ['120/100-18', 697.2],
  ['120/90-18', 673.2],
  ['120/80-18', 649.2],
] as const;
const sizes = [
  ['110/90-19', 680.6, 2138.2],
  ['120/80-19', 674.6, 2119.3],
  ['140/80-18', 681.2, 2140.1],
  ['100/90-19', 662.6, 2081.6],
  ['80/100-21', 693.4, 2178.4],
  ['90/90-21', 695.4, 2184.7],
  ['110/90-18', 655.2, 2058.4],
] as const;

/** Character height in mm by distance in mm and minutes of arc, as tabled for 15, 16, 18, 20, 22, 24. */
const heights = [
  [500, 2.18, 2.33, 2.62, 2.91, 3.2, 3.49],
  [700, 3.05, 3.26, 3.67, 4.07, 4.48, 4.89],
  [1000, 4.36, 4.65, 5.24, 5.82, 6.4, 6.98],
  [1828.8, 7.98, 8.51, 9.58, 10.64, 11.7, 12.77],
  [2000, 8.73, 9.31, 10.47, 11.64, 12.8, 13.96],
] as const;
const arcs = [15, 16, 18, 20, 22, 24] as const;

const height = (distance: number, arcminutes: number) =>
  output(type, { distance, arcminutes, pixelsPerInch: 96 }, 'height') as number;

const tyreChecks = [
  holds(
    {
      working: tyre,
      says: '120/100-18 697.2, 120/90-18 673.2, 120/80-18 649.2 mm',
      source: guide,
      mark: 'opened',
    },
    () => {
      for (const [code, diameter] of guideSizes)
        close(output(tyre, { code }, 'nominalDiameter'), diameter, 1e-9, code);
    },
  ),
  holds(
    {
      working: tyre,
      says: 'seven more sizes and their circumference',
      source: 'D = 2 W A/100 + 25.4 c, worked out apart',
      mark: 'computed',
    },
    () => {
      for (const [code, diameter, round] of sizes) {
        close(output(tyre, { code }, 'nominalDiameter'), diameter, 1e-9, code);
        close(output(tyre, { code }, 'circumference'), round, 0.06, code);
      }
    },
  ),
  holds(
    {
      working: tyre,
      says: 'rim codes 17, 18, 19, 21 count as 432, 457, 483, 533 mm, so 110/90-19 and 140/80-18 are 681 mm',
      source: 'UN Regulation No. 75, paragraphs 2 and 6.1, annex 5',
      mark: 'from memory',
    },
    () => {
      for (const [code, diameter] of [
        ['110/90-19', 681],
        ['140/80-18', 681],
        ['100/100-17', 632],
        ['90/90-21', 695],
      ] as const)
        assert.equal(output(tyre, { code }, 'regulationDiameter'), diameter);
    },
  ),
  holds(
    {
      working: tyre,
      says: 'a loaded tyre rolls about 3.05 D, between 0.96 and 0.98 of π D',
      source: 'ETRTO practice',
      mark: 'from memory',
    },
    () => {
      const rolls = output(tyre, { code: '110/90-19' }, 'rollingEstimate') as number;
      close(rolls / (output(tyre, { code: '110/90-19' }, 'circumference') as number), 0.97, 0.01);
    },
  ),
  refuses({
    working: tyre,
    says: 'what is not a metric size is refused',
    source: guide,
    mark: 'opened',
    input: { code: '110-90/19' },
    code: 'tyre-code-not-read',
  }),
];

const typeChecks = [
  holds(
    {
      working: type,
      says: 'thirty heights from 0.5 to 2 m at 15 to 24 minutes of arc',
      source: 'h = 2 d tan(α/2), worked out apart',
      mark: 'computed',
    },
    () => {
      for (const [distance, ...row] of heights) {
        row.forEach((value, at) => {
          close(height(distance, arcs[at] ?? 0), value, 0.0051, `${distance} mm, ${arcs[at]}′`);
        });
      }
    },
  ),
  holds(
    {
      working: type,
      says: 'short form 6.283 D MA/21600 agrees to 0.01 %',
      source: 'NUREG-0700, 1.3.1-4',
      mark: 'opened',
    },
    () => {
      for (const arc of arcs)
        close(height(3000, arc), (6.283 * 3000 * arc) / 21_600, 1e-4 * height(3000, arc));
    },
  ),
  holds(
    {
      working: type,
      says: 'characters subtending 19.64 to 22.18 minutes of arc are read from 175 to 155 times their height',
      source: 'ISO 9241-3 as restated at liquidcrystaltechnologies.com/tech_support/CharacterHeight.htm',
      mark: 'opened',
    },
    () => {
      close(1000 / height(1000, 22.18), 155, 0.1);
      close(1000 / height(1000, 19.64), 175, 0.1);
    },
  ),
  holds(
    {
      working: type,
      says: 'a rule of 1/200 of the distance lies between 16 and 20 minutes of arc',
      source: 'hf.faa.gov/Webtraining/VisualDisplays/text/size1a.htm',
      mark: 'opened',
    },
    () => {
      assert.ok(height(3000, 16) < 3000 / 200 && height(3000, 20) > 3000 / 200);
    },
  ),
  holds(
    {
      working: type,
      says: '1 rad is 3437.747 minutes of arc',
      source: 'accessibility.gtri.gatech.edu/assistant/acc_info/font_size.php',
      mark: 'opened',
    },
    () => {
      close(1000 / height(1000, 1), 3437.747, 0.001);
    },
  ),
  holds(
    {
      working: type,
      says: 'trap: label factors 0.004 and 0.006 are rounded; they stand for 13.75 and 20.63 minutes, not 15 and 20',
      source: 'NUREG-0700, 11.4.1.5-1',
      mark: 'opened',
    },
    () => {
      close(height(1000, 13.75), 4, 0.001);
      close(height(1000, 20.63), 6, 0.002);
      assert.ok(Math.abs(height(1000, 15) - 4) > 0.3);
    },
  ),
  check({
    working: type,
    says: '11.64 mm at 2 m and 20′ is 44 pixels at 96 to the inch',
    source: 'arithmetic: 11.636 / 25.4 × 96',
    mark: 'computed',
    input: { distance: 2000, arcminutes: 20, pixelsPerInch: 96 },
    expect: { pixels: near(43.98, 0.01) },
  }),
];

const gauge = [
  95.1772, 95.1567, 95.1937, 95.1959, 95.1442, 95.061, 95.1591, 95.1195, 95.1065, 95.0925, 95.199, 95.1682,
];

const timeChecks = [
  holds(
    {
      working: time,
      says: '40th percentile of 15, 20, 35, 40, 50 is 29 by this definition',
      source: 'liquisearch.com/percentile/alternative_methods',
      mark: 'opened',
    },
    () => close(percentile([15, 20, 35, 40, 50], 0.4), 29, 1e-9),
  ),
  holds(
    {
      working: time,
      says: 'trap: other definitions give 26 and 20 for the same figures; the definition is named in the result',
      source:
        'liquisearch.com/percentile/alternative_methods; Wikipedia, Percentile (nearest rank, from memory)',
      mark: 'opened',
    },
    () => {
      const found = percentile([15, 20, 35, 40, 50], 0.4);
      assert.ok(found !== 26 && found !== 20);
      assert.match(output(time, { history: [1, 2] }, 'percentileDefinition') as string, /type 7/);
    },
  ),
  holds(
    {
      working: time,
      says: '90th percentile of the twelve gauge readings is 95.19568 by this definition (95.19807 by the one the handbook prints)',
      source: 'NIST e-Handbook, 7.2.6.2',
      mark: 'from memory',
    },
    () => close(percentile(gauge, 0.9), 95.19568, 5.1e-6),
  ),
  holds(
    {
      working: time,
      says: 'median and p80 agree with an independent library on seven histories',
      source: 'npm simple-statistics 7.12.1, median and quantile',
      mark: 'computed',
    },
    () => {
      for (const history of [
        [42],
        [30, 50],
        [1, 2, 3, 4, 5, 6, 7, 8, 9, 10],
        gauge,
        [15, 20, 35, 40, 50],
        [90, 60, 75, 240, 66],
        [5, 5, 5, 5],
      ]) {
        close(output(time, { history }, 'median'), statistics.median(history), 1e-9);
        const whole = (history.length - 1) * 0.8;
        const sorted = [...history].sort((a, b) => a - b);
        const low = sorted[Math.floor(whole)] ?? 0;
        close(
          output(time, { history }, 'p80'),
          low + ((sorted[Math.ceil(whole)] ?? 0) - low) * (whole % 1),
          1e-9,
        );
      }
    },
  ),
  holds(
    {
      working: time,
      says: 'quantiles of 1 to 10: p25 3.25, p90 9.1',
      source: 'npm simple-statistics 7.12.1 and d3-array, run',
      mark: 'computed',
    },
    () => {
      const ten = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];
      close(percentile(ten, 0.25), 3.25, 1e-9);
      close(percentile(ten, 0.9), 9.1, 1e-9);
    },
  ),
  holds(
    {
      working: time,
      says: 'Wilson intervals for 1/11, 10/100, 25/100, 50/100, 0/100 and 100/100',
      source: 'codegolf.stackexchange.com/questions/105389',
      mark: 'opened',
    },
    () => {
      for (const [hits, misses, low, high] of [
        [1, 10, 0.016231752262825982, 0.3773646254862038],
        [10, 90, 0.05522854161313612, 0.1743673043676654],
        [25, 75, 0.17545094, 0.34304646],
        [50, 50, 0.40382983, 0.59617017],
        [0, 100, 0, 0.03699480747600191],
        [100, 0, 0.9630051925, 1],
      ] as const) {
        const found = wilson(hits, hits + misses);
        close(found.low, low, 5.1e-9, `${hits} of ${hits + misses}`);
        close(found.high, high, 5.1e-9, `${hits} of ${hits + misses}`);
      }
    },
  ),
  check({
    working: time,
    says: '10 of 100 jobs in time: 10 %, Wilson 5.52 to 17.44 %',
    source: 'codegolf.stackexchange.com/questions/105389',
    mark: 'opened',
    input: { history: Array.from({ length: 100 }, (_, at) => at + 1), allowed: 10 },
    expect: {
      withinPercent: near(10, 1e-9),
      withinLow: near(5.522854161, 1e-8),
      withinHigh: near(17.436730437, 1e-8),
    },
  }),
];

export const sizeChecks = [...tyreChecks, ...typeChecks, ...timeChecks];
