import { TradeError } from './fault.ts';
import type { Sprockets } from './gear-ratio.ts';
import { type Length, mm, type Pitches, pitches } from './quantity.ts';
import { bracketedRoot, type Root } from './root.ts';

/*
 * Everything here counts in pitches: a centre distance in mm is divided by the pitch first. The chain is
 * taken as lying taut on both pitch circles (open-belt geometry), where N teeth take N pitches to the turn.
 */

/** Radius of the pitch circle in pitches: 1 / (2 sin(180°/z)). */
const radius = (teeth: number): number => 1 / (2 * Math.sin(Math.PI / teeth));

interface Loop {
  readonly large: number;
  readonly small: number;
  /** Difference of the pitch radii, in pitches. */
  readonly step: number;
  /** Centre distance at which the pitch circles touch, in pitches. */
  readonly touching: number;
}

function loop({ front, rear }: Sprockets): Loop {
  const large = Math.max(front, rear);
  const small = Math.min(front, rear);
  return { large, small, step: radius(large) - radius(small), touching: radius(large) + radius(small) };
}

function lengthAt({ large, small, step }: Loop, centre: number): number {
  const a = Math.asin(step / centre);
  return 2 * centre * Math.cos(a) + large * (0.5 + a / Math.PI) + small * (0.5 - a / Math.PI);
}

/**
 * Chain length, in pitches, that lies taut on two sprockets `centre` apart:
 * L = 2C cos a + N(1/2 + a/π) + n(1/2 − a/π), a = asin((R − r)/C), R = 1/(2 sin(π/N)).
 * Source: geometry of a belt on two circles; sprocket pitch circle as in ISO 606.
 * @throws TradeError `sprockets-overlap` when the sprockets would touch
 */
export function chainLength(sprockets: Sprockets, pitch: Length, centre: Length): Pitches {
  const shape = loop(sprockets);
  const c = centre / pitch;
  if (c < shape.touching) {
    const least = (shape.touching * pitch).toFixed(1);
    throw new TradeError(
      'sprockets-overlap',
      `At a centre of ${centre} mm these sprockets touch: give the distance between the shafts, more than ${least} mm.`,
    );
  }
  return pitches(lengthAt(shape, c));
}

/** The handbook's short form, in pitches: L ≈ 2C + (N + n)/2 + ((N − n)/2π)²/C. */
export function approximateLength({ front, rear }: Sprockets, pitch: Length, centre: Length): Pitches {
  const c = centre / pitch;
  return pitches(2 * c + (front + rear) / 2 + ((rear - front) / (2 * Math.PI)) ** 2 / c);
}

/**
 * The least even count that reaches. An odd count needs a cranked link, which is weaker. A length within
 * 0.02 pitch (about 0.3 mm) above an even count is that count: no tape reads a centre finer than that.
 */
export function evenCount(length: Pitches): Pitches {
  return pitches(2 * Math.ceil((length - 0.02) / 2));
}

/**
 * Centre distance at which a chain of `count` pitches lies taut, solved on the exact geometry.
 * dL/dC = 2 cos a is never zero while the sprockets are apart, so there is one answer.
 * @throws TradeError `chain-cannot-reach` when the chain is too short to go round both sprockets
 */
export function centreDistance(sprockets: Sprockets, pitch: Length, count: Pitches): Length {
  return mm(solveCentre(sprockets, count).x * pitch);
}

/** {@link centreDistance} in pitches, with the steps the solver took. */
export function solveCentre(sprockets: Sprockets, count: Pitches): Root {
  const shape = loop(sprockets);
  const least = lengthAt(shape, shape.touching);
  if (count < least) {
    throw new TradeError(
      'chain-cannot-reach',
      `${count} pitches cannot go round ${sprockets.front} and ${sprockets.rear} teeth: it takes at least ${Math.ceil(least)}.`,
    );
  }
  return bracketedRoot({
    f: (c) => lengthAt(shape, c) - count,
    slope: (c) => 2 * Math.cos(Math.asin(shape.step / c)),
    low: shape.touching,
    // A loop round two circles is longer than twice the distance of their centres.
    high: Math.max(count / 2, shape.touching),
  });
}

/** The handbook's short form: C ≈ ¼ (s + √(s² − 8((N − n)/2π)²)) with s = L − (N + n)/2, in mm; null where it has no root. */
export function approximateCentre({ front, rear }: Sprockets, pitch: Length, count: Pitches): Length | null {
  const s = count - (front + rear) / 2;
  const inside = s * s - 8 * ((rear - front) / (2 * Math.PI)) ** 2;
  return inside < 0 || s <= 0 ? null : mm((pitch * (s + Math.sqrt(inside))) / 4);
}

/**
 * Length of one straight run between the points where it leaves the pitch circles: √(C² − (R − r)²), in mm.
 */
export function straightRun(sprockets: Sprockets, pitch: Length, centre: Length): Length {
  return mm(Math.sqrt(centre ** 2 - (loop(sprockets).step * pitch) ** 2));
}
