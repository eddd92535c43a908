import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cutChain } from '../../src/trade/chain-cut.ts';
import { centreDistance, chainLength } from '../../src/trade/chain-length.ts';
import { mm, pitches, teeth } from '../../src/trade/quantity.ts';
import { explainWorking, runWorking } from '../../src/trade/workings.ts';
import { examples } from './examples.ts';

const pitch = mm(15.875);
const request = fc
  .record({
    front: fc.integer({ min: 11, max: 17 }).map(teeth),
    rear: fc.integer({ min: 34, max: 54 }).map(teeth),
    min: fc.double({ min: 500, max: 700, noNaN: true }).map(mm),
    travel: fc.double({ min: 1, max: 60, noNaN: true }),
    slack: fc.constantFrom(mm(0), mm(35)),
  })
  .map(({ front, rear, min, travel, slack }) => ({
    sprockets: { front, rear },
    pitch,
    adjuster: { min, max: mm(min + travel) },
    slack,
  }));

test('the count chosen is even, lies in the adjuster, and no even count that fits leaves more for wear', () => {
  fc.assert(
    fc.property(request, (given) => {
      const { chosen, alternatives } = cutChain(given);
      const fitting = alternatives.filter((one) => one.fits && !one.crankedLink);
      if (chosen === null) {
        expect(fitting).toEqual([]);
        return;
      }
      expect(chosen.pitches % 2).toBe(0);
      expect(chosen.crankedLink).toBe(false);
      expect(chosen.centre).toBeGreaterThanOrEqual(given.adjuster.min);
      expect(chosen.centre).toBeLessThanOrEqual(given.adjuster.max);
      for (const other of fitting) expect(other.wearReservePercent).toBeLessThan(chosen.wearReservePercent);
    }),
    { numRuns: 300 },
  );
});

test('against every even count tried one by one: the choice is the least that fits, and none is missed', () => {
  fc.assert(
    fc.property(request, (given) => {
      const taut = { ...given, slack: mm(0) };
      const counts = Array.from({ length: 60 }, (_, at) => 70 + 2 * at);
      const fits = counts.filter((count) => {
        const centre = centreDistance(taut.sprockets, pitch, pitches(count));
        return centre >= taut.adjuster.min && centre <= taut.adjuster.max;
      });
      expect(cutChain(taut).chosen?.pitches ?? null).toBe(fits[0] ?? null);
    }),
    { numRuns: 200 },
  );
});

test('with the wear reserve used up, the chain lies taut at the end of the adjuster', () => {
  fc.assert(
    fc.property(request, (given) => {
      const { chosen } = cutChain(given);
      if (chosen === null) return;
      const worn = chosen.pitches * (1 + chosen.wearReservePercent / 100);
      expect(worn).toBeCloseTo(chainLength(given.sprockets, pitch, given.adjuster.max), 9);
    }),
  );
});

test('slack moves the axle forward', () => {
  const given = {
    sprockets: { front: teeth(13), rear: teeth(48) },
    pitch,
    adjuster: { min: mm(640), max: mm(680) },
  };
  const taut = cutChain({ ...given, slack: mm(0) });
  const slack = cutChain({ ...given, slack: mm(35) });
  // 112 pitches lie taut at 640.8 mm; with 35 mm of slack the axle would have to come inside the adjuster's 640.
  expect(taut.chosen?.pitches).toBe(112);
  expect(slack.chosen?.centre ?? 0).toBeLessThan(taut.chosen?.centre ?? 0);
  expect((taut.chosen?.centre ?? 0) - (slack.chosen?.centre ?? 0)).toBeCloseTo(0.48, 1);
});

test('odd counts are alternatives only and flagged', () => {
  const result = runWorking('chain-cut', examples['chain-cut']);
  const rows = result.alternatives as { pitches: number; crankedLink: boolean; why: string }[];
  expect(rows.some(({ crankedLink }) => crankedLink)).toBe(true);
  for (const one of rows) {
    expect(one.crankedLink).toBe(one.pitches % 2 === 1);
    if (one.crankedLink) expect(one.why).toContain('cranked link');
  }
});

test('when nothing fits it says where the two nearest counts would put the axle', () => {
  const given = { ...examples['chain-cut'], adjuster: { min: 645, max: 655 } };
  const result = runWorking('chain-cut', given);
  expect(result).toMatchObject({ pitches: null, centre: null, cutAfterPitch: null, fits: false });
  expect(result.why).toMatch(/^No even count fits: 112 pitches is too short: .*; 114 pitches is too long: /);
  expect(explainWorking('chain-cut', given).join(' ')).toContain('No even count fits');
});

test('old figures that cannot be true are pointed out before anything is cut', () => {
  const old = { front: 13, rear: 49, pitches: 110, centre: 655 };
  const notes = runWorking('chain-cut', { ...examples['chain-cut'], old }).notes as string[];
  expect(notes.join(' ')).toContain('The old figures disagree');
  expect(runWorking('chain-cut', examples['chain-cut']).notes).toEqual([]);
});

test('an endless chain is not cut', () => {
  const result = runWorking('chain-cut', { ...examples['chain-cut'], link: 'endless' });
  expect(result.cutAfterPitch).toBeNull();
  expect((result.notes as string[]).join(' ')).toContain('not cut');
});
