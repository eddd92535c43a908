import fc from 'fast-check';
import { expect, test } from 'vitest';
import { engineSpeed, finalRatio, ratioChange, roadSpeed } from '../../src/trade/gear-ratio.ts';
import {
  chartColumns,
  compareGears,
  engineSpeeds,
  engineSpeedsAt,
  type GearSetUp,
  gearSetUpFields,
  readGearSetUp,
  shiftDrops,
  speedChart,
} from '../../src/trade/gearing.ts';
import { kmh, mm, ratio, rpm, teeth } from '../../src/trade/quantity.ts';

const setUp: GearSetUp = {
  name: 'as it stands',
  primary: ratio(2.9),
  gears: [2.8, 2, 1.5, 1.2, 1].map(ratio),
  front: teeth(13),
  rear: teeth(49),
  rollingCircumference: mm(2040),
};
const other: GearSetUp = {
  ...setUp,
  name: 'one tooth less',
  rear: teeth(48),
  gears: setUp.gears.slice(0, 4),
};
const range = { from: rpm(1000), to: rpm(8000), step: rpm(500) };
const count = fc.integer({ min: 9, max: 70 }).map(teeth);

test('road speed and engine speed undo each other', () => {
  fc.assert(
    fc.property(fc.double({ min: 100, max: 12_000, noNaN: true }), count, count, (engine, front, rear) => {
      const drive = { primary: ratio(2.9), gearbox: ratio(1.3), front, rear, rollingCircumference: mm(2040) };
      expect(engineSpeed(drive, roadSpeed(drive, rpm(engine))) / engine).toBeCloseTo(1, 12);
    }),
  );
});

test('a change there and back leaves nothing, and the two percentages are inverse', () => {
  fc.assert(
    fc.property(count, count, count, count, (a, b, c, d) => {
      const there = ratioChange({ front: a, rear: b }, { front: c, rear: d });
      const back = ratioChange({ front: c, rear: d }, { front: a, rear: b });
      expect((1 + there.percent / 100) * (1 + back.percent / 100)).toBeCloseTo(1, 10);
      expect(there.roadSpeedPercent).toBeCloseTo(back.percent, 9);
      expect(finalRatio({ front: a, rear: b }) * finalRatio({ front: b, rear: a })).toBeCloseTo(1, 12);
    }),
  );
});

test('the chart has a line for every gear of both set-ups over one range of engine speeds', () => {
  const chart = speedChart([setUp, other], range);
  expect(chart.rpm).toHaveLength(15);
  expect(chart.rpm.at(-1)).toBe(8000);
  expect(chart.lines.map(({ setUp: name, gear }) => `${name} ${gear}`)).toHaveLength(9);
  const columns = chartColumns(chart);
  expect(columns).toHaveLength(10);
  for (const column of columns) expect(column).toHaveLength(15);
});

test('speed rises with engine speed and with the gear', () => {
  const { lines } = speedChart([setUp], range);
  for (const { kmh: speeds } of lines) expect([...speeds].sort((a, b) => a - b)).toEqual(speeds);
  const at4000 = lines.map(({ kmh: speeds }) => speeds[6] ?? 0);
  expect([...at4000].sort((a, b) => a - b)).toEqual(at4000);
});

test('side by side: the change is that of the sprockets, and a missing gear is empty', () => {
  const pairs = compareGears(setUp, other, rpm(5000));
  expect(pairs).toHaveLength(5);
  for (const pair of pairs.slice(0, 4)) expect(pair.changePercent).toBeCloseTo(100 * (49 / 48 - 1), 9);
  expect(pairs[4]).toMatchObject({ gear: 5, second: null, changePercent: null });
  expect(compareGears(setUp, other, rpm(0))[0]?.changePercent).toBeNull();
});

test('engine speeds at a road speed fall from gear to gear by the drop of the ratios', () => {
  const speeds = engineSpeedsAt(setUp, kmh(60));
  const drops = shiftDrops(setUp.gears);
  expect(drops).toHaveLength(4);
  drops.forEach((drop, at) => {
    expect(100 * (1 - (speeds[at + 1] ?? 0) / (speeds[at] ?? 1))).toBeCloseTo(drop, 9);
  });
});

test('a range that does not rise in steps is refused', () => {
  for (const bad of [
    { ...range, step: rpm(0) },
    { ...range, to: rpm(500) },
    { ...range, step: rpm(0.001) },
  ])
    expect(() => engineSpeeds(bad)).toThrowError(expect.objectContaining({ code: 'out-of-domain' }));
});

test('a set-up is read from plain JSON, field by field', () => {
  expect(readGearSetUp(JSON.parse(JSON.stringify(setUp)))).toEqual(setUp);
  expect(gearSetUpFields.map(({ name }) => name)).toEqual(Object.keys(setUp));
  const { primary: _, ...rest } = setUp;
  expect(() => readGearSetUp(rest)).toThrowError(expect.objectContaining({ code: 'missing-input' }));
  expect(() => readGearSetUp({ ...setUp, gears: [] })).toThrowError(
    expect.objectContaining({ code: 'wrong-count' }),
  );
});
