import { TradeError } from './fault.ts';

declare const measures: unique symbol;

/** A number that carries what it measures in its type, so that a length cannot be passed as a torque. */
type Of<Q extends string> = number & { readonly [measures]: Q };

/** Millimetres. */
export type Length = Of<'length'>;
/** Newton metres. */
export type Torque = Of<'torque'>;
/** Degrees. */
export type Angle = Of<'angle'>;
/** Kilometres an hour. */
export type Speed = Of<'speed'>;
/** Turns a minute. */
export type Rotation = Of<'rotation'>;
/** Newtons. */
export type Force = Of<'force'>;
/** Megapascals (newtons a square millimetre). */
export type Stress = Of<'stress'>;
/** Hundredths. */
export type Percent = Of<'percent'>;
/** Minutes. */
export type Minutes = Of<'minutes'>;
/** Whole teeth of a sprocket. */
export type Teeth = Of<'teeth'>;
/** Pitches of a chain: one pitch is one link, inner or outer. */
export type Pitches = Of<'pitches'>;
/** A plain ratio. */
export type Ratio = Of<'ratio'>;

function finite<Q extends string>(value: number): Of<Q> {
  if (!Number.isFinite(value))
    throw new TradeError('not-finite', 'The figures given lead to no finite result: check them.');
  return value as Of<Q>;
}

// Each maker refuses NaN and infinities, so no later sum can carry one to the bench.
export const mm = (value: number): Length => finite<'length'>(value);
export const newtonMetres = (value: number): Torque => finite<'torque'>(value);
export const degrees = (value: number): Angle => finite<'angle'>(value);
export const kmh = (value: number): Speed => finite<'speed'>(value);
export const rpm = (value: number): Rotation => finite<'rotation'>(value);
export const newtons = (value: number): Force => finite<'force'>(value);
export const megapascals = (value: number): Stress => finite<'stress'>(value);
export const percent = (value: number): Percent => finite<'percent'>(value);
export const minutes = (value: number): Minutes => finite<'minutes'>(value);
export const ratio = (value: number): Ratio => finite<'ratio'>(value);
export const pitches = (value: number): Pitches => finite<'pitches'>(value);

/** @throws TradeError `teeth-not-whole` */
export function teeth(value: number): Teeth {
  if (!Number.isInteger(value))
    throw new TradeError('teeth-not-whole', `A sprocket has whole teeth: ${value} is not a tooth count.`);
  return value as Teeth;
}

/** Radians of an angle, for the geometry only. */
export const radians = (angle: Angle): number => (angle * Math.PI) / 180;
