import { TradeError } from './fault.ts';
import { type Length, mm, type Percent, type Pitches, percent, type Teeth } from './quantity.ts';

/** 100 (measured / (pitches × pitch) − 1). */
export function elongation(pitch: Length, pitches: Pitches, measured: Length): Percent {
  const found = percent(100 * (measured / (pitch * pitches) - 1));
  // A length that far off new is a miscounted pitch: one in twenty is 5 %.
  if (found < -1 || found > 12) {
    const fresh = (pitch * pitches).toFixed(1);
    throw new TradeError(
      'figures-disagree',
      `${pitches} pitches of ${pitch} mm are ${fresh} mm when new, not ${measured} mm: count the pitches and measure again.`,
    );
  }
  return found;
}

/**
 * Elongation at which a chain is renewed: 3 %, less on a large sprocket, 200/z %, since a long pitch climbs
 * the teeth. Fixed centres that cannot take up slack: 1.5 %.
 * Source: guidance of industrial chain makers that refer to ASME B29.1.
 */
export function elongationLimit(rear: Teeth | undefined, fixedCentres: boolean): Percent {
  const teeth = rear === undefined ? 3 : 200 / rear;
  return percent(Math.min(3, teeth, fixedCentres ? 1.5 : 3));
}

export type ChainVerdict = 'serviceable' | 'near limit' | 'renew';

/** Near the limit from three quarters of it (our own choice, so that a chain can be ordered in time). */
export function chainVerdict(found: Percent, limit: Percent): ChainVerdict {
  if (found >= limit) return 'renew';
  return found >= 0.75 * limit ? 'near limit' : 'serviceable';
}

/** Length at which the chain reaches its limit, over the same pitches. */
export function wornLength(pitch: Length, pitches: Pitches, limit: Percent): Length {
  return mm(pitch * pitches * (1 + limit / 100));
}
