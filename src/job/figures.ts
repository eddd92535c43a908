import { amountNow } from '../procedure/amounts.ts';
import type { JobContext } from '../procedure/context.ts';
import { known } from '../procedure/context.ts';
import { limitsInWords, limitsNow } from '../procedure/measure.ts';
import type { Measure, ShownAmount } from '../procedure/station.ts';
import { convert, formatFigure, otherUnit, type Unit, units } from '../trade/units.ts';

/** A figure made ready for the screen: digits, unit, and the same in the other unit system beside it. */
export interface BigFigure {
  readonly label: string;
  readonly digits: string;
  readonly unit: string;
  readonly other: { readonly digits: string; readonly unit: string } | null;
  /** Limits in words, where there are any. */
  readonly limits: string | null;
}

const isUnit = (unit: string): unit is Unit => (units as readonly string[]).includes(unit);

/** Digits of a value in its unit, with the decimals that suit it. */
export function digitsOf(value: number, unit: string): string {
  return isUnit(unit) ? formatFigure(value, unit) : String(value);
}

export function bigFigure(
  label: string,
  value: number,
  unit: string,
  limits: string | null = null,
): BigFigure {
  const beside = isUnit(unit) ? otherUnit(unit) : null;
  const other =
    beside && isUnit(unit)
      ? { digits: formatFigure(convert(value, unit, beside), beside), unit: beside }
      : null;
  return { label, digits: digitsOf(value, unit), unit, other, limits };
}

/** The figure to hit: the target, or else the limits as one line. */
export function figureToHit(measure: Measure, context: JobContext): BigFigure {
  const limits = limitsNow(measure, context);
  const words = limitsInWords(measure, limits);
  if (limits.target !== null) return bigFigure(measure.label, limits.target, measure.unit, words);
  const { min, max } = limits;
  if (min !== null && max !== null) {
    const low = bigFigure(measure.label, min, measure.unit);
    const high = bigFigure(measure.label, max, measure.unit);
    const other =
      low.other && high.other
        ? { digits: `${low.other.digits}–${high.other.digits}`, unit: low.other.unit }
        : null;
    return { ...low, digits: `${low.digits}–${high.digits}`, other, limits: words };
  }
  const one = min ?? max;
  if (one === null)
    return { label: measure.label, digits: '–', unit: measure.unit, other: null, limits: null };
  const figure = bigFigure(measure.label, one, measure.unit, words);
  return { ...figure, digits: `${min === null ? '≤' : '≥'} ${figure.digits}` };
}

/** The figures that a station shows beside its instruction; one that is not known yet shows as a dash. */
export function shownFigures(shows: readonly ShownAmount[], context: JobContext): BigFigure[] {
  const now = known(context);
  return shows.map(({ label, amount, unit }) => {
    const value = amountNow(amount, now);
    return value === null
      ? { label, digits: '–', unit, other: null, limits: null }
      : bigFigure(label, value, unit);
  });
}
