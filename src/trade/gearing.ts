import { TradeError } from './fault.ts';
import * as field from './field.ts';
import { type Drive, engineSpeed, overallRatio, roadSpeed } from './gear-ratio.ts';
import { type Length, type Ratio, type Rotation, rpm, type Speed, type Teeth } from './quantity.ts';

/** One way to gear a machine: everything between crankshaft and road. */
export interface GearSetUp {
  readonly name: string;
  readonly primary: Ratio;
  /** Ratios of the gears, first gear first. */
  readonly gears: readonly Ratio[];
  readonly front: Teeth;
  readonly rear: Teeth;
  readonly rollingCircumference: Length;
}

const setUpFields = {
  name: field.text('What to call this set-up'),
  primary: field.ratio('Primary reduction, engine to gearbox'),
  gears: field.list('Ratios of the gears, first gear first', field.ratio('Ratio'), 1, 12),
  front: field.teeth('Teeth on the front (engine) sprocket'),
  rear: field.teeth('Teeth on the rear (wheel) sprocket'),
  rollingCircumference: field.length('Distance rolled in one turn of the wheel, measured under load', {
    min: 100,
    max: 10_000,
  }),
};

/** The fields of a set-up, for a form. */
export const gearSetUpFields = field.describe(setUpFields);

/**
 * Reads a set-up out of unknown JSON, such as a form or a saved plan.
 * @throws TradeError
 */
export function readGearSetUp(input: unknown): GearSetUp {
  return field.readFields(setUpFields, input);
}

const drive = (setUp: GearSetUp, gearbox: Ratio): Drive => ({ ...setUp, gearbox });

/** Engine speeds at which a table or a chart is worked out: from, from + step, … up to `to`. */
export interface SpeedRange {
  readonly from: Rotation;
  readonly to: Rotation;
  readonly step: Rotation;
}

/** @throws TradeError `out-of-domain` when the range is empty or longer than 1,000 rows */
export function engineSpeeds({ from, to, step }: SpeedRange): Rotation[] {
  const rows = Math.floor((to - from) / step + 1e-9) + 1;
  if (!(step > 0) || rows < 1 || rows > 1000) {
    throw new TradeError(
      'out-of-domain',
      'Give an engine speed range that rises in steps: from, to and a step of more than 0 rpm, at most 1000 rows.',
    );
  }
  return Array.from({ length: rows }, (_, at) => rpm(from + at * step));
}

/** Road speed in one gear over the engine speeds of the range. */
export interface GearLine {
  readonly setUp: string;
  /** Counted from 1. */
  readonly gear: number;
  readonly overall: Ratio;
  readonly kmh: readonly Speed[];
}

export interface SpeedChart {
  readonly rpm: readonly Rotation[];
  readonly lines: readonly GearLine[];
}

/** Speed against engine speed for every gear of every set-up, side by side over one range. */
export function speedChart(setUps: readonly GearSetUp[], range: SpeedRange): SpeedChart {
  const speeds = engineSpeeds(range);
  const lines = setUps.flatMap((setUp) =>
    setUp.gears.map((gearbox, at) => ({
      setUp: setUp.name,
      gear: at + 1,
      overall: overallRatio(drive(setUp, gearbox)),
      kmh: speeds.map((speed) => roadSpeed(drive(setUp, gearbox), speed)),
    })),
  );
  return { rpm: speeds, lines };
}

/** The chart as columns of equal length, engine speed first: what a plotting library takes. */
export function chartColumns({ rpm: speeds, lines }: SpeedChart): number[][] {
  return [[...speeds], ...lines.map(({ kmh }) => [...kmh])];
}

/** One gear of two set-ups side by side. */
export interface GearPair {
  readonly gear: number;
  /** Road speed at the engine speed asked for; null where the set-up has no such gear. */
  readonly first: Speed | null;
  readonly second: Speed | null;
  /** Change of road speed from the first to the second, in hundredths. */
  readonly changePercent: number | null;
}

/** Both set-ups gear by gear at one engine speed. */
export function compareGears(first: GearSetUp, second: GearSetUp, at: Rotation): GearPair[] {
  const gears = Math.max(first.gears.length, second.gears.length);
  return Array.from({ length: gears }, (_, index) => {
    const [a, b] = [speedIn(first, index, at), speedIn(second, index, at)];
    const changePercent = a === null || b === null || a === 0 ? null : 100 * (b / a - 1);
    return { gear: index + 1, first: a, second: b, changePercent };
  });
}

function speedIn(setUp: GearSetUp, index: number, at: Rotation): Speed | null {
  const gearbox = setUp.gears[index];
  return gearbox === undefined ? null : roadSpeed(drive(setUp, gearbox), at);
}

/**
 * Engine speed in every gear of a set-up at one road speed, in turns a minute: what the engine does on a
 * road ridden at that speed.
 */
export function engineSpeedsAt(setUp: GearSetUp, road: Speed): number[] {
  return setUp.gears.map((gearbox) => engineSpeed(drive(setUp, gearbox), road));
}

/** Share by which engine speed falls at each change up, in hundredths: one less than there are gears. */
export function shiftDrops(gears: readonly Ratio[]): number[] {
  return gears.slice(1).map((gearbox, at) => 100 * (1 - gearbox / (gears[at] ?? gearbox)));
}
