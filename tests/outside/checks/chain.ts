import assert from 'node:assert/strict';
import { check, close, holds, near, output, refuses } from '../register.ts';
import { beltLength } from './belt-oracle.ts';

const length = 'chain-length';
const centre = 'centre-distance';
const wear = 'chain-wear';
const cycle = 'meeting-cycle';
const faq = 'two industrial chain makers’ frequent questions, both referring to ASME B29.1';
const practice = 'mechanical-design-handbook.blogspot.com/2011/03/';
const own = 'both formulas worked out apart';
const polygon = 'belt length from coordinates and tangent points, worked out apart in the test';

const centreIn = (pitches: number, front: number, rear: number, path = 'centrePitches') =>
  output(centre, { front, rear, pitch: 15.875, pitches }, path) as number;

export const chainChecks = [
  check({
    working: length,
    says: 'worked example: 21 and 42 teeth, 50 pitches of 9.52 mm apart, L = 131.7234 pitches by the short form, 1254.01 mm',
    source: 'Jindal, Machine Design, example 30-3',
    mark: 'opened',
    input: { front: 21, rear: 42, pitch: 9.52, centre: 50 * 9.52 },
    expect: {
      approxPitches: near(131.7234, 5.1e-5),
      pitches: near(131.7234, 0.001),
      evenPitches: 132,
      length: near(1254.01, 0.01),
    },
  }),
  check({
    working: length,
    says: 'shop variant with 39.6 for 4π²: 14 and 50 teeth, 40 pitches apart; third term 0.8182 against 0.8207',
    source: 'engpowerdata.com/mech/ketting.php',
    mark: 'opened',
    input: { front: 14, rear: 50, pitch: 15.875, centre: 40 * 15.875 },
    expect: { approxPitches: near(80 + 32 + 0.8182, 0.0026) },
  }),
  check({
    working: length,
    says: 'trap: a page gives an “exact” 114.305 for 20, 63, 36; its own short form gives 114.8, and so does geometry',
    source: 'a page whose exact and approximate figures disagree (address withheld); geometry',
    mark: 'computed',
    input: { front: 20, rear: 63, pitch: 15.875, centre: 36 * 15.875 },
    expect: { pitches: near(114.805, 5.1e-4), approxPitches: near(114.8, 0.05) },
  }),
  check({
    working: length,
    says: 'trap: a page prints the short form without dividing the last term by C, which gives 144.8 pitches here',
    source: 'plasticgear.xyz/chain-length-and-sprocket-center-distance/',
    mark: 'opened',
    input: { front: 14, rear: 50, pitch: 15.875, centre: 40 * 15.875 },
    expect: { approxPitches: near(112.8207, 5.1e-5) },
  }),
  holds(
    {
      working: length,
      says: 'eight pairs agree with a coordinate model to 1e-9 pitches',
      source: polygon,
      mark: 'computed',
    },
    () => {
      for (const [front, rear, apart] of [
        [13, 49, 41],
        [14, 50, 39.6],
        [9, 100, 60],
        [50, 14, 39.6],
        [21, 42, 50],
        [17, 17, 30],
        [11, 12, 12],
        [20, 63, 36],
      ] as const) {
        const found = output(length, { front, rear, pitch: 10, centre: 10 * apart }, 'pitches');
        close(found, beltLength(front, rear, apart), 1e-9, `${front}/${rear}`);
      }
    },
  ),
  holds(
    {
      working: length,
      says: 'an even number of pitches is proposed; an odd one needs a cranked link',
      source: `${practice}; a chain maker’s selection note (address withheld)`,
      mark: 'opened',
    },
    () => {
      for (let at = 600; at < 700; at += 7)
        assert.equal(
          (output(length, { front: 13, rear: 49, pitch: 15.875, centre: at }, 'evenPitches') as number) % 2,
          0,
        );
    },
  ),
  refuses({
    working: length,
    says: 'sprockets that would overlap are refused',
    source: 'geometry: pitch circles of 13 and 49 teeth at 15.875 mm need more than 157 mm',
    mark: 'computed',
    input: { front: 13, rear: 49, pitch: 15.875, centre: 150 },
    code: 'sprockets-overlap',
  }),
  holds(
    {
      working: centre,
      says: '112 pitches on 50/14: 39.5854 by the short form, 39.5846 exact',
      source: own,
      mark: 'computed',
    },
    () => {
      close(centreIn(112, 14, 50), 39.5846, 5.1e-5);
      close(centreIn(112, 14, 50, 'approxCentre') / 15.875, 39.5854, 5.1e-5);
    },
  ),
  holds(
    {
      working: centre,
      says: '114 pitches on 49/13: 41.1006 and 41.1000, 652.46 mm; on 48/13: 41.3750 and 41.3744, 656.82 mm',
      source: own,
      mark: 'computed',
    },
    () => {
      close(centreIn(114, 13, 49), 41.1, 5.1e-5);
      close(centreIn(114, 13, 49, 'approxCentre') / 15.875, 41.1006, 5.1e-5);
      close(centreIn(114, 13, 49, 'centre'), 652.46, 0.0051);
      close(centreIn(114, 13, 48), 41.3744, 5.1e-5);
      close(centreIn(114, 13, 48, 'approxCentre') / 15.875, 41.375, 5.1e-5);
      close(centreIn(114, 13, 48, 'centre'), 656.82, 0.0051);
    },
  ),
  holds(
    {
      working: centre,
      says: 'trap: a page gives C = 35.8447 for 114 pitches on 63/20; its own short form gives 35.6, to more figures 35.592; geometry gives 35.590',
      source: 'a page whose exact and approximate figures disagree (address withheld); geometry',
      mark: 'computed',
    },
    () => {
      close(centreIn(114, 20, 63, 'approxCentre') / 15.875, 35.592, 5.1e-4);
      close(centreIn(114, 20, 63), 35.59, 5.1e-4);
      close(beltLength(20, 63, centreIn(114, 20, 63)), 114, 1e-9);
    },
  ),
  refuses({
    working: centre,
    says: 'a chain too short to go round is refused',
    source: 'geometry',
    mark: 'computed',
    input: { front: 13, rear: 49, pitch: 15.875, pitches: 50 },
    code: 'chain-cannot-reach',
  }),
  holds(
    {
      working: wear,
      says: 'limit min(3, 200/z) %: 48, 49, 66, 67, 80, 100 teeth',
      source: faq,
      mark: 'opened',
    },
    () => {
      for (const [rearTeeth, limit] of [
        [48, 3],
        [49, 3],
        [66, 3],
        [67, 2.985],
        [80, 2.5],
        [100, 2],
      ] as const)
        close(
          output(wear, { pitch: 12.7, pitches: 20, measured: 255, rearTeeth }, 'limitPercent'),
          limit,
          5.1e-4,
        );
    },
  ),
  check({
    working: wear,
    says: 'trap: a page writes “2.00/teeth %” for the limit; it is 200/z %, 2.5 % at 80 teeth and not 0.025 %',
    source: faq,
    mark: 'opened',
    input: { pitch: 12.7, pitches: 20, measured: 255, rearTeeth: 80 },
    expect: { limitPercent: near(2.5, 1e-9), verdict: 'serviceable' },
  }),
  check({
    working: wear,
    says: 'fixed centres: 1.5 %',
    source: faq,
    mark: 'opened',
    input: { pitch: 12.7, pitches: 20, measured: 257.9, rearTeeth: 40, fixedCentres: true },
    expect: { limitPercent: 1.5, verdict: 'renew' },
  }),
  holds(
    {
      working: wear,
      says: '20 pitches of 12.7 mm: new 254.0, 3 % 261.6; of 15.875 mm: new 317.5, 3 % 327.0',
      source: 'a trade guide’s wear table; bearingservice.com/faq/when-replace-chain (3 %)',
      mark: 'opened',
    },
    () => {
      for (const [pitch, fresh, worn] of [
        [12.7, 254, 261.6],
        [15.875, 317.5, 327],
      ] as const) {
        close(output(wear, { pitch, pitches: 20, measured: fresh }, 'elongationPercent'), 0, 1e-9);
        close(output(wear, { pitch, pitches: 20, measured: fresh }, 'renewAt'), worn, 0.051);
      }
    },
  ),
  holds(
    {
      working: wear,
      says: '1, 1.5 and 2 % over 20 pitches of both sizes',
      source: 'arithmetic',
      mark: 'computed',
    },
    () => {
      for (const [pitch, measured, found] of [
        [12.7, 256.54, 1],
        [12.7, 257.81, 1.5],
        [12.7, 259.08, 2],
        [15.875, 320.68, 1],
        [15.875, 322.26, 1.5],
        [15.875, 323.85, 2],
      ] as const)
        close(output(wear, { pitch, pitches: 20, measured }, 'elongationPercent'), found, 0.002);
    },
  ),
  holds(
    {
      working: wear,
      says: 'trap: a forum line calls 289 mm over 18 pitches of 15.875 mm 1.5 %; it is 1.14 %, and 291 is 2 %',
      source: 'a forum’s wear table, recomputed',
      mark: 'computed',
    },
    () => {
      close(output(wear, { pitch: 15.875, pitches: 18, measured: 289 }, 'elongationPercent'), 1.14, 0.01);
      close(output(wear, { pitch: 15.875, pitches: 18, measured: 291 }, 'elongationPercent'), 2, 0.2);
      close(output(wear, { pitch: 15.875, pitches: 18, measured: 293 }, 'elongationPercent'), 2.5, 0.05);
    },
  ),
  check({
    working: wear,
    says: 'a machine’s own limit of 2 % goes before the general one',
    source: 'londonbikers.com/t/always-maintain-your-chain/110545 (limits of 1 to 2.5 % quoted, practice)',
    mark: 'opened',
    input: { pitch: 15.875, pitches: 20, measured: 324, rearTeeth: 49, limitPercent: 2 },
    expect: { limitPercent: 2, verdict: 'renew' },
  }),
  holds(
    {
      working: cycle,
      says: '96/15: g 3, 32 sprocket turns, 5 chain turns; 96/14: 2, 48, 7; 62/10: 310 meetings; 116/21: 1; 126/14: 14, one chain turn',
      source: 'kiwibiker.co.nz/forums/archive/index.php/t-103430.html; yurichev.org/GCD',
      mark: 'opened',
    },
    () => {
      for (const [pitches, teeth, gcd, sprocketTurns, chainTurns] of [
        [96, 15, 3, 32, 5],
        [96, 14, 2, 48, 7],
        [62, 10, 2, 31, 5],
        [116, 21, 1, 116, 21],
        [126, 14, 14, 9, 1],
      ] as const) {
        assert.equal(output(cycle, { teeth, pitches }, 'gcd'), gcd);
        assert.equal(output(cycle, { teeth, pitches }, 'sprocketTurns'), sprocketTurns);
        assert.equal(output(cycle, { teeth, pitches }, 'chainTurns'), chainTurns);
      }
      assert.equal(output(cycle, { teeth: 10, pitches: 62 }, 'toothMeetings'), 310);
    },
  ),
  holds(
    {
      working: cycle,
      says: '114/49: 1 (5586 meetings); 114/48: 6 (912); 114/13: 1',
      source: 'least common multiples worked out apart',
      mark: 'computed',
    },
    () => {
      for (const [teeth, gcd, meetings] of [
        [49, 1, 5586],
        [48, 6, 912],
        [13, 1, 1482],
      ] as const) {
        assert.equal(output(cycle, { teeth, pitches: 114 }, 'gcd'), gcd);
        assert.equal(output(cycle, { teeth, pitches: 114 }, 'toothMeetings'), meetings);
      }
    },
  ),
];
