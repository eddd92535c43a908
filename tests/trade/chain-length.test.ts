import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  approximateCentre,
  approximateLength,
  centreDistance,
  chainLength,
  evenCount,
  solveCentre,
  straightRun,
} from '../../src/trade/chain-length.ts';
import { mm, pitches, teeth } from '../../src/trade/quantity.ts';
import { bracketedRoot } from '../../src/trade/root.ts';

const front = fc.integer({ min: 9, max: 25 }).map(teeth);
const rear = fc.integer({ min: 20, max: 80 }).map(teeth);
const pitch = fc.constantFrom(mm(12.7), mm(15.875), mm(19.05));
/** Centre distances in pitches, all clear of touching sprockets. */
const apart = fc.double({ min: 20, max: 90, noNaN: true });
const drive = fc.record({ front, rear });

/** Root by halving the bracket until it cannot be halved: slow, plain, and the yardstick for the solver. */
function bisect(f: (x: number) => number, from: number, to: number): number {
  let [low, high] = [from, to];
  for (let step = 0; step < 2000; step += 1) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (f(middle) < 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

test('the solver agrees with bisection to 1e-9 pitches', () => {
  fc.assert(
    fc.property(drive, fc.integer({ min: 90, max: 200 }).map(pitches), (sprockets, count) => {
      const one = mm(1);
      const least = solveCentre(sprockets, count);
      const touching = 0.5 / Math.sin(Math.PI / sprockets.front) + 0.5 / Math.sin(Math.PI / sprockets.rear);
      const found = bisect(
        (c) => chainLength(sprockets, one, mm(c)) - count,
        touching * (1 + 1e-12),
        count / 2,
      );
      expect(Math.abs(least.x - found)).toBeLessThan(1e-9);
      expect(least.steps).toBeLessThan(60);
    }),
    { numRuns: 300 },
  );
});

test('length and centre distance undo each other to 1e-9 pitches', () => {
  fc.assert(
    fc.property(drive, pitch, apart, (sprockets, p, c) => {
      const length = chainLength(sprockets, p, mm(c * p));
      expect(Math.abs(centreDistance(sprockets, p, length) / p - c)).toBeLessThan(1e-9);
    }),
    { numRuns: 300 },
  );
});

test('a longer centre takes more chain, by nearly two pitches a pitch', () => {
  fc.assert(
    fc.property(drive, apart, fc.double({ min: 0.01, max: 5, noNaN: true }), (sprockets, c, more) => {
      const grown =
        chainLength(sprockets, mm(10), mm(10 * (c + more))) - chainLength(sprockets, mm(10), mm(10 * c));
      expect(grown).toBeGreaterThan(0);
      expect(grown).toBeLessThanOrEqual(2 * more + 1e-9);
    }),
  );
});

test('front and rear may be exchanged, and pitch only sets the scale', () => {
  fc.assert(
    fc.property(drive, pitch, apart, (sprockets, p, c) => {
      const swapped = { front: sprockets.rear, rear: sprockets.front };
      expect(chainLength(swapped, p, mm(c * p))).toBeCloseTo(chainLength(sprockets, p, mm(c * p)), 10);
      expect(chainLength(sprockets, p, mm(c * p))).toBeCloseTo(chainLength(sprockets, mm(1), mm(c)), 9);
    }),
  );
});

test('equal sprockets: twice the centre and the teeth of one', () => {
  fc.assert(
    fc.property(front, apart, (z, c) => {
      expect(chainLength({ front: z, rear: z }, mm(1), mm(c))).toBeCloseTo(2 * c + z, 10);
    }),
  );
});

test("the handbook's short forms stay within a hundredth of a pitch on the drives of small machines", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 11, max: 17 }).map(teeth),
      fc.integer({ min: 36, max: 52 }).map(teeth),
      fc.double({ min: 36, max: 50, noNaN: true }),
      (a, b, c) => {
        const sprockets = { front: a, rear: b };
        const exact = chainLength(sprockets, mm(1), mm(c));
        expect(Math.abs(approximateLength(sprockets, mm(1), mm(c)) - exact)).toBeLessThan(0.01);
        expect(Math.abs((approximateCentre(sprockets, mm(1), exact) ?? 0) - c)).toBeLessThan(0.01);
      },
    ),
  );
});

test('the even count is even, reaches, and is the least that does', () => {
  fc.assert(
    fc.property(fc.double({ min: 60, max: 200, noNaN: true }), (length) => {
      const even = evenCount(pitches(length));
      expect(even % 2).toBe(0);
      expect(even).toBeGreaterThanOrEqual(length - 0.02 - 1e-12);
      expect(even - 2).toBeLessThan(length - 0.02 + 1e-12);
    }),
  );
  expect(evenCount(pitches(114))).toBe(114);
  expect(evenCount(pitches(114.01))).toBe(114);
  expect(evenCount(pitches(114.1))).toBe(116);
});

test('a chain just long enough to go round still has a centre; one shorter is refused', () => {
  const sprockets = { front: teeth(13), rear: teeth(49) };
  const least = Math.ceil(chainLength(sprockets, mm(1), mm(9.9131)));
  expect(centreDistance(sprockets, mm(1), pitches(least))).toBeGreaterThan(9.89);
  expect(() => centreDistance(sprockets, mm(1), pitches(least - 2))).toThrowError(
    expect.objectContaining({ code: 'chain-cannot-reach' }),
  );
});

test('the short form has no centre for a chain that is too short', () => {
  const sprockets = { front: teeth(13), rear: teeth(49) };
  expect(approximateCentre(sprockets, mm(1), pitches(40))).toBeNull();
  expect(approximateCentre({ front: teeth(17), rear: teeth(17) }, mm(1), pitches(12))).toBeNull();
});

test('the straight run is shorter than the centre distance unless the sprockets are alike', () => {
  expect(straightRun({ front: teeth(13), rear: teeth(49) }, mm(15.875), mm(650))).toBeLessThan(650);
  expect(straightRun({ front: teeth(17), rear: teeth(17) }, mm(15.875), mm(650))).toBe(650);
});

test('a bracket without a root is refused', () => {
  const problem = { f: (x: number) => x + 1, slope: () => 1, low: 0, high: 1 };
  expect(() => bracketedRoot(problem)).toThrowError(expect.objectContaining({ code: 'no-root' }));
});

test('the solver falls back on halving where a Newton step would leave the bracket', () => {
  const cube = bracketedRoot({ f: (x) => x ** 3 - 2, slope: (x) => 3 * x * x, low: 0, high: 100 });
  expect(cube.x).toBeCloseTo(2 ** (1 / 3), 12);
  const flat = bracketedRoot({
    f: (x) => Math.atan(x - 3),
    slope: (x) => 1 / (1 + (x - 3) ** 2),
    low: -1000,
    high: 900,
  });
  expect(flat.x).toBeCloseTo(3, 12);
});
