import { chainLength, straightRun } from './chain-length.ts';
import { TradeError } from './fault.ts';
import type { Sprockets } from './gear-ratio.ts';
import { type Angle, type Length, mm, type Pitches, radians } from './quantity.ts';

/**
 * Extra chain in a straight run of length `run` that lets its middle move `slack` in all, up and down.
 * Pulled taut to either side the run is two sides of a triangle: extra = √(run² + slack²) − run.
 */
export function extraForSlack(run: Length, slack: Length): Length {
  return mm(Math.hypot(run, slack) - run);
}

/** The inverse of {@link extraForSlack}: √((run + extra)² − run²). */
export function slackForExtra(run: Length, extra: Length): Length {
  return mm(Math.sqrt(extra * (2 * run + extra)));
}

export interface SwingArm {
  readonly pivotToFront: Length;
  readonly pivotToAxle: Length;
}

/**
 * Centre distance with the arm `angle` away from the line through front sprocket and pivot:
 * C² = a² + b² + 2ab cos θ. It is longest, a + b, with the three shafts in line.
 */
export function centreAtAngle({ pivotToFront: a, pivotToAxle: b }: SwingArm, angle: Angle): Length {
  return mm(Math.sqrt(a * a + b * b + 2 * a * b * Math.cos(radians(angle))));
}

export interface SlackAtRest {
  /** Free movement at rest, up and down in all, that leaves the least slack where the chain is tightest. */
  readonly slackAtRest: Length;
  readonly centreAtRest: Length;
  readonly centreInLine: Length;
  /** Chain set free when the arm leaves the line. */
  readonly extraChain: Length;
}

export interface Swing extends SwingArm {
  readonly sprockets: Sprockets;
  readonly pitch: Length;
  readonly restAngle: Angle;
}

/**
 * Slack to set at rest so that `leastSlack` is left when front sprocket, pivot and axle come into line.
 * Source: geometry; the rule to set slack for the in-line position is common workshop practice.
 * @throws TradeError `sprockets-overlap`
 */
export function slackAtRest(swing: Swing, leastSlack: Length): SlackAtRest {
  const { sprockets, pitch } = swing;
  const centreInLine = mm(swing.pivotToFront + swing.pivotToAxle);
  const centreAtRest = centreAtAngle(swing, swing.restAngle);
  const freed =
    (chainLength(sprockets, pitch, centreInLine) - chainLength(sprockets, pitch, centreAtRest)) * pitch;
  const spare = extraForSlack(straightRun(sprockets, pitch, centreInLine), leastSlack);
  // The difference of two nearly equal lengths can fall a rounding error below nothing.
  const extraChain = mm(Math.max(0, freed));
  return {
    slackAtRest: slackForExtra(straightRun(sprockets, pitch, centreAtRest), mm(extraChain + spare)),
    centreAtRest,
    centreInLine,
    extraChain,
  };
}

/**
 * Free movement that a chain of `count` unworn pitches has at `centre`.
 * @throws TradeError `chain-cannot-reach` when it is shorter than the taut length there
 */
export function slackOfChain(sprockets: Sprockets, pitch: Length, centre: Length, count: Pitches): Length {
  const taut = chainLength(sprockets, pitch, centre);
  const spare = (count - taut) * pitch;
  if (spare < 0) {
    throw new TradeError(
      'chain-cannot-reach',
      `${count} pitches are too short for a centre of ${centre.toFixed(1)} mm: that takes ${taut.toFixed(2)}. Move the axle forward or fit a longer chain.`,
    );
  }
  return slackForExtra(straightRun(sprockets, pitch, centre), mm(spare));
}

export interface TightSpot {
  readonly tightest: Length;
  /** Place in the list, counted from 1. */
  readonly tightestAt: number;
  readonly loosest: Length;
  readonly spread: Length;
}

/** The wheel position with the least slack; slack is set there, since everywhere else it is more. */
export function tightSpot(measured: readonly Length[]): TightSpot | null {
  if (measured.length === 0) return null;
  const tightest = mm(Math.min(...measured));
  const loosest = mm(Math.max(...measured));
  return { tightest, tightestAt: measured.indexOf(tightest) + 1, loosest, spread: mm(loosest - tightest) };
}
