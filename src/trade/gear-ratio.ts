import {
  kmh,
  type Length,
  type Percent,
  percent,
  type Ratio,
  type Rotation,
  ratio,
  type Speed,
  type Teeth,
} from './quantity.ts';

/** Front (driving) and rear (driven) sprocket. */
export interface Sprockets {
  readonly front: Teeth;
  readonly rear: Teeth;
}

/** Turns of the front sprocket for one of the rear: rear teeth / front teeth. */
export function finalRatio({ front, rear }: Sprockets): Ratio {
  return ratio(rear / front);
}

export interface RatioChange {
  /** Change of the final ratio. */
  readonly percent: Percent;
  /** Change of engine speed at the same road speed; equals the change of ratio. */
  readonly engineSpeedPercent: Percent;
  /** Change of road speed at the same engine speed: the inverse change. */
  readonly roadSpeedPercent: Percent;
}

/** What swapping sprockets does: 100 (i2/i1 − 1) to the ratio, 100 (i1/i2 − 1) to the speed in a gear. */
export function ratioChange(from: Sprockets, to: Sprockets): RatioChange {
  const before = finalRatio(from);
  const after = finalRatio(to);
  const change = percent(100 * (after / before - 1));
  return {
    percent: change,
    engineSpeedPercent: change,
    roadSpeedPercent: percent(100 * (before / after - 1)),
  };
}

export interface Drive extends Sprockets {
  readonly primary: Ratio;
  readonly gearbox: Ratio;
  /** Distance rolled in one turn of the wheel, measured under load. */
  readonly rollingCircumference: Length;
}

/** Turns of the engine for one turn of the wheel: primary × gearbox × final. */
export function overallRatio(drive: Drive): Ratio {
  return ratio(drive.primary * drive.gearbox * finalRatio(drive));
}

/** v[km/h] = n/overall × circumference[m] × 60 / 1000. */
export function roadSpeed(drive: Drive, engine: Rotation): Speed {
  return kmh(((engine / overallRatio(drive)) * drive.rollingCircumference * 60) / 1e6);
}

/** Engine speed for a road speed: the inverse of {@link roadSpeed}, in turns a minute. */
export function engineSpeed(drive: Drive, road: Speed): number {
  return (road * 1e6 * overallRatio(drive)) / (drive.rollingCircumference * 60);
}
