/** Where a reader of the book is. */
export type Page =
  | { readonly at: 'jobs' | 'rates' | 'bundle' | 'log' | 'verify' }
  | { readonly at: 'record'; readonly job: string; readonly as: 'report' | 'story' | 'table' }
  | { readonly at: 'compare'; readonly a: string; readonly b: string };

/** The way there: the last page is the one that is shown. Never empty. */
export type Way = readonly [Page, ...Page[]];

export const firstPage: Way = [{ at: 'jobs' }];

export const pageOf = (way: Way): Page => way[way.length - 1] ?? way[0];

/** Turns to a page. Another view of the same record takes the place of the one before; the chapters lead nowhere back. */
export function turned(way: Way, to: Page): Way {
  const now = pageOf(way);
  const same = now.at === 'record' && to.at === 'record' && now.job === to.job;
  if (same) return [...way.slice(0, -1), to] as unknown as Way;
  if (to.at === 'record' || to.at === 'compare') return [...way, to] as unknown as Way;
  return [to];
}

/** One page back, or null at the first: the reader leaves the book. */
export function back(way: Way): Way | null {
  if (way.length > 1) return way.slice(0, -1) as unknown as Way;
  return way[0].at === 'jobs' ? null : firstPage;
}

/** Two records picked to be compared: a third takes the place of the first. */
export function picked(picks: readonly string[], job: string): readonly string[] {
  return picks.includes(job) ? picks.filter((one) => one !== job) : [...picks, job].slice(-2);
}
