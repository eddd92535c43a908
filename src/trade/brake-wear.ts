import { type Length, mm, type Percent, percent } from './quantity.ts';

export type BrakeVerdict = 'serviceable' | 'near limit' | 'renew';

export interface BrakeWear {
  readonly thinnest: Length;
  /** Difference between the thickest and the thinnest place: a tapered pad or a sticking slide. */
  readonly taper: Length;
  /** Share of the usable thickness that is worn away. */
  readonly wornPercent: Percent;
  /** Thickness left above the least allowed; negative below it. */
  readonly left: Length;
  readonly verdict: BrakeVerdict;
}

/**
 * Wear of a pad, shoe or disc from its thickness new, now (several places) and the least allowed; the
 * thinnest place decides. Near the limit from three quarters worn (our own choice, so that parts can be ordered).
 */
export function brakeWear(measured: readonly Length[], fresh: Length, least: Length): BrakeWear {
  const thinnest = mm(Math.min(...measured));
  const worn = percent((100 * (fresh - thinnest)) / (fresh - least));
  const verdict = thinnest <= least ? 'renew' : worn >= 75 ? 'near limit' : 'serviceable';
  return {
    thinnest,
    taper: mm(Math.max(...measured) - thinnest),
    wornPercent: worn,
    left: mm(thinnest - least),
    verdict,
  };
}
