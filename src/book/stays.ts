import type { Walk } from './walk.ts';

/** How long a job took, and where. Times in ms. */
export interface Times {
  /** Station -> time spent there, all visits added up, pauses left out; in the order of the first visit. */
  readonly stations: ReadonlyMap<string, number>;
  /** From the opening to the last record. */
  readonly elapsed: number;
  readonly paused: number;
}

/**
 * Time from record to record, given to the station where the job stood. A pause counts for no station. What a job left
 * lying without a pause took is counted: the records do not say that nobody was there. A clock that was set back
 * counts as no time.
 */
export function timesOf({ start, steps }: Walk): Times {
  const stations = new Map<string, number>();
  let elapsed = 0;
  let paused = 0;
  let last = start.context.input.at;
  if (start.outcome === 'open') stations.set(start.station, 0);
  for (const { before, after, at } of steps) {
    const spent = Math.max(0, at - last);
    elapsed += spent;
    if (before.context.paused) paused += spent;
    else stations.set(before.station, (stations.get(before.station) ?? 0) + spent);
    if (after.outcome === 'open' && !stations.has(after.station)) stations.set(after.station, 0);
    last = at;
  }
  return { stations, elapsed, paused };
}
