import assert from 'node:assert/strict';
import { check, close, holds, near, output } from '../register.ts';

const order = 'tighten-order';
const preload = 'bolt-preload';
const window = 'torque-window';

const inOrder = (fasteners: number) => output(order, { fasteners }, 'order') as number[];
const pcc = 'ASME PCC-1, legacy table';

const orderChecks = [
  check({
    working: order,
    says: '5 bolts: 1-3-5-2-4',
    source: 'instaforex-loprais.com/what-is-the-correct-order-to-tighten-wheel-bolts',
    mark: 'opened',
    input: { fasteners: 5 },
    expect: { order: [1, 3, 5, 2, 4] },
  }),
  check({
    working: order,
    says: '4 bolts: 1-3-2-4',
    source: pcc,
    mark: 'from memory',
    input: { fasteners: 4 },
    expect: { order: [1, 3, 2, 4] },
  }),
  check({
    working: order,
    says: '8 bolts: 1-5-3-7-2-6-4-8',
    source: pcc,
    mark: 'from memory',
    input: { fasteners: 8 },
    expect: { order: [1, 5, 3, 7, 2, 6, 4, 8] },
  }),
  check({
    working: order,
    says: '12 bolts: 1-7-4-10, 2-8-5-11, 3-9-6-12',
    source:
      'a page on torquing a 12-bolt flange (address withheld: it names a make); ASME PCC-1, legacy table (from memory)',
    mark: 'opened',
    input: { fasteners: 12 },
    expect: { order: [1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12] },
  }),
  check({
    working: order,
    says: '16 bolts: 1-9-5-13, 3-11-7-15, 2-10-6-14, 4-12-8-16',
    source: pcc,
    mark: 'from memory',
    input: { fasteners: 16 },
    expect: { order: [1, 9, 5, 13, 3, 11, 7, 15, 2, 10, 6, 14, 4, 12, 8, 16] },
  }),
  check({
    working: order,
    says: '6 bolts: 1-4-2-5-3-6, across, then diagonally, repeated (a source in words; the numbers from memory)',
    source: 'words at a car workshop’s video page',
    mark: 'from memory',
    input: { fasteners: 6 },
    expect: { order: [1, 4, 2, 5, 3, 6] },
  }),
  holds(
    {
      working: order,
      says: '12, 6, 3, 9 o’clock first: opposite, then square to it, for 4, 8, 12 and 16 bolts',
      source: 'henniggasket.com/gasket-answers/faqs/how-to-bolt-flanges/',
      mark: 'opened',
    },
    () => {
      for (const n of [4, 8, 12, 16])
        assert.deepEqual(inOrder(n).slice(0, 4), [1, 1 + n / 2, 1 + n / 4, 1 + (3 * n) / 4]);
    },
  ),
  check({
    working: order,
    says: 'three passes of 30, 60 and 100 %, then once round',
    source: 'hswhite.com/flange-bolt-torque-sequence/',
    mark: 'opened',
    input: { fasteners: 8, passes: 3 },
    expect: {
      'passes/0/percent': 30,
      'passes/1/percent': 60,
      'passes/2/percent': 100,
      'checkPass/order': [1, 2, 3, 4, 5, 6, 7, 8],
    },
  }),
  holds(
    {
      working: order,
      says: 'trap: a page’s word list repeats a bolt and pairs neighbours; here every bolt comes once and even rings go in opposite pairs',
      source: 'instaforex-loprais.com (its five- and six-bolt lists, recomputed)',
      mark: 'computed',
    },
    () => {
      for (let n = 1; n <= 64; n += 1) {
        const list = inOrder(n);
        assert.deepEqual(
          [...list].sort((a, b) => a - b),
          Array.from({ length: n }, (_, at) => at + 1),
        );
        if (n % 2 === 0 && n > 2)
          for (let at = 0; at < n; at += 2)
            assert.equal(Math.abs((list[at] ?? 0) - (list[at + 1] ?? 0)), n / 2);
      }
    },
  ),
];

const toolManual = 'ISO 6789 as restated in a torque tool’s user manual';
const windowChecks = [
  holds(
    {
      working: window,
      says: 'class A setting tools: 6 % up to 10 N·m, 4 % above',
      source: toolManual,
      mark: 'opened',
    },
    () => {
      for (const [target, tool] of [
        [5, 6],
        [10, 6],
        [10.1, 4],
        [80, 4],
      ] as const)
        assert.equal(output(window, { target, tolerancePercent: 10 }, 'toolClassPercent'), tool);
    },
  ),
  check({
    working: window,
    says: '80 N·m ± 5 % with a 4 % wrench: 76 to 84, set 79.17 to 80.77',
    source: 'arithmetic: 76/0.96 and 84/1.04',
    mark: 'computed',
    input: { target: 80, tolerancePercent: 5, toolClassPercent: 4 },
    expect: {
      low: near(76, 1e-9),
      high: near(84, 1e-9),
      setLow: near(79.17, 0.0051),
      setHigh: near(80.77, 0.0051),
      toolFits: true,
    },
  }),
  check({
    working: window,
    says: 'a 4 % wrench cannot hold 3 %',
    source: 'arithmetic: 0.97/0.96 is more than 1.03/1.04',
    mark: 'computed',
    input: { target: 80, tolerancePercent: 3, toolClassPercent: 4 },
    expect: { setLow: null, setHigh: null, toolFits: false },
  }),
];

/** ISO 898-1 proof loads, N, coarse thread: diameter, 8.8, 10.9, 12.9. */
const proof = [
  [5, 8230, 11_800, 13_800],
  [6, 11_600, 16_700, 19_500],
  [8, 21_200, 30_400, 35_500],
  [10, 33_700, 48_100, 56_300],
  [12, 48_900, 70_000, 81_800],
  [14, 66_700, 95_500, 112_000],
  [16, 91_000, 130_000, 152_000],
] as const;
const areas = [
  [5, 14.18],
  [6, 20.12],
  [8, 36.61],
  [10, 57.99],
  [12, 84.27],
  [14, 115.4],
  [16, 156.7],
] as const;

/** ISO 898-1 least ultimate tensile loads, N, coarse thread: diameter, 8.8, 10.9. */
const ultimate = [
  [6, 16_100, 20_900],
  [8, 29_200, 38_100],
  [10, 46_400, 60_300],
  [12, 67_400, 87_700],
] as const;

const preloadChecks = [
  holds(
    {
      working: preload,
      says: 'proof load is 72 % of the least ultimate load for 8.8 and 80 % for 10.9, M6 to M12, to one in a hundred',
      source: 'usefastener.com/knowledge (least ultimate loads of ISO 898-1)',
      mark: 'opened',
    },
    () => {
      for (const [diameter, a, b] of ultimate) {
        const found = output(preload, { torque: 10, diameter, k: 0.2 }, 'proofLoad') as Record<
          string,
          number
        >;
        close((found['8.8'] ?? 0) / a, 0.725, 0.01, `M${diameter} 8.8`);
        close((found['10.9'] ?? 0) / b, 0.798, 0.01, `M${diameter} 10.9`);
      }
    },
  ),
  check({
    working: preload,
    says: 'M10, K 0.20, 50 N·m: 25.0 kN, 431 MPa',
    source: 'engitoolbox.org/calculators/bolt-torque',
    mark: 'opened',
    input: { torque: 50, diameter: 10, k: 0.2 },
    expect: { preload: near(25_000, 1e-6), stress: near(431, 0.51) },
  }),
  check({
    working: preload,
    says: 'M12 8.8, K 0.2: 82 N·m gives 34.2 kN, 70 % of proof load',
    source: 'aionlinecalculator.com/bolt-torque-calculator.html',
    mark: 'opened',
    input: { torque: 82.1, diameter: 12, k: 0.2, grade: '8.8' },
    expect: {
      preload: near(34_200, 50),
      'proofPercent/8.8': near(70, 0.1),
      stressArea: near(84.3, 0.05),
      verdict: 'within proof load',
    },
  }),
  check({
    working: preload,
    says: 'M10 8.8, 75 % of the proof load 33.7 kN takes 50.55 N·m',
    source: 'ISO 898-1 proof load and the short form, worked out apart',
    mark: 'computed',
    input: { torque: 50.55, diameter: 10, k: 0.2 },
    expect: { preload: near(25_275, 1e-6), 'proofPercent/8.8': near(75, 0.2) },
  }),
  holds(
    {
      working: preload,
      says: 'proof loads M5 to M16, classes 8.8, 10.9 and 12.9; tables are rounded, so to 0.7 %',
      source:
        'EN ISO 898-1 as tabled at staging2.optimas.com/technical-resources/iso-metric-thread-proof-loads',
      mark: 'opened',
    },
    () => {
      for (const [diameter, a, b, c] of proof) {
        const found = output(preload, { torque: 10, diameter, k: 0.2 }, 'proofLoad') as Record<
          string,
          number
        >;
        [
          ['8.8', a],
          ['10.9', b],
          ['12.9', c],
        ].forEach(([grade, load]) => {
          close(found[String(grade)], Number(load), 0.007 * Number(load), `M${diameter} ${grade}`);
        });
      }
    },
  ),
  holds(
    {
      working: preload,
      says: 'stress areas M5 to M16 by (π/4)(d − 0.9382 P)²',
      source: 'machinecalcs.com/bolt-preload-torque-calculator',
      mark: 'opened',
    },
    () => {
      for (const [diameter, area] of areas)
        close(
          output(preload, { torque: 10, diameter, k: 0.2 }, 'stressArea'),
          area,
          area > 100 ? 0.06 : 0.0051,
          `M${diameter}`,
        );
    },
  ),
  holds(
    {
      working: preload,
      says: 'trap: a page puts the proof stress of 8.8 at 600 MPa for M10; it is 580 up to 16 mm and 600 above',
      source: 'ISO 898-1, table 3',
      mark: 'from memory',
    },
    () => {
      const stress = (diameter: number) =>
        (output(preload, { torque: 10, diameter, k: 0.2 }, 'proofLoad/8.8') as number) /
        (output(preload, { torque: 10, diameter, k: 0.2 }, 'stressArea') as number);
      close(stress(10), 580, 1e-6);
      close(stress(16), 580, 1e-6);
      close(stress(18), 600, 1e-6);
    },
  ),
  check({
    working: preload,
    says: 'the short form scatters by about a quarter either way',
    source: 'engitoolbox.org/calculators/bolt-torque; rulesofthumb.pages.dev/engineering/bolt-torque.html',
    mark: 'opened',
    input: { torque: 50, diameter: 10, k: 0.2 },
    expect: { preloadLow: near(18_750, 1e-6), preloadHigh: near(31_250, 1e-6) },
  }),
];

export const torqueChecks = [...orderChecks, ...windowChecks, ...preloadChecks];
