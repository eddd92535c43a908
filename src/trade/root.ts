import { TradeError } from './fault.ts';

export interface RootProblem {
  /** Increasing over the bracket. */
  readonly f: (x: number) => number;
  readonly slope: (x: number) => number;
  readonly low: number;
  readonly high: number;
}

export interface Root {
  readonly x: number;
  readonly steps: number;
}

/**
 * Root of an increasing function inside a bracket: Newton's step where it stays inside and shrinks fast
 * enough, else a bisection, so it always ends and never leaves the bracket. Ends when the bracket or the
 * step is at the resolution of the number itself.
 * @throws TradeError `no-root` when the bracket holds no change of sign
 */
export function bracketedRoot({ f, slope, low, high }: RootProblem): Root {
  if (!(f(low) <= 0 && f(high) >= 0))
    throw new TradeError('no-root', 'These figures leave nothing to solve for: check each of them.');
  let left = low;
  let right = high;
  let x = (left + right) / 2;
  for (let steps = 1; steps <= 200; steps += 1) {
    const value = f(x);
    if (value === 0) return { x, steps };
    if (value < 0) left = x;
    else right = x;
    const newton = x - value / slope(x);
    const next = newton > left && newton < right ? newton : (left + right) / 2;
    if (Math.abs(next - x) <= 2 * Number.EPSILON * Math.abs(x) || next === left || next === right)
      return { x: next, steps };
    x = next;
  }
  return { x, steps: 200 };
}
