import '@fontsource/b612/latin-400.css';
import '@fontsource/b612/latin-700.css';
import { expect, test } from 'vitest';
import finalDrive from '../../procedures/final-drive/index.ts';
import { parts } from '../../seeds/parts.ts';
import type { Pages } from '../../src/bench/read-on.ts';
import type { StationView } from '../../src/job/view.ts';
import { drawn, jobScreen, unreadable, windowOf } from './bench-sight.ts';
import { viewsOf } from './type-views.ts';

const kit = viewsOf(finalDrive).find(({ station }) => station === 'kit') as StationView;
const step =
  viewsOf(finalDrive).find(({ station }) => station === 'brakeOn') ?? (viewsOf(finalDrive)[2] as StationView);
const [chain] = parts;

test.each([
  [1280, 800],
  [800, 1280],
  [1920, 1080],
])('at %i × %i the long kit list stands on one page with what is called off now', async (width, height) => {
  await windowOf(width, height);
  const screen = await jobScreen(kit);
  let pages: Pages | null = null;
  screen.addEventListener('pages', (event) => {
    pages = (event as CustomEvent<Pages>).detail;
  });
  screen.requestUpdate('view');
  await screen.updateComplete;
  expect(pages).toEqual({ station: 1, over: 1 });
  expect(drawn(screen.renderRoot, '.kit .next')).toEqual([kit.kit?.next?.calls]);
  expect(unreadable(screen.renderRoot.querySelector('.station') as HTMLElement)).toEqual([]);
});

test('a part with a label says that it can be scanned, and the label that was read stands beside it', async () => {
  await windowOf(1280, 800);
  const next = kit.kit?.next;
  if (!kit.kit || !next || !chain) throw new Error('No kit.');
  const scans = { ...kit, kit: { ...kit.kit, next: { ...next, scans: true } } };
  expect(drawn((await jobScreen(scans)).renderRoot, '.kit .scans')).toEqual([
    'Scan its label · L types it · or go on without',
  ]);
  const fit = { item: 'chain', calls: 'New chain', label: `GTIN 0${chain.code}, batch B24-7`, here: false };
  const fitted = await jobScreen({ ...step, kit: null, fit });
  expect(drawn(fitted.renderRoot, '.scans')).toEqual([
    `✓ New chain: GTIN 0${chain.code}, batch B24-7 (when laid out)`,
  ]);
  expect(unreadable(fitted.renderRoot.querySelector('.station') as HTMLElement)).toEqual([]);
});
