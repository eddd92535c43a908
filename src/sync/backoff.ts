/** Shortest and longest pause after a failed round, ms. */
export const FIRST_PAUSE_MS = 2_000;
export const LONGEST_PAUSE_MS = 5 * 60_000;
/** Pause after a round that went well, ms: how soon the office hears of new records. */
export const REST_MS = 5_000;

/**
 * How long to wait after so many failures in a row: a share, drawn anew each time, of a span that doubles, so that benches
 * that lost the office together do not come back together. What the office asks for is the least.
 * @param chance from 0 to below 1
 * @param asked what the office asked for (Retry-After), ms
 */
export function pauseAfter(failures: number, chance: number, asked = 0): number {
  if (failures <= 0) return Math.max(REST_MS, asked);
  const span = Math.min(LONGEST_PAUSE_MS, FIRST_PAUSE_MS * 2 ** Math.min(failures - 1, 20));
  return Math.max(asked, Math.round(span / 2 + (span / 2) * chance));
}
