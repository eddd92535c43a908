import { type Percent, percent } from './quantity.ts';

/** Order in a ring of places 0..n−1 with an odd n: strides of just under half the ring, a star. */
function star(n: number): number[] {
  const stride = n === 1 ? 1 : (n - 1) / 2;
  return Array.from({ length: n }, (_, at) => (at * stride) % n);
}

/** Order of the starting places within one quarter or half: odd counts as a star, even ones by halves in turn. */
function starts(n: number): number[] {
  if (n % 2 === 1) return star(n);
  return Array.from({ length: n }, (_, at) => (at % 2 === 0 ? at / 2 : (at - 1) / 2 + n / 2));
}

/**
 * Order in which to tighten `n` fasteners evenly spaced on a circle, numbered 1..n clockwise: opposite
 * pairs, then the pair square to it, then the angle is halved; an odd ring is tightened as a star.
 * Source: rule and 12-bolt case henniggasket.com/gasket-answers/faqs/how-to-bolt-flanges/; 8, 12 and 16 as
 * in the legacy table of ASME PCC-1 (from memory); five-bolt wheels 1-3-5-2-4.
 */
export function tightenOrder(n: number): number[] {
  if (n <= 3) return Array.from({ length: n }, (_, at) => at + 1);
  if (n % 2 === 1) return star(n).map((at) => at + 1);
  if (n % 4 === 0) {
    const quarter = n / 4;
    return starts(quarter).flatMap((at) =>
      [at, at + 2 * quarter, at + quarter, at + 3 * quarter].map((k) => k + 1),
    );
  }
  return star(n / 2).flatMap((at) => [at + 1, at + n / 2 + 1]);
}

/**
 * Share of the full torque in each pass: 30, 60, 100 % in three; else even steps.
 * Source: 30/60/100, hswhite.com/flange-bolt-torque-sequence/; even steps are our own.
 */
export function passFractions(passes: number): Percent[] {
  if (passes === 3) return [30, 60, 100].map(percent);
  return Array.from({ length: passes }, (_, at) => percent((100 * (at + 1)) / passes));
}
