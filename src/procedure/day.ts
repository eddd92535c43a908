/** The day of a moment in UTC, `YYYY-MM-DD`. `at` in ms since 1970; the same everywhere, whatever the local clock says. */
export function dayOf(at: number): string {
  // biome-ignore lint/style/noRestrictedGlobals: formats a moment that came in as a value; reads no clock.
  return new Date(at).toISOString().slice(0, 10);
}
