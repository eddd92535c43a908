import { centreDistance, chainLength, straightRun } from './chain-length.ts';
import { extraForSlack } from './chain-slack.ts';
import { TradeError } from './fault.ts';
import type { Sprockets } from './gear-ratio.ts';
import { type Length, type Percent, type Pitches, percent, pitches } from './quantity.ts';

/** Where the axle can sit, as centre distances from the front sprocket's shaft. */
export interface Adjuster {
  readonly min: Length;
  readonly max: Length;
}

export interface CutRequest {
  readonly sprockets: Sprockets;
  readonly pitch: Length;
  readonly adjuster: Adjuster;
  /** Free movement of the lower run when set; 0 for a taut chain. */
  readonly slack: Length;
}

/** One length of chain and where it puts the axle. */
export interface Fit {
  readonly pitches: Pitches;
  /** Centre distance with the slack set. */
  readonly centre: Length;
  readonly fits: boolean;
  /** Share of the adjuster's travel used when the chain is new; below 0 or above 100 it does not fit. */
  readonly adjusterUsedPercent: Percent;
  /** Elongation of the chain that the rest of the travel can take up. */
  readonly wearReservePercent: Percent;
  /** An odd count closes only with a cranked link, which is weaker. */
  readonly crankedLink: boolean;
  readonly why: string;
}

export interface Cut {
  readonly chosen: Fit | null;
  readonly alternatives: readonly Fit[];
  readonly why: string;
}

function placeAxle({ sprockets, pitch, adjuster, slack }: CutRequest, count: Pitches): Fit {
  const taut = centreDistance(sprockets, pitch, count);
  const extra = extraForSlack(straightRun(sprockets, pitch, taut), slack);
  const centre = extra === 0 ? taut : centreDistance(sprockets, pitch, pitches(count - extra / pitch));
  const travel = adjuster.max - adjuster.min;
  const crankedLink = count % 2 === 1;
  const fits = centre >= adjuster.min && centre <= adjuster.max;
  const at = `${centre.toFixed(1)} mm`;
  const place = fits
    ? `axle at ${at}`
    : centre < adjuster.min
      ? `too short: the axle would sit at ${at}, ahead of the adjuster's ${adjuster.min} mm`
      : `too long: the axle would sit at ${at}, behind the adjuster's ${adjuster.max} mm`;
  return {
    pitches: count,
    centre,
    fits,
    adjusterUsedPercent: percent((100 * (centre - adjuster.min)) / travel),
    wearReservePercent: percent(100 * (chainLength(sprockets, pitch, adjuster.max) / count - 1)),
    crankedLink,
    why: crankedLink ? `${place}; needs a cranked link, which is weaker` : place,
  };
}

/**
 * Chooses how many pitches a new chain is cut to: of the even counts whose axle position lies within the
 * adjuster, the shortest, since it leaves the most travel for wear. Odd counts are only ever alternatives.
 * Source: even counts preferred and cranked links weaker, mechanical-design-handbook.blogspot.com/2011/03/;
 * the choice between even counts is our own.
 * @throws TradeError `out-of-domain` for an adjuster without travel, `sprockets-overlap`
 */
export function cutChain(request: CutRequest): Cut {
  const { sprockets, pitch, adjuster } = request;
  if (adjuster.max <= adjuster.min) {
    throw new TradeError(
      'out-of-domain',
      `"adjuster.max" must be more than "adjuster.min": give the longest and the shortest centre distance in mm.`,
    );
  }
  const from = chainLength(sprockets, pitch, adjuster.min);
  const to = chainLength(sprockets, pitch, adjuster.max);
  const first = Math.ceil(from / 2) * 2 - 2;
  const last = Math.floor(to / 2) * 2 + 2;
  const placed: Fit[] = [];
  for (let count = first; count <= last; count += 1) {
    // The even count below the range may be too short even to go round; it is then no alternative.
    if (count >= from || centreReachable(request, count)) placed.push(placeAxle(request, pitches(count)));
  }
  const even = placed.filter((one) => !one.crankedLink);
  const chosen = even.find((one) => one.fits) ?? null;
  const alternatives = placed.filter((one) => one !== chosen && (one.fits || !one.crankedLink));
  return { chosen, alternatives, why: reason(chosen, even) };
}

function centreReachable({ sprockets, pitch }: CutRequest, count: number): boolean {
  try {
    return centreDistance(sprockets, pitch, pitches(count - 0.5)) > 0;
  } catch (error) {
    if (error instanceof TradeError && error.code === 'chain-cannot-reach') return false;
    throw error;
  }
}

function reason(chosen: Fit | null, even: readonly Fit[]): string {
  if (chosen !== null) {
    const others = even.filter((one) => one.fits).length - 1;
    const reserve = chosen.wearReservePercent.toFixed(1);
    return others === 0
      ? `${chosen.pitches} is the only even count that fits; it leaves travel for ${reserve} % of wear`
      : `${chosen.pitches} is the shortest even count that fits, so it leaves the most travel for wear: ${reserve} %`;
  }
  return `No even count fits: ${even.map((one) => `${one.pitches} pitches is ${one.why}`).join('; ')}`;
}
