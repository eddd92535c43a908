import assert from 'node:assert/strict';
import { check, close, holds, near, output } from '../register.ts';

const shim = 'valve-shim';
const valve = (fitted: number, measured: number, target: number, more: object = {}) => ({
  measured: [measured],
  fitted: [fitted],
  target: { min: target, max: target },
  ...more,
});
const exact = (fitted: number, measured: number, target: number) =>
  output(shim, valve(fitted, measured, target), 'valves/0/exact');
const dirt = 'dirtrider.net/forums3/threads/selecting-the-proper-valve-shim.160036';

export const serviceChecks = [
  check({
    working: 'sag',
    says: '600 hanging free, 495 and 505 with the rider: 100 mm',
    source: 'sportrider.com/ask-geek-set-your-static-sag; docstoc.com/docs/14826882',
    mark: 'opened',
    input: { extended: [600], laden: [495, 505] },
    expect: { ladenSag: near(100, 1e-9), friction: near(10, 1e-9) },
  }),
  check({
    working: 'sag',
    says: '12 in of travel: rear 4 in is 33.3 %',
    source: 'restackor.com/sample-apps/race-sag',
    mark: 'opened',
    input: { extended: [600], laden: [600 - 101.6], travel: 304.8 },
    expect: { ladenPercent: near(33.3, 0.051) },
  }),
  check({
    working: 'sag',
    says: '12 in of travel: fork 2 in is 16.7 %',
    source: 'restackor.com/sample-apps/race-sag',
    mark: 'opened',
    input: { extended: [600], laden: [600 - 50.8], travel: 304.8 },
    expect: { ladenPercent: near(16.7, 0.051) },
  }),
  check({
    working: 'sag',
    says: 'rider sag 95 to 100 mm of about 300 is a third, free sag 15 to 20 mm',
    source: 'docstoc.com/docs/14826882',
    mark: 'opened',
    input: { extended: [600], laden: [498, 506], unladen: [582], travel: 300 },
    expect: { ladenPercent: near(33, 0.7), unladenSag: near(18, 1e-9) },
  }),
  check({
    working: 'sag',
    says: 'sag error at the wheel divided by the motion ratio is the change at the spring',
    source: 'arithmetic',
    mark: 'computed',
    input: { extended: [600], laden: [490], target: 100, motionRatio: 2.5 },
    expect: { preloadChange: near(4, 1e-9) },
  }),
  holds(
    {
      working: shim,
      says: '2.50 + 0.18 − 0.10 = 2.58',
      source: 'cal53.calculator.city/4-stroke-valve-shim-calculator/',
      mark: 'opened',
    },
    () => close(exact(2.5, 0.18, 0.1), 2.58, 1e-9),
  ),
  holds(
    {
      working: shim,
      says: '2.25, 0.20 to 0.15: 2.30; 2.33, 0.08 to 0.15: 2.26',
      source: '400greybike.com/forum/viewtopic.php?t=6354',
      mark: 'opened',
    },
    () => {
      close(exact(2.25, 0.2, 0.15), 2.3, 1e-9);
      close(exact(2.33, 0.08, 0.15), 2.26, 1e-9);
    },
  ),
  holds(
    {
      working: shim,
      says: '1.55, 0.20 to 0.25: 1.50',
      source: 'an owners’ forum (address withheld: it names the make)',
      mark: 'opened',
    },
    () => close(exact(1.55, 0.2, 0.25), 1.5, 1e-9),
  ),
  holds(
    {
      working: shim,
      says: '1.75, 0.0762 to 0.16: 1.6662; 1.65, 0.0254 to 0.16: 1.5154',
      source: dirt,
      mark: 'opened',
    },
    () => {
      close(exact(1.75, 0.0762, 0.16), 1.6662, 1e-9);
      close(exact(1.65, 0.0254, 0.16), 1.5154, 1e-9);
    },
  ),
  holds(
    {
      working: shim,
      says: '17 sizes from 2.500 to 3.300 in steps of 0.050',
      source: 'oplib.ru/visokie_tehnologii/view/55064',
      mark: 'opened',
    },
    () => {
      const sizes = new Set<unknown>();
      for (let thousandths = 2400; thousandths <= 3400; thousandths += 5)
        sizes.add(
          output(
            shim,
            valve(thousandths / 1000, 0.2, 0.2001, { step: 0.05, smallest: 2.5, largest: 3.3 }),
            'valves/0/nearest',
          ),
        );
      assert.equal(sizes.size, 17);
    },
  ),
  holds(
    { working: shim, says: '73 sizes from 1.200 to 3.000 in steps of 0.025', source: dirt, mark: 'opened' },
    () => {
      const sizes = new Set<unknown>();
      for (let thousandths = 1150; thousandths <= 3050; thousandths += 5)
        sizes.add(
          output(
            shim,
            valve(thousandths / 1000, 0.2, 0.2001, { step: 0.025, smallest: 1.2, largest: 3 }),
            'valves/0/nearest',
          ),
        );
      assert.equal(sizes.size, 73);
    },
  ),
  holds(
    {
      working: shim,
      says: 'between two sizes the thinner, loose side is taken',
      source: dirt,
      mark: 'opened',
    },
    () => {
      close(
        output(
          shim,
          { measured: [0.18], fitted: [2.5], target: { min: 0.08, max: 0.15 }, step: 0.05 },
          'shims/0',
        ),
        2.55,
        1e-9,
      );
    },
  ),
  holds(
    {
      working: shim,
      says: 'trap: 2.58 in steps of 0.05 is nearest to 2.60 but 2.55 on the loose side; 1.6662 in 0.025: 1.675 and 1.650; 2.26: 2.25 both',
      source: 'rounding worked out apart',
      mark: 'computed',
    },
    () => {
      const both = (fitted: number, measured: number, target: number, step: number) => {
        const input = valve(fitted, measured, target, { step });
        return [output(shim, input, 'valves/0/nearest'), output(shim, input, 'valves/0/shim')];
      };
      assert.deepEqual(both(2.5, 0.18, 0.1, 0.05), [2.6, 2.55]);
      assert.deepEqual(both(1.75, 0.0762, 0.16, 0.025), [1.675, 1.65]);
      assert.deepEqual(both(2.33, 0.08, 0.15, 0.05), [2.25, 2.25]);
    },
  ),
  check({
    working: 'brake-wear',
    says: '12 mm new, 6 mm now after 37,856 miles, 2 mm least: 25,236 miles left (the book rounds to whole miles a millimetre)',
    source:
      'Math for Automotive Technicians (2019), case study 16, g-wonlinetextbooks.com/math-for-automotive-technicians-2019/141',
    mark: 'opened',
    input: { measured: [6], new: 12, least: 2, distance: 37_856 * 1.609344 },
    expect: {
      distanceLeft: near(25_236 * 1.609344, 4),
      left: near(4, 1e-9),
      wornPercent: near(60, 1e-9),
      verdict: 'serviceable',
    },
  }),
  check({
    working: 'brake-wear',
    says: 'usable left is the thickness now less the least; at or below the least nothing is left',
    source: 'calculatorhub.com/tools/brake-pad-wear-calculator/',
    mark: 'opened',
    input: { measured: [2.4, 2, 2.2], new: 12, least: 2, distance: 1000 },
    expect: {
      left: near(0, 1e-9),
      distanceLeft: near(0, 1e-9),
      thinnest: 2,
      taper: near(0.4, 1e-9),
      verdict: 'renew',
    },
  }),
  check({
    working: 'brake-wear',
    says: 'trap: a page counts wear against the whole thickness (50 % here); against the usable part it is 60 %',
    source: 'calculatorshub.net/mechanical-calculators/brake-pad-percentage-calculator/, recomputed',
    mark: 'computed',
    input: { measured: [6], new: 12, least: 2 },
    expect: { wornPercent: near(60, 1e-9) },
  }),
];
