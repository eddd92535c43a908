import { CARD, fromCard, UNSET } from './optics.ts';

/** The outline on the screen while it is made to fit the card: its width in px, and how much the next step changes it. */
export interface CardFit {
  readonly width: number;
  readonly step: number;
  readonly last: 'wider' | 'narrower' | null;
}

/** Coarsest and finest step, as a part of the width: 14 % is seen at once, 0.5 % is less than half a millimetre. */
const COARSE = 0.14;
const FINE = 0.005;

export const startFit = (pixelsPerMm = UNSET.pixelsPerMm): CardFit => ({
  width: pixelsPerMm * CARD.width,
  step: COARSE,
  last: null,
});

/** One step; each change of direction halves it, so that a foot on one pedal and the other comes to the edge quickly. */
export function stepFit(fit: CardFit, way: 'wider' | 'narrower'): CardFit {
  const turned = fit.last !== null && fit.last !== way;
  const step = turned ? Math.max(FINE, fit.step / 2) : fit.step;
  const width = way === 'wider' ? fit.width * (1 + step) : fit.width / (1 + step);
  return fromCard(width) === null ? { ...fit, step, last: way } : { width, step, last: way };
}
