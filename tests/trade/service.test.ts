import fc from 'fast-check';
import { expect, test } from 'vitest';
import { brakeWear } from '../../src/trade/brake-wear.ts';
import { mm } from '../../src/trade/quantity.ts';
import { sag } from '../../src/trade/sag.ts';
import { chooseShim } from '../../src/trade/valve-shim.ts';
import { runWorking } from '../../src/trade/workings.ts';

const length = (min: number, max: number) => fc.double({ min, max, noNaN: true }).map(mm);
/** Micrometre readings in hundredths of a millimetre, as a gauge gives them. */
const gauge = (min: number, max: number) =>
  fc.integer({ min, max }).map((hundredths) => mm(hundredths / 100));

test('sag does not depend on where the fixed point is, nor on the order of the readings', () => {
  fc.assert(
    fc.property(length(500, 700), length(400, 500), length(400, 500), length(0, 100), (free, a, b, shift) => {
      const base = sag([free], [a, b]);
      expect(sag([mm(free + shift)], [mm(a + shift), mm(b + shift)]).sag).toBeCloseTo(base.sag, 9);
      expect(sag([free], [b, a])).toEqual(base);
      expect(base.friction).toBe(Math.abs(a - b));
    }),
  );
});

test('a laden reading within the readings allowed has a sag within the sags allowed, and none else', () => {
  const limits = { least: 30, most: 40 };
  fc.assert(
    fc.property(length(500, 700), length(20, 50), (free, found) => {
      const laden = [free - found];
      const worked = runWorking('sag', { extended: [free], laden, ...limits });
      const within =
        Number(worked.ladenShortest) <= free - found && free - found <= Number(worked.ladenLongest);
      const right = Number(worked.ladenSag) >= limits.least && Number(worked.ladenSag) <= limits.most;
      // On the very limit the two roundings may differ by the last digit.
      const near = [limits.least, limits.most].some((limit) => Math.abs(found - limit) < 1e-6);
      expect(near || within === right).toBe(true);
    }),
  );
  expect(() => runWorking('sag', { extended: [600], laden: [560], least: 40, most: 30 })).toThrowError(
    expect.objectContaining({ code: 'out-of-domain' }),
  );
  expect(runWorking('sag', { extended: [600], laden: [560] }).ladenLongest).toBeNull();
});

test('a wheel that hangs shorter than it stands is refused', () => {
  expect(() => runWorking('sag', { extended: [500], laden: [510] })).toThrowError(
    expect.objectContaining({ code: 'figures-disagree' }),
  );
});

test('shims: fitted + measured = shim + clearance, the size can be bought, and it never leaves the valve tighter than the limits allow if it can help it', () => {
  fc.assert(
    fc.property(
      gauge(5, 60),
      gauge(180, 320),
      gauge(8, 20),
      fc.integer({ min: 0, max: 8 }),
      (measured, fitted, min, wide) => {
        const target = { min, max: mm(min + wide / 100) };
        const choice = chooseShim(measured, fitted, target, { step: mm(0.05), from: mm(0), to: mm(20) });
        expect(choice.shim + choice.clearance).toBeCloseTo(fitted + measured, 9);
        if (!choice.change) return;
        expect(Math.abs(choice.shim / 0.05 - Math.round(choice.shim / 0.05))).toBeLessThan(1e-6);
        expect(Math.abs(choice.nearest - choice.exact)).toBeLessThanOrEqual(0.025 + 1e-9);
        if (!choice.inLimits) expect(choice.clearance).toBeGreaterThanOrEqual(target.min);
      },
    ),
    { numRuns: 400 },
  );
});

test('with limits at least a step wide every valve can be brought within them', () => {
  fc.assert(
    fc.property(gauge(1, 80), gauge(150, 320), (measured, fitted) => {
      const choice = chooseShim(
        measured,
        fitted,
        { min: mm(0.1), max: mm(0.15) },
        { step: mm(0.05), from: mm(0), to: mm(20) },
      );
      expect(choice.inLimits).toBe(true);
    }),
  );
});

test('a valve within limits keeps its shim, odd size or not', () => {
  const choice = chooseShim(
    mm(0.12),
    mm(2.487),
    { min: mm(0.1), max: mm(0.15) },
    { step: mm(0.05), from: mm(0), to: mm(20) },
  );
  expect(choice).toMatchObject({ shim: 2.487, clearance: 0.12, change: false, inLimits: true });
});

test('from stock only what is there is offered', () => {
  const input = {
    measured: [0.18, 0.05],
    fitted: [2.5, 2.5],
    target: { min: 0.1, max: 0.15 },
    available: [2.4, 2.45, 2.55, 2.6],
  };
  expect(runWorking('valve-shim', input).shims).toEqual([2.55, 2.4]);
});

test('at the end of the range the last size is offered and the miss is said', () => {
  const result = runWorking('valve-shim', {
    measured: [0.4],
    fitted: [3.3],
    target: { min: 0.1, max: 0.15 },
    step: 0.05,
    smallest: 2.5,
    largest: 3.3,
  });
  expect(result.shims).toEqual([3.3]);
  expect(result.valves).toMatchObject([{ inLimits: false, change: false }]);
});

test('brake wear: new is 0 %, the limit 100 %, and thinner is never better', () => {
  const wear = (thickness: number) => brakeWear([mm(thickness)], mm(5), mm(1.5));
  expect(wear(5)).toMatchObject({ wornPercent: 0, verdict: 'serviceable' });
  expect(wear(1.5)).toMatchObject({ wornPercent: 100, verdict: 'renew', left: 0 });
  expect(wear(2.2).verdict).toBe('near limit');
  fc.assert(
    fc.property(gauge(0, 500), gauge(0, 500), (a, b) => {
      expect(Math.sign(wear(a).wornPercent - wear(b).wornPercent)).toBe(
        Math.sign(wear(b).thinnest - wear(a).thinnest),
      );
    }),
  );
});

test('the thinnest place decides', () => {
  expect(brakeWear([mm(4), mm(1.4), mm(3)], mm(5), mm(1.5))).toMatchObject({
    thinnest: 1.4,
    verdict: 'renew',
    taper: 2.6,
  });
});
