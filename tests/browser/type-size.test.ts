import '@fontsource/b612/latin-400.css';
import '@fontsource/b612/latin-700.css';
import '@fontsource/b612-mono/latin-700.css';
import { fixture } from '@open-wc/testing';
import { html } from 'lit';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { page } from 'vitest/browser';
import { procedures } from '../../procedures/index.ts';
import { freshConsole } from '../../src/bench/console.ts';
import { ARC_MINUTES, CAPITAL_PART, type Reading, typeSizes, UNSET } from '../../src/bench/optics.ts';
import { loadDrawings } from '../../src/bench/parts/drawing.ts';
import type { Pages } from '../../src/bench/read-on.ts';
import '../../src/bench/screens/job-screen.ts';
import type { JobScreen } from '../../src/bench/screens/job-screen.ts';
import { sizesAt, useReading } from '../../src/bench/type-tokens.ts';
import type { StationView } from '../../src/job/view.ts';
import { capitalPart, inBenchType, SCREENS, type Seen, seenIn } from './type-seen.ts';
import { viewsOf } from './type-views.ts';

beforeAll(async () => {
  await inBenchType();
  await loadDrawings();
});
afterAll(() => useReading(UNSET));

test('capitals of the type are as high as the sizes are reckoned with', () => {
  for (const weight of ['400', '700']) {
    expect(capitalPart(weight, 'B612')).toBeGreaterThanOrEqual(CAPITAL_PART);
    expect(capitalPart(weight, 'B612')).toBeLessThan(CAPITAL_PART * 1.03);
  }
});

test('until it is set, sizes are those of the unset bench', async () => {
  const box = await fixture(html`<hr />`);
  for (const [name, px] of Object.entries(typeSizes(UNSET)))
    expect(sizesAt(box)[name as 'least']).toBeCloseTo(px, 1);
});

/** Shows every page of a station and gives what is seen on each. */
async function pagesOf(job: JobScreen, view: StationView, reading: Reading): Promise<Seen[][]> {
  const seen: Seen[][] = [];
  let count = 1;
  const told = (event: Event) => {
    count = (event as CustomEvent<Pages>).detail.station;
  };
  job.addEventListener('pages', told);
  for (let at = 0; at < count; at++) {
    job.view = view;
    job.console = { ...freshConsole, page: at };
    await job.updateComplete;
    const article = job.renderRoot.querySelector('.station');
    if (!article) throw new Error('No station.');
    seen.push(seenIn(article, reading));
  }
  job.removeEventListener('pages', told);
  return seen;
}

const words = (text: string) => text.split(/\s+/).filter((word) => word !== '');
const all = (pages: Seen[][]) => words(pages.flatMap((page) => page.map(({ text }) => text)).join(' '));

const definitions = await Promise.all(procedures.map(({ load }) => load()));
const views = definitions.flatMap((definition) =>
  viewsOf(definition).map((view) => ({ id: definition.id, view })),
);

describe.each(SCREENS)('$name', ({ width, height, inch }) => {
  test.each([1000, 2000, 3000])(
    'from %i mm nothing is under 16 minutes of arc, nothing is cut off, nothing is left unsaid',
    { timeout: 600_000 },
    async (distance) => {
      await page.viewport(width, height);
      const reading = { distance, pixelsPerMm: inch / 25.4 };
      useReading(reading);
      const job = await fixture<JobScreen>(html`<hf-job
        style="position: fixed; inset: 0"
        .view=${views[1]?.view}
        .console=${freshConsole}
      ></hf-job>`);
      const faults: string[] = [];
      for (const { id, view } of views) {
        const pages = await pagesOf(job, view, reading);
        const at = `${id} ${view.station}`;
        for (const one of pages.flat()) {
          if (one.minutes < ARC_MINUTES.least - 0.05)
            faults.push(`${at}: ${one.minutes.toFixed(1)}′ ${one.text}`);
          if (one.cut) faults.push(`${at}: cut off: ${one.text}`);
        }
        const shown = all(pages);
        const said = [
          view.say,
          ...view.cautions.map(({ text }) => text),
          ...view.figures.map(({ digits }) => digits.replace(' ', '\u2009')),
        ];
        const missing = said.flatMap(words).filter((word) => !shown.includes(word));
        if (missing.length > 0) faults.push(`${at}: not shown: ${missing.join(' ')}`);
        // What opens a hold has to be in sight when it is asked for.
        const last = all(pages.slice(-1)).join(' ');
        if (view.hold && !view.hold.byFigure && !last.includes(words(view.hold.phrase).at(-1) ?? ''))
          faults.push(`${at}: the last page does not say what opens the hold`);
      }
      expect(faults).toEqual([]);
    },
  );
});
