import fc from 'fast-check';
import { expect, test } from 'vitest';
import { coarsePitch, grades, preload, proofLoad } from '../../src/trade/bolt-preload.ts';
import { degrees, mm, newtonMetres, percent, ratio } from '../../src/trade/quantity.ts';
import { passFractions, tightenOrder } from '../../src/trade/tighten-order.ts';
import { adapterSetting, torqueThroughAdapter } from '../../src/trade/torque-adapter.ts';
import { torqueWindow } from '../../src/trade/torque-window.ts';
import { runWorking } from '../../src/trade/workings.ts';

const torque = fc.double({ min: 1, max: 400, noNaN: true }).map(newtonMetres);
const wrench = fc.double({ min: 150, max: 1200, noNaN: true }).map(mm);
const extension = fc.double({ min: 0, max: 140, noNaN: true }).map(mm);
const angle = fc.double({ min: -180, max: 180, noNaN: true }).map(degrees);

test('setting and torque on the fastener undo each other', () => {
  fc.assert(
    fc.property(torque, wrench, extension, angle, (target, l, e, a) => {
      const setting = adapterSetting(target, l, e, a);
      expect(torqueThroughAdapter(setting, l, e, a) / target).toBeCloseTo(1, 12);
    }),
  );
});

test('the setting rises as the adapter is folded back, is the target at 90° and with no adapter, and is even in the angle', () => {
  fc.assert(
    fc.property(
      torque,
      wrench,
      extension,
      fc.double({ min: 0, max: 179, noNaN: true }),
      (target, l, e, a) => {
        fc.pre(e > 1);
        const at = (turn: number) => adapterSetting(target, l, e, degrees(turn));
        expect(at(a + 1)).toBeGreaterThan(at(a));
        expect(at(-a)).toBe(at(a));
        expect(at(90)).toBe(target);
        expect(at(0)).toBeLessThan(target);
        expect(adapterSetting(target, l, mm(0), degrees(a))).toBe(target);
      },
    ),
  );
});

test('only the ratio of the lengths matters', () => {
  fc.assert(
    fc.property(
      torque,
      wrench,
      extension,
      angle,
      fc.double({ min: 0.1, max: 10, noNaN: true }),
      (t, l, e, a, scale) => {
        expect(adapterSetting(t, mm(l * scale), mm(e * scale), a) / adapterSetting(t, l, e, a)).toBeCloseTo(
          1,
          10,
        );
      },
    ),
  );
});

test('a ring: every fastener once, opposite pairs, no neighbours in a row, first four square for multiples of four', () => {
  for (let n = 1; n <= 64; n += 1) {
    const order = tightenOrder(n);
    expect([...order].sort((a, b) => a - b)).toEqual(Array.from({ length: n }, (_, at) => at + 1));
    const apart = (a: number, b: number) => Math.min(Math.abs(a - b), n - Math.abs(a - b));
    for (let at = 1; at < n && n >= 5; at += 1)
      expect(apart(order[at - 1] ?? 0, order[at] ?? 0), `${n}: ${order.join(' ')}`).toBeGreaterThan(1);
    if (n % 2 === 0 && n > 2) expect(apart(order[0] ?? 0, order[1] ?? 0)).toBe(n / 2);
    if (n % 4 === 0) expect(new Set(order.slice(0, 4).map((place) => (place - 1) % (n / 4))).size).toBe(1);
  }
});

test('passes rise to the full torque', () => {
  for (let passes = 1; passes <= 10; passes += 1) {
    const shares = passFractions(passes);
    expect(shares).toHaveLength(passes);
    expect(shares.at(-1)).toBe(100);
    for (let at = 1; at < passes; at += 1) expect(shares[at]).toBeGreaterThan(shares[at - 1] ?? 0);
  }
});

test('any setting in the window, with the tool off by its whole class, stays within the limits', () => {
  const share = fc.double({ min: 0, max: 20, noNaN: true }).map(percent);
  fc.assert(
    fc.property(
      torque,
      share,
      share,
      fc.double({ min: 0, max: 1, noNaN: true }),
      (target, tolerance, tool, at) => {
        const window = torqueWindow(target, tolerance, tool);
        if (window.setLow === null || window.setHigh === null) {
          expect(tool).toBeGreaterThan(tolerance * (1 - 1e-9));
          return;
        }
        const setting = window.setLow + at * (window.setHigh - window.setLow);
        expect(setting * (1 - tool / 100)).toBeGreaterThanOrEqual(window.low * (1 - 1e-12));
        expect(setting * (1 + tool / 100)).toBeLessThanOrEqual(window.high * (1 + 1e-12));
      },
    ),
  );
});

test('a tool exactly as good as the tolerance has the target as its one setting', () => {
  const { toolFits, setLow } = torqueWindow(newtonMetres(80), percent(4), percent(4));
  expect(toolFits).toBe(true);
  expect(setLow).toBeCloseTo(80, 10);
});

test('preload rises with torque and falls with friction and diameter; a higher class carries more', () => {
  fc.assert(
    fc.property(torque, fc.double({ min: 0.08, max: 0.3, noNaN: true }), (t, k) => {
      const force = preload(t, mm(10), ratio(k));
      expect(preload(newtonMetres(t * 1.1), mm(10), ratio(k))).toBeGreaterThan(force);
      expect(preload(t, mm(10), ratio(k * 1.1))).toBeLessThan(force);
      expect(preload(t, mm(12), ratio(k))).toBeLessThan(force);
    }),
  );
  const loads = grades.map((grade) => proofLoad(grade, mm(8), coarsePitch(mm(8))));
  expect(loads).toEqual([...loads].sort((a, b) => a - b));
});

test('the verdict follows the class judged by', () => {
  const judged = (grade: string) =>
    runWorking('bolt-preload', { torque: 80, diameter: 10, k: 0.2, grade }).verdict;
  expect(judged('8.8')).toBe('over proof load');
  expect(judged('10.9')).toBe('within proof load');
});

test('a fine thread carries more than a coarse one', () => {
  const area = (threadPitch: number) =>
    runWorking('bolt-preload', { torque: 50, diameter: 10, k: 0.2, threadPitch }).stressArea as number;
  expect(area(1.25)).toBeGreaterThan(area(1.5));
});
