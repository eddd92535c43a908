import fc from 'fast-check';
import { expect, test } from 'vitest';
import { chainVerdict, elongation } from '../../src/trade/chain-wear.ts';
import { meetingCycle } from '../../src/trade/meeting-cycle.ts';
import { percentile, wilson } from '../../src/trade/percentile.ts';
import { mm, percent, pitches, teeth } from '../../src/trade/quantity.ts';
import { caliperDiameter, pitchDiameter, rootDiameter } from '../../src/trade/sprocket.ts';
import { typeHeight } from '../../src/trade/type-size.ts';
import { tyreSize } from '../../src/trade/tyre-size.ts';

const times = fc.array(fc.double({ min: 1, max: 600, noNaN: true }), { minLength: 1, maxLength: 40 });

test('tyre codes are read in the ways they are written', () => {
  for (const code of [
    '110/90-19',
    '110/90 - 19',
    '110/90-19 62M',
    '110/90 R19',
    '110/90R19 62H',
    '110/90 B 19',
    '110/90-19 M/C 62M TL',
    '110/90 19',
  ])
    expect(tyreSize(code), code).toMatchObject({ width: 110, aspect: 90, rim: 19 });
  for (const code of ['3.00-21', '', '110', '110/90', '1100/90-19', '110/90-190', '110/90-99', '10/90-19'])
    expect(() => tyreSize(code), code).toThrowError(expect.objectContaining({ code: 'tyre-code-not-read' }));
});

test('tyre diameter: written, read, and two walls and a rim', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 5, max: 24 }),
      fc.integer({ min: 8, max: 20 }),
      fc.integer({ min: 10, max: 23 }),
      (w, a, rim) => {
        const size = tyreSize(`${w * 10}/${a * 5}-${rim}`);
        expect(size.nominalDiameter).toBeCloseTo(2 * size.sectionHeight + 25.4 * rim, 9);
        expect(Math.abs(size.regulationDiameter - size.nominalDiameter)).toBeLessThanOrEqual(0.5);
      },
    ),
  );
});

test('type height is proportional to distance, grows with the angle, and nearly is the arc', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 200, max: 8000, noNaN: true }),
      fc.double({ min: 5, max: 60, noNaN: true }),
      (d, arc) => {
        expect(typeHeight(mm(2 * d), arc)).toBeCloseTo(2 * typeHeight(mm(d), arc), 9);
        expect(typeHeight(mm(d), arc + 1)).toBeGreaterThan(typeHeight(mm(d), arc));
        expect(typeHeight(mm(d), arc) / ((d * arc * Math.PI) / 10_800)).toBeCloseTo(1, 4);
      },
    ),
  );
});

test('a percentile lies between least and greatest, rises with its share, and does not mind the order', () => {
  fc.assert(
    fc.property(
      times,
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.double({ min: 0, max: 1, noNaN: true }),
      (list, a, b) => {
        const [low, high] = [Math.min(a, b), Math.max(a, b)];
        expect(percentile(list, low)).toBeLessThanOrEqual(percentile(list, high) + 1e-9);
        expect(percentile(list, 0)).toBe(Math.min(...list));
        expect(percentile(list, 1)).toBe(Math.max(...list));
        expect(percentile([...list].reverse(), a)).toBe(percentile(list, a));
      },
    ),
  );
});

test('a Wilson interval holds the share seen, lies in 0 to 1, and mirrors', () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 300 }), fc.integer({ min: 0, max: 300 }), (hits, misses) => {
      fc.pre(hits + misses > 0);
      const n = hits + misses;
      const { low, high } = wilson(hits, n);
      expect(low).toBeLessThanOrEqual(hits / n + 1e-12);
      expect(high).toBeGreaterThanOrEqual(hits / n - 1e-12);
      expect(low).toBeGreaterThanOrEqual(0);
      expect(high).toBeLessThanOrEqual(1);
      expect(wilson(misses, n).low).toBeCloseTo(1 - high, 12);
    }),
  );
});

test('a sprocket: pitch circle grows by about p/π a tooth; a caliper never reads more than the root circle', () => {
  fc.assert(
    fc.property(fc.integer({ min: 9, max: 120 }).map(teeth), (z) => {
      const grown = pitchDiameter(teeth(z + 1), mm(12.7)) - pitchDiameter(z, mm(12.7));
      expect(grown / (12.7 / Math.PI)).toBeGreaterThan(0.98);
      expect(grown / (12.7 / Math.PI)).toBeLessThan(1);
      const root = rootDiameter(z, mm(12.7), mm(7.92));
      const read = caliperDiameter(z, mm(12.7), mm(7.92));
      if (z % 2 === 0) expect(read).toBe(root);
      else expect(read).toBeLessThan(root);
    }),
  );
});

test('elongation is nothing when new and is read back from a stretched length', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 4, max: 60 }).map(pitches),
      fc.double({ min: 0, max: 5, noNaN: true }),
      (count, worn) => {
        expect(elongation(mm(15.875), count, mm(15.875 * count * (1 + worn / 100)))).toBeCloseTo(worn, 9);
      },
    ),
  );
});

test('meeting cycle, against turning the chain tooth by tooth', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 5, max: 70 }).map(teeth),
      fc.integer({ min: 20, max: 140 }).map(pitches),
      (z, count) => {
        let met = 1;
        while (met % z !== 0 || met % count !== 0) met += 1;
        const cycle = meetingCycle(z, count);
        expect(cycle.toothMeetings).toBe(met);
        expect(cycle.sprocketTurns).toBe(met / z);
        expect(cycle.chainTurns).toBe(met / count);
        expect(cycle.hunting).toBe(met === z * count);
      },
    ),
  );
});

test('a chain is renewed at its limit, not past it, and near it from three quarters', () => {
  const verdicts = [0, 2.24, 2.25, 2.99, 3, 3.5].map((worn) => chainVerdict(percent(worn), percent(3)));
  expect(verdicts).toEqual(['serviceable', 'serviceable', 'near limit', 'near limit', 'renew', 'renew']);
});
