import { here, type JobContext, known, type WorkingResult } from '../procedure/context.ts';
import type { Station } from '../procedure/station.ts';

/** Where the axle sits between the two ends of the adjuster, all in mm from the output shaft. */
export interface AdjusterView {
  readonly min: number;
  readonly max: number;
  readonly centre: number;
}

function centreOf(result: WorkingResult | undefined): number | null {
  const centre = result?.output?.centre;
  return typeof centre === 'number' ? centre : null;
}

/**
 * The adjuster as it stands by the last working that says where the axle will sit: at that working itself, and at a
 * station that shows the result of one. Null where the ends of the adjuster are not known or nothing was worked out.
 */
export function adjusterView(context: JobContext, station: Station): AdjusterView | null {
  const { figures, results } = known(context);
  const min = figures.adjusterMin?.value;
  const max = figures.adjusterMax?.value;
  if (min === undefined || max === undefined || max <= min) return null;
  const byResult = station.shows?.some(({ amount }) => typeof amount === 'object' && 'result' in amount);
  const own = station.kind === 'working' ? centreOf(here(context)?.result) : null;
  const earlier = byResult
    ? Object.values(results)
        .map(centreOf)
        .findLast((centre) => centre !== null)
    : null;
  const centre = own ?? earlier ?? null;
  return centre === null ? null : { min, max, centre };
}
