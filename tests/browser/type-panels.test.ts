import '@fontsource/b612/latin-400.css';
import '@fontsource/b612/latin-700.css';
import '@fontsource/b612-mono/latin-700.css';
import { fixture } from '@open-wc/testing';
import { html } from 'lit';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { page } from 'vitest/browser';
import { procedures } from '../../procedures/index.ts';
import { type Console, freshConsole } from '../../src/bench/console.ts';
import { ARC_MINUTES, type Reading, UNSET } from '../../src/bench/optics.ts';
import { loadDrawings } from '../../src/bench/parts/drawing.ts';
import type { Pages } from '../../src/bench/read-on.ts';
import '../../src/bench/screens/job-screen.ts';
import type { JobScreen } from '../../src/bench/screens/job-screen.ts';
import { nextInTalk, type TalkAround } from '../../src/bench/talk.ts';
import { useReading } from '../../src/bench/type-tokens.ts';
import type { Return } from '../../src/job/return.ts';
import type { StationView } from '../../src/job/view.ts';
import { inBenchType, SCREENS, seenIn } from './type-seen.ts';
import { viewsOf } from './type-views.ts';

const definitions = await Promise.all(procedures.map(({ load }) => load()));
const views = definitions.flatMap((definition) => viewsOf(definition));

/** The view with the longest text of one sort. */
const longest = (text: (view: StationView) => string): StationView =>
  [...views].sort((a, b) => text(b).length - text(a).length)[0] as StationView;

const reasons = longest(({ why, cautions }) =>
  [why ?? '', ...cautions.map((caution) => caution.why ?? '')].join(' '),
);
const said = longest(({ say }) => say);
const formula = longest(({ result }) => result?.formula.join(' ') ?? '');
const kit = views.find((view) => view.kit?.next && view.kit.next.tools.length > 1) ?? said;
const people = [
  { id: 'a', name: 'Ada Longstaff-Merriweather', role: 'mechanic' },
  { id: 'b', name: 'Ben Ott', role: 'supervisor' },
] as const;
const visited = views.slice(0, 9).map(({ station, say }) => ({ station, say }));
const trouble = { number: 1, says: 'A figure cannot be brought within its limits', attached: 0 };
const around = (fresh: boolean): TalkAround => ({
  view: { ...said, trouble },
  people,
  worker: 'a',
  visited,
  fresh: () => fresh,
});
const HOUR = 3_600_000;
const back: Return = {
  since: Date.parse('2026-03-02T08:00:00.000Z'),
  away: 14 * HOUR,
  byItself: 'Nobody was here for 20 minutes: the bench paused the job by itself.',
  stands: said.say,
  last: { says: said.say, at: '2026-03-02T07:58:00.000Z', by: people[0].name },
  confirmed: {
    says: said.say,
    opened: 'pedal held 1.4 s',
    by: people[0].name,
    at: Date.parse('2026-03-02T07:59:00.000Z'),
    phrase: 'axle sits square',
  },
  look: ['See that nobody has moved the wheel or the stand.', 'See that the tools lie where you left them.'],
  readAgain: said.say,
};

interface Panel {
  readonly name: string;
  readonly view: StationView;
  readonly console?: Partial<Console>;
  readonly set?: Partial<Pick<JobScreen, 'talk' | 'back' | 'hint' | 'placeBefore' | 'voided'>>;
}
const talk = (what: Parameters<typeof nextInTalk>[0], fresh = true) => ({
  console: { over: 'talk' as const, talk: what, at: 2 },
  set: { talk: nextInTalk(what, around(fresh)), hint: 'Demo workshop: Nora 1111, Tomas 2222.' },
});

function asksPin(pin = ''): Pick<Panel, 'console' | 'set'> {
  const { console, set } = talk({ about: 'signOn', person: 'a' }, false);
  return { console: { ...console, pin }, set };
}

const PANELS: readonly Panel[] = [
  { name: 'why, the longest', view: reasons, console: { over: 'why' } },
  { name: 'why of a result', view: formula, console: { over: 'why' } },
  { name: 'everything that can be said', view: said, console: { over: 'words' } },
  {
    name: 'one step back?',
    view: said,
    console: { over: 'back' },
    set: { placeBefore: said.say, voided: 3 },
  },
  { name: 'reasons to stop', view: said, console: { over: 'stop', at: 2 } },
  { name: 'which tool', view: kit, console: { over: 'tools' } },
  { name: 'trouble', view: said, ...talk({ about: 'trouble' }) },
  { name: 'decision', view: { ...said, trouble }, ...talk({ about: 'decide' }) },
  { name: 'back to where', view: { ...said, trouble }, ...talk({ about: 'decide', decision: 'rework' }) },
  { name: 'PIN', view: said, ...asksPin() },
  { name: 'PIN, typed', view: said, ...asksPin('2222') },
  {
    name: 'label on no list',
    view: said,
    ...talk({ about: 'label', says: '(01)07300011000017(10)B24-7(21)0031' }),
  },
  {
    name: 'what is told on coming back',
    view: { ...said, paused: { at: 0, by: 'a' } },
    set: { back },
  },
];

beforeAll(async () => {
  await inBenchType();
  await loadDrawings();
});
afterAll(() => useReading(UNSET));

const words = (text: string) => text.split(/\s+/).filter((word) => word !== '');

test.each([
  [1280, 800],
  [800, 1280],
])(
  'a PIN is asked for on one page at %i × %i, and its signs stay as round as they were',
  async (width, height) => {
    await page.viewport(width, height);
    useReading(UNSET);
    let pages = 0;
    const { console, set } = asksPin('22');
    const job = await fixture<JobScreen>(html`<hf-job
    style="position: fixed; inset: 0"
    @pages=${(event: CustomEvent<Pages>) => {
      pages = event.detail.over;
    }}
    .view=${{ ...said }}
    .console=${{ ...freshConsole, ...console }}
    .talk=${set?.talk ?? null}
    .hint=${'Demo workshop: Nora 1111, Tomas 2222, Ilse 3333, Pia 4444.'}
  ></hf-job>`);
    await job.updateComplete;
    expect(pages).toBe(1);
    const signs = [...job.renderRoot.querySelectorAll('.dots i')].map((sign) => sign.getBoundingClientRect());
    expect(signs.map(({ width: w, height: h }) => [w, h])).toEqual(
      Array.from({ length: 4 }, () => [signs.at(-1)?.width, signs.at(-1)?.width]),
    );
  },
);

describe.each(SCREENS)('panels over the station, $name', ({ width, height, inch }) => {
  test.each([1000, 2000, 3000])('from %i mm: paged, not shrunk, and nothing cut off', async (distance) => {
    await page.viewport(width, height);
    const reading: Reading = { distance, pixelsPerMm: inch / 25.4 };
    useReading(reading);
    const job = await fixture<JobScreen>(html`<hf-job
      style="position: fixed; inset: 0"
      .view=${said}
      .console=${freshConsole}
    ></hf-job>`);
    let pages = 1;
    job.addEventListener('pages', (event) => {
      pages = (event as CustomEvent<Pages>).detail.over;
    });
    const faults: string[] = [];
    let least = Number.POSITIVE_INFINITY;
    for (const { name, view, console, set } of PANELS) {
      Object.assign(job, { talk: null, back: null, hint: null, placeBefore: null, voided: 0, ...set });
      const shown: string[] = [];
      pages = 1;
      for (let at = 0; at < pages; at++) {
        job.view = { ...view };
        job.console = { ...freshConsole, ...console, overPage: at };
        await job.updateComplete;
        const panel = job.renderRoot.querySelector('.over');
        if (!panel) throw new Error(`${name}: no panel`);
        // Close by there is room: the heading stays, and no word is cut.
        if (
          distance === 1000 &&
          (panel.hasAttribute('data-apart') || (panel as HTMLElement).dataset.set === 'break')
        )
          faults.push(`${name}: set as if there were no room`);
        for (const { text, minutes, cut } of seenIn(panel, reading)) {
          least = Math.min(least, minutes);
          if (minutes < ARC_MINUTES.least - 0.05) faults.push(`${name}: ${minutes.toFixed(1)}′ ${text}`);
          if (cut) faults.push(`${name}, page ${at + 1} of ${pages}: cut off: ${text}`);
          shown.push(text);
        }
      }
      const told = words(shown.join(' '));
      const wanted =
        name === 'why, the longest' ? words(view.why ?? '') : set?.back ? words(back.stands) : [];
      const missing = wanted.filter((word) => !told.includes(word));
      if (missing.length > 0) faults.push(`${name}: not shown: ${missing.join(' ')}`);
    }
    expect(faults).toEqual([]);
    expect(least).toBeGreaterThanOrEqual(ARC_MINUTES.least - 0.05);
  });
});
