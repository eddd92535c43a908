import { beforeAll, expect, test } from 'vitest';
import finalDrive from '../../procedures/final-drive/index.ts';
import { loadDrawings } from '../../src/bench/parts/drawing.ts';
import { sizesAt, useTheme } from '../../src/bench/type-tokens.ts';
import type { StationView } from '../../src/job/view.ts';
import { makeRecord } from '../../src/journal/chain.ts';
import type { JournalRecord } from '../../src/journal/record.ts';
import { REFUSAL_CODES, refuse } from '../../src/procedure/refusal.ts';
import { article, jobScreen, type Shown, showOn, unreadable, windowOf } from './bench-sight.ts';
import { viewsOf } from './type-views.ts';

/** The longest sentence with which anything is refused, with a long phrase or name put in where it has a gap. */
const LONGEST = REFUSAL_CODES.map((code) => {
  const words = new Proxy({}, { get: () => 'rear sprocket bolts' }) as Record<string, string>;
  return refuse(code, words).sentence;
}).reduce((long, one) => (one.length > long.length ? one : long));

const record = (seq: number, outcome: JournalRecord['outcome'], sentence: string): JournalRecord =>
  ({
    ...makeRecord(null, {
      job: '0b0e4a52-1c1e-4a8e-9a55-1f2f6c0e1aff',
      at: '2026-11-25T09:00:00.000Z',
      by: 'p1',
      via: 'keys',
      event: { type: 'advance' },
      outcome,
      ...(outcome === 'refused' ? { reason: { code: 'longest', sentence } } : {}),
      station: 'protect',
    }),
    seq,
  }) as JournalRecord;

const accepted = record(1, 'accepted', '');
const refused = record(2, 'refused', LONGEST);

const longest = (views: readonly StationView[], of: (view: StationView) => number) =>
  Math.max(...views.map(of));

let views: StationView[] = [];
beforeAll(async () => {
  await loadDrawings();
  useTheme('light');
  views = viewsOf(finalDrive);
});

/** Every page of a view: what cannot be read on it, and whether the instruction is large enough. */
async function faultsOf(
  screen: Awaited<ReturnType<typeof jobScreen>>,
  view: StationView,
  shown: Shown,
  pages: number[],
) {
  const faults: string[] = [];
  const least = 0.045 * Math.min(window.innerWidth, window.innerHeight);
  for (let page = 0; ; page++) {
    await showOn(screen, view, { ...shown, console: { ...shown.console, page } });
    const found = unreadable(article(screen));
    const say = screen.renderRoot.querySelector<HTMLElement>('.say');
    const size = say ? Number.parseFloat(getComputedStyle(say).fontSize) : 0;
    if (say?.checkVisibility() && size < least) found.push(`the instruction is ${size.toFixed(0)} px`);
    faults.push(...found.map((fault) => `${view.station}, page ${page + 1}: ${fault}`));
    if (article(screen).dataset.more !== 'true') {
      pages.push(page + 1);
      return faults;
    }
    if (page > 12) return [...faults, `${view.station}: pages without end`];
  }
}

test('every station of the job is met', () => {
  expect(views.length).toBeGreaterThan(100);
  expect(longest(views, ({ say }) => say.length)).toBeGreaterThan(50);
  expect(LONGEST.length).toBeGreaterThan(80);
});

test.each([
  [1280, 800],
  [800, 1280],
])(
  '%i × %i: no text is cut off, covered or too small, at any station, also after the longest refusal',
  { timeout: 120_000 },
  async (width, height) => {
    await windowOf(width, height);
    const [first] = views;
    if (!first) throw new Error('No stations.');
    const screen = await jobScreen(first);
    expect(sizesAt(screen).reading).toBeGreaterThanOrEqual(0.045 * Math.min(width, height));
    const faults: string[] = [];
    const pages: number[] = [];
    for (const view of views) {
      const typed = view.asked ? { entry: { text: '12345.67' }, readBack: true } : {};
      faults.push(
        ...(await faultsOf(screen, { ...view, lastAccepted: accepted, lastRefused: null }, {}, pages)),
      );
      const after = { ...view, lastAccepted: accepted, lastRefused: refused };
      faults.push(...(await faultsOf(screen, after, { console: typed, listening: true }, pages)));
    }
    expect(faults).toEqual([]);
    // Cut into pages only where there is much to say: a rail that is too wide would cut everything.
    expect(Math.max(...pages)).toBeLessThanOrEqual(3);
    expect(pages.filter((count) => count === 1).length / pages.length).toBeGreaterThan(0.75);
  },
);
