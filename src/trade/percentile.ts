/**
 * Percentile by linear interpolation, definition 7 of Hyndman and Fan (what R and spreadsheets do): the
 * p-th of n sorted values lies at place 1 + (n − 1)p. Other definitions give other figures for the same data.
 * @param share 0 to 1
 */
export function percentile(values: readonly number[], share: number): number {
  return quantile(
    [...values].sort((a, b) => a - b),
    share,
  );
}

/** The same of values that are sorted already, the lowest first. */
export function quantile(sorted: ArrayLike<number>, share: number): number {
  const place = (sorted.length - 1) * share;
  const low = sorted[Math.floor(place)] ?? Number.NaN;
  const high = sorted[Math.ceil(place)] ?? Number.NaN;
  return low + (high - low) * (place - Math.floor(place));
}

/** Name of the definition, for every place where the figure is shown. */
export const percentileDefinition = 'linear interpolation, place 1 + (n − 1)p (Hyndman and Fan type 7)';

export interface Interval {
  readonly low: number;
  readonly high: number;
}

/**
 * Wilson score interval for a share seen `hits` times in `n`; holds for few observations and for none.
 * Source: codegolf.stackexchange.com/questions/105389 (values for z = 1.96).
 */
export function wilson(hits: number, n: number, z = 1.96): Interval {
  const share = hits / n;
  const spread = z * Math.sqrt((share * (1 - share)) / n + (z * z) / (4 * n * n));
  const middle = share + (z * z) / (2 * n);
  const scale = 1 + (z * z) / n;
  return { low: Math.max(0, (middle - spread) / scale), high: Math.min(1, (middle + spread) / scale) };
}
