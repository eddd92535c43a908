import { TradeError } from './fault.ts';
import {
  type Force,
  type Length,
  megapascals,
  mm,
  newtons,
  type Ratio,
  type Stress,
  type Torque,
} from './quantity.ts';

export const grades = ['8.8', '10.9', '12.9'] as const;
export type Grade = (typeof grades)[number];

/** ISO 261 coarse pitch by nominal diameter, mm (from memory; the stress areas that follow agree with published tables). */
const coarse: Readonly<Record<number, number>> = {
  3: 0.5,
  4: 0.7,
  5: 0.8,
  6: 1,
  7: 1,
  8: 1.25,
  10: 1.5,
  12: 1.75,
  14: 2,
  16: 2,
  18: 2.5,
  20: 2.5,
  22: 2.5,
  24: 3,
};

/** @throws TradeError `thread-not-known` when no coarse pitch is known for the diameter */
export function coarsePitch(diameter: Length): Length {
  const found = coarse[diameter];
  if (found === undefined)
    throw new TradeError(
      'thread-not-known',
      `M${diameter} has no coarse pitch on file: give "threadPitch" in mm.`,
    );
  return mm(found);
}

/**
 * Stress area of an ISO metric thread: As = (π/4)(d − 0.938194 P)², in mm².
 * Source: ISO 898-1; checked against machinecalcs.com/bolt-preload-torque-calculator.
 * @throws TradeError `out-of-domain` when the pitch is too coarse for the diameter
 */
export function stressArea(diameter: Length, threadPitch: Length): number {
  const core = diameter - 0.938194 * threadPitch;
  if (core <= 0)
    throw new TradeError(
      'out-of-domain',
      `A pitch of ${threadPitch} mm leaves no core in M${diameter}: check both.`,
    );
  return (Math.PI / 4) * core ** 2;
}

/** Stress under proof load, MPa. Source: ISO 898-1, table 3; 8.8 is 580 up to 16 mm and 600 above. */
export function proofStress(grade: Grade, diameter: Length): Stress {
  if (grade === '8.8') return megapascals(diameter <= 16 ? 580 : 600);
  return megapascals(grade === '10.9' ? 830 : 970);
}

/** Proof load As × Sp in newtons; tables print it rounded to three figures. */
export function proofLoad(grade: Grade, diameter: Length, threadPitch: Length): Force {
  return newtons(proofStress(grade, diameter) * stressArea(diameter, threadPitch));
}

/**
 * Short form of the tightening equation: F = T / (K d). The nut factor K lumps all friction together and
 * scatters by about a quarter either way, so this is a check, never a way to find a torque.
 * Source: engitoolbox.org/calculators/bolt-torque
 */
export function preload(torque: Torque, diameter: Length, k: Ratio): Force {
  return newtons((torque * 1000) / (k * diameter));
}
