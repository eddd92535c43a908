import { type Length, mm } from './quantity.ts';

export interface Clearance {
  readonly min: Length;
  readonly max: Length;
}

/** Shims that can be had: a stock list, or every multiple of a step between two sizes. */
export type Shims =
  | { readonly stock: readonly Length[] }
  | { readonly step: Length; readonly from: Length; readonly to: Length };

export interface ShimChoice {
  /** Thickness that would give the middle of the limits: fitted + measured − middle. */
  readonly exact: Length;
  readonly shim: Length;
  readonly clearance: Length;
  /** Closest available shim, whichever side of exact it lies. */
  readonly nearest: Length;
  readonly change: boolean;
  readonly inLimits: boolean;
}

// Sums of thousandths in binary leave 2.5500000000000003; shims and gauges are read to a tenth of a micrometre at best.
const tidy = (value: number): Length => mm(Math.round(value * 1e4) / 1e4);

/**
 * Next available shim for a bucket-and-shim valve: N = T + (A − V). Between two sizes the thinner one is
 * taken, since a valve that is too tight burns and one slightly loose only ticks; the thicker one only if
 * the thinner leaves the limits and the thicker does not. A valve within limits keeps its shim.
 * Source: formula oplib.ru/visokie_tehnologii/view/55064; loose side dirtrider.net/forums3/threads/160036
 */
export function chooseShim(measured: Length, fitted: Length, target: Clearance, shims: Shims): ShimChoice {
  const within = (clearance: Length) => clearance >= target.min && clearance <= target.max;
  const exact = tidy(fitted + measured - (target.min + target.max) / 2);
  const [thinner, thicker] = around(exact, shims);
  const clearanceWith = (shim: Length) => tidy(fitted + measured - shim);
  const nearest = thicker - exact < exact - thinner || thinner > exact ? thicker : thinner;
  if (within(measured))
    return { exact, shim: fitted, clearance: measured, nearest, change: false, inLimits: true };
  const loose = clearanceWith(thinner);
  const shim = !within(loose) && within(clearanceWith(thicker)) ? thicker : thinner;
  const clearance = clearanceWith(shim);
  return { exact, shim, clearance, nearest, change: shim !== fitted, inLimits: within(clearance) };
}

/** The available sizes next below and next above `exact`; the same one twice at the end of the range. */
function around(exact: Length, shims: Shims): readonly [Length, Length] {
  if ('stock' in shims) {
    const sorted = [...shims.stock].sort((a, b) => a - b);
    const below = sorted.findLast((size) => size <= exact) ?? sorted[0] ?? exact;
    const above = sorted.find((size) => size >= exact) ?? sorted.at(-1) ?? exact;
    return [below, above];
  }
  const { step, from, to } = shims;
  const held = (size: number) => tidy(Math.min(to, Math.max(from, size)));
  const below = from + Math.floor((exact - from) / step + 1e-6) * step;
  const above = from + Math.ceil((exact - from) / step - 1e-6) * step;
  return [held(below), held(above)];
}
