import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  centreAtAngle,
  extraForSlack,
  slackAtRest,
  slackForExtra,
  slackOfChain,
  tightSpot,
} from '../../src/trade/chain-slack.ts';
import { degrees, mm, pitches, teeth } from '../../src/trade/quantity.ts';
import { runWorking } from '../../src/trade/workings.ts';
import { examples } from './examples.ts';

const swing = fc.record({
  pivotToFront: fc.double({ min: 40, max: 120, noNaN: true }).map(mm),
  pivotToAxle: fc.double({ min: 450, max: 650, noNaN: true }).map(mm),
});
const angle = fc.double({ min: 0, max: 30, noNaN: true });
const sprockets = { front: teeth(13), rear: teeth(48) };
const pitch = mm(15.875);

test('slack and extra chain undo each other', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 200, max: 800, noNaN: true }),
      fc.double({ min: 1, max: 150, noNaN: true }),
      (run, slack) => {
        expect(slackForExtra(mm(run), extraForSlack(mm(run), mm(slack)))).toBeCloseTo(slack, 6);
      },
    ),
  );
});

test('the centre distance is greatest in line and the same on either side', () => {
  fc.assert(
    fc.property(swing, angle, (arm, turn) => {
      const centre = centreAtAngle(arm, degrees(turn));
      expect(centre).toBeLessThanOrEqual(arm.pivotToFront + arm.pivotToAxle + 1e-9);
      expect(centre).toBe(centreAtAngle(arm, degrees(-turn)));
    }),
  );
});

test('slack to set grows with the angle at rest and with the least slack, and is the least slack in line', () => {
  fc.assert(
    fc.property(swing, angle, fc.double({ min: 5, max: 40, noNaN: true }), (arm, turn, least) => {
      const at = (rest: number, slack: number) =>
        slackAtRest({ ...arm, sprockets, pitch, restAngle: degrees(rest) }, mm(slack)).slackAtRest;
      expect(at(0, least)).toBeCloseTo(least, 6);
      expect(at(turn + 1, least)).toBeGreaterThan(at(turn, least));
      expect(at(turn, least + 1)).toBeGreaterThan(at(turn, least));
    }),
  );
});

test('a chain that is taut at a centre has no slack there and is refused beyond it', () => {
  const centre = mm(650);
  expect(slackOfChain(sprockets, pitch, centre, pitches(114))).toBeGreaterThan(0);
  expect(() => slackOfChain(sprockets, pitch, mm(680), pitches(114))).toThrowError(
    expect.objectContaining({ code: 'chain-cannot-reach' }),
  );
});

test('the tight spot is the least reading, with its place', () => {
  expect(tightSpot([])).toBeNull();
  expect(tightSpot([mm(40), mm(35), mm(38), mm(44)])).toEqual({
    tightest: 35,
    tightestAt: 2,
    loosest: 44,
    spread: 9,
  });
  expect(tightSpot([mm(30)])).toMatchObject({ tightestAt: 1, spread: 0 });
});

test('the verdict judges the tight spot, not the average', () => {
  const base = examples['chain-slack'];
  const target = runWorking('chain-slack', base).slackAtRest as number;
  const judged = (...measured: number[]) =>
    runWorking('chain-slack', { ...base, measured, mostSlack: target + 15 }).verdict;
  expect(judged(target + 5, target - 1, target + 9)).toBe('too tight');
  expect(judged(target + 5, target + 1)).toBe('enough');
  expect(judged(target + 16, target + 20)).toBe('too loose');
  expect(runWorking('chain-slack', { ...base, measured: undefined }).verdict).toBeNull();
});

test('an arm a hair off the line, where rounding could free less than nothing, still has a slack', () => {
  fc.assert(
    fc.property(swing, fc.double({ min: 0, max: 1e-6, noNaN: true }), (arm, turn) => {
      const found = slackAtRest({ ...arm, sprockets, pitch, restAngle: degrees(turn) }, mm(0));
      expect(found.extraChain).toBeGreaterThanOrEqual(0);
      expect(found.slackAtRest).toBeGreaterThanOrEqual(0);
    }),
    { numRuns: 300 },
  );
});
