import { TradeError } from './fault.ts';
import { type Angle, type Length, newtonMetres, radians, type Torque } from './quantity.ts';

/**
 * Wrench setting that puts `target` on the fastener through an adapter: TW = T L / (L + E cos θ), with L
 * from the middle of the grip to the square drive and E from the square drive to the fastener; θ is 0 with
 * the adapter in line and pointing away, 90° square to the wrench (no change), 180° folded back.
 * Source: US Army TM 1-1500-204-23-9, paragraph 8-5 (in line); moment of a force about the fastener (angle).
 * @throws TradeError `lever-too-short` when the adapter folds back over the grip
 */
export function adapterSetting(target: Torque, wrench: Length, extension: Length, angle: Angle): Torque {
  const lever = wrench + extension * cosine(angle);
  if (lever <= 0) {
    throw new TradeError(
      'lever-too-short',
      `An adapter of ${extension} mm folded back over a wrench of ${wrench} mm leaves no lever: use a shorter adapter or another angle.`,
    );
  }
  return newtonMetres(target * (wrench / lever));
}

/** Torque on the fastener for a wrench setting: the inverse of {@link adapterSetting}. */
export function torqueThroughAdapter(
  setting: Torque,
  wrench: Length,
  extension: Length,
  angle: Angle,
): Torque {
  return newtonMetres((setting * (wrench + extension * cosine(angle))) / wrench);
}

/** Exact at the right angle, where the plain cosine leaves 6e-17 and "no change" would not be. */
function cosine(angle: Angle): number {
  return Math.abs(angle) === 90 ? 0 : Math.cos(radians(angle));
}
