import type { Pitches, Teeth } from './quantity.ts';

/** Greatest common divisor (Euclid). */
export function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b);
}

export interface MeetingCycle {
  readonly gcd: number;
  /** Turns of the chain until the same link meets the same tooth again: teeth / gcd. */
  readonly chainTurns: number;
  /** Turns of the sprocket in that time: pitches / gcd. */
  readonly sprocketTurns: number;
  /** Teeth passed in that time: the least common multiple. */
  readonly toothMeetings: number;
  /** With no common divisor every link meets every tooth and wear spreads evenly. */
  readonly hunting: boolean;
}

export function meetingCycle(teeth: Teeth, pitches: Pitches): MeetingCycle {
  const gcd = greatestCommonDivisor(teeth, pitches);
  return {
    gcd,
    chainTurns: teeth / gcd,
    sprocketTurns: pitches / gcd,
    toothMeetings: (teeth * pitches) / gcd,
    hunting: gcd === 1,
  };
}
