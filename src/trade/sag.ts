import { type Length, mm, type Ratio } from './quantity.ts';

const mean = (values: readonly number[]): number => values.reduce((sum, one) => sum + one, 0) / values.length;

export interface Sag {
  /** How far the wheel has moved up. */
  readonly sag: Length;
  /** Difference of the readings taken from below and from above: stiction. */
  readonly friction: Length;
}

/**
 * Sag free of friction: extended − mean of the readings after lifting and after pressing down.
 * Source: sportrider.com/ask-geek-set-your-static-sag (L1 − (L2 + L3)/2)
 */
export function sag(extended: readonly Length[], settled: readonly Length[]): Sag {
  return {
    sag: mm(mean(extended) - mean(settled)),
    friction: mm(Math.max(...settled) - Math.min(...settled)),
  };
}

/** The reading at which the wheel has moved up by `sag`: mean of the extended readings − sag. */
export function sagReading(extended: readonly Length[], allowed: Length): Length {
  return mm(mean(extended) - allowed);
}

/** Spring preload to add for a sag error at the wheel: error / motion ratio, wheel travel per spring travel. */
export function preloadChange(found: Length, wanted: Length, motionRatio: Ratio): Length {
  return mm((found - wanted) / motionRatio);
}
