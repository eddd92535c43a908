import { expect as chai } from '@open-wc/testing';
import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { loadDrawings } from '../../src/bench/parts/drawing.ts';
import { useTheme } from '../../src/bench/type-tokens.ts';
import { type StationView, viewOf } from '../../src/job/view.ts';
import { given, jobAt } from './bench-job.ts';
import { article, drawn, jobScreen, type Shown, windowOf } from './bench-sight.ts';

// Every kind of station, as a job on the sample procedure really came to it.

const PEOPLE = jobAt('kit').snapshot.context.input.people;

interface Case {
  readonly says: string;
  readonly view: () => StationView;
  readonly shown?: Shown;
}

const refusedAt = (station: string) => given(jobAt(station), { type: 'advance' });

const cases: Record<string, Case> = {
  kit: { says: 'a kit', view: () => viewOf(jobAt('kit'), 'ada') },
  lookUp: { says: 'figures to look up', view: () => viewOf(jobAt('card'), 'ada') },
  working: { says: 'a working', view: () => viewOf(jobAt('ratio'), 'ada') },
  round: { says: 'a round', view: () => viewOf(jobAt('bolts'), 'ada') },
  wait: { says: 'a wait', view: () => viewOf(jobAt('cure'), 'ada') },
  fork: { says: 'a fork', view: () => viewOf(jobAt('which'), 'ada') },
  hold: { says: 'a hold', view: () => viewOf(jobAt('clipWay'), 'ada') },
  refused: { says: 'a hold after a refusal', view: () => viewOf(refusedAt('clipWay'), 'ada') },
  witness: {
    says: 'a hold that waits for its witness',
    view: () => viewOf(jobAt('clipWay', { by: 'ben', awaiting: true }), 'ben'),
    shown: { witnesses: PEOPLE.filter(({ role }) => role !== 'apprentice') },
  },
  reading: { says: 'a reading', view: () => viewOf(jobAt('slack'), 'ada') },
  readBack: {
    says: 'a figure read back',
    view: () => viewOf(jobAt('slack'), 'ada'),
    shown: { console: { entry: { text: '35.5' }, readBack: true } },
  },
  torque: { says: 'a hold that opens for a figure', view: () => viewOf(jobAt('torque'), 'ada') },
  rework: { says: 'rework', view: () => viewOf(given(jobAt('clipWay'), { type: 'fail' }), 'ada') },
};
const named = Object.values(cases).map((one) => [one.says, one] as const);

const showCase = (name: keyof typeof cases) => {
  const one = cases[name];
  if (!one) throw new Error(name);
  return jobScreen(one.view(), one.shown);
};

/** Everything that is drawn of a kind on any of the station's pages, and the last page left on the screen. */
async function onAllPages(name: keyof typeof cases, what: string): Promise<string[]> {
  const screen = await showCase(name);
  const found = drawn(article(screen), what);
  for (let page = 1; article(screen).dataset.more === 'true'; page++) {
    screen.console = { ...screen.console, page };
    await screen.updateComplete;
    found.push(...drawn(article(screen), what));
  }
  return found;
}

beforeAll(() => loadDrawings());
beforeEach(async () => {
  useTheme('light');
  await windowOf(1280, 800);
});

describe('what stands on the screen', () => {
  test('one instruction, where we are, and what can be done now', async () => {
    for (const [says, one] of named) {
      const screen = await jobScreen(one.view(), one.shown);
      const { say } = one.view();
      expect(drawn(article(screen), '.say'), says).toHaveLength(1);
      expect(say.startsWith(drawn(article(screen), '.say')[0] ?? ' '), says).toBe(true);
      expect(article(screen).querySelector('.progress')?.getAttribute('aria-label'), says).toMatch(
        /^Station \d+ of \d+, hold points passed \d+ of \d+$/,
      );
      expect(drawn(article(screen), '.offers li kbd').length, says).toBeGreaterThan(0);
      // Where there is no room it is not drawn, but a reader of the screen still finds it.
      expect(article(screen).querySelector('h1')?.textContent, says).toContain('Machine 1');
    }
  });

  test('kit: the item to call off now is large, the others are listed, those called off are ticked', async () => {
    const screen = await jobScreen(viewOf(given(jobAt('kit'), { type: 'callOff', item: 'gloves' }), 'ada'));
    expect(drawn(article(screen), '.kit .next')).toEqual(['Torque wrench']);
    expect(drawn(article(screen), '.kit li')).toEqual(['✓ Gloves', '▸ Torque wrench', '· Four seals']);
  });

  test('a figure that is looked up says where it is read', async () => {
    expect(await onAllPages('lookUp', '.entry h2')).toEqual([
      "Sprocket bolts, from the maker's service manual",
    ]);
  });

  test('a working shows its answer in numerals', async () => {
    expect((await onAllPages('working', '.figure .digits'))[0]).toBe('3.692');
  });

  test('a round shows the ring and which fastener is next', async () => {
    const screen = await showCase('round');
    expect(article(screen).querySelector('.ring svg')?.getAttribute('aria-label')).toMatch(
      /^Pass 1 of 2, by hand\. Next is bolt 1,/,
    );
    expect(drawn(article(screen), '.ring figcaption')[0]).toMatch(/pass 1 of 2.*by hand/);
  });

  test('a wait counts down from the moment in the journal', async () => {
    const view = viewOf(jobAt('cure'), 'ada');
    const ends = view.waitEndsAt ?? 0;
    const screen = await jobScreen(view, { now: ends - 61_000 });
    expect(article(screen).dataset.more, 'on the page of the instruction').toBe('false');
    expect(drawn(article(screen), '.wait')).toEqual(['01:01']);
    screen.now = ends;
    await screen.updateComplete;
    expect(drawn(article(screen), '.wait')).toEqual(['Time is up']);
  });

  test('a fork lists its ways by number, one of them lit', async () => {
    const screen = await showCase('fork');
    expect(drawn(article(screen), '.options li')).toEqual([
      expect.stringContaining('clip link'),
      expect.stringContaining('riveted link'),
    ]);
    expect(article(screen).querySelectorAll('.options [aria-current=true]')).toHaveLength(1);
  });

  test('a reading shows the figure to hit, in its unit and beside it in the other', async () => {
    expect((await onAllPages('reading', '.figure .digits'))[0]).toMatch(/^30–40 ?mm$/);
    const torque = (await onAllPages('torque', '.figure')).join();
    expect(torque).toContain('90');
    expect(torque).toContain('N·m');
    expect(torque).toContain('66.4 ft·lbf');
  });

  test('a figure that was typed is asked back before it counts', async () => {
    expect((await onAllPages('readBack', '.entry'))[0]).toMatch(
      /35\.5.*mm.*Is that right\? Enter yes Esc no/,
    );
  });

  test('a hold says what it is and what opens it', async () => {
    expect((await onAllPages('hold', '.band h2'))[0]).toBe('Hold point');
    expect(await onAllPages('hold', '.opens')).toEqual(['Opens for a long press when open end trails.']);
    expect((await onAllPages('torque', '.entry'))[0]).toMatch(/Axle nut torque.*type it, then Enter/);
    expect((await onAllPages('witness', '.opens'))[0]).toMatch(
      /^Ben has confirmed\. A second person looks and confirms: 1 Ada ?2 Cyd$/,
    );
  });

  test('what was refused is said in words, and goes when the next input is taken', async () => {
    const refused = await showCase('refused');
    expect(drawn(article(refused), '.no')).toEqual([
      'Refused This is a hold point: check it, then say "open end trails" or hold the pedal down.',
    ]);
    expect(article(refused).querySelector('.no')?.getAttribute('role')).toBe('alert');
    const after = given(refusedAt('clipWay'), { type: 'note', says: 'Looked.' });
    const screen = await jobScreen(viewOf(after, 'ada'));
    expect(drawn(article(screen), '.no')).toEqual([]);
    expect(drawn(article(screen), '.yes')[0]).toMatch(/^✓ note: Looked\. \d\d:\d\d:\d\d$/);
  });

  test('the bar of a hold fills with the press', async () => {
    const screen = await jobScreen(viewOf(jobAt('clipWay'), 'ada'), {
      console: { press: { heldMs: 600, full: false } },
    });
    const bar = article(screen).querySelector('[role=progressbar]');
    expect(bar?.getAttribute('aria-valuenow')).toBe('50');
    screen.console = { ...screen.console, press: { heldMs: 1300, full: true } };
    await screen.updateComplete;
    expect(bar?.getAttribute('aria-valuenow')).toBe('100');
  });

  test('words that say what they do stand without a caption while it listens', async () => {
    await windowOf(1920, 1080);
    const view = viewOf(jobAt('slack'), 'ada');
    const back = async (listening: boolean) =>
      drawn(article(await jobScreen(view, { listening })), '.offers:not(.more) li').filter((offer) =>
        /^back/.test(offer),
      );
    expect(await back(false)).toEqual([expect.stringMatching(/^back ?go back$/)]);
    expect(await back(true)).toEqual([expect.stringMatching(/^back ?.?one step back.?$/)]);
  });

  test('a job that is done in another window can only be read, and says so', async () => {
    const screen = await jobScreen(viewOf(jobAt('clipWay'), 'ada'), { readOnly: true });
    expect(drawn(article(screen), '.read-only')[0]).toMatch(/^This job is being done in another window/);
    expect(drawn(article(screen), '.offers:not(.more) li')).toEqual([]);
  });
});

describe('a hold looks like nothing else', () => {
  const luminance = (colour: string): number => {
    const [r = 0, g = 0, b = 0] = (colour.match(/[\d.]+/g) ?? []).map((part) => {
      const c = Number(part) / 255;
      return c <= 0.03928 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const paper = async (name: keyof typeof cases) =>
    luminance(getComputedStyle(article(await showCase(name))).backgroundColor);

  test.each(['light', 'dark'] as const)(
    '%s: the page is turned over and framed, with a band above',
    async (theme) => {
      useTheme(theme);
      const ordinary = [await paper('reading'), await paper('kit'), await paper('rework')];
      const hold = await paper('hold');
      for (const one of ordinary) {
        const [dim, bright] = [Math.min(one, hold), Math.max(one, hold)];
        expect((bright + 0.05) / (dim + 0.05)).toBeGreaterThan(7);
      }
      const held = article(await showCase('hold'));
      const { borderTopStyle, borderTopWidth } = getComputedStyle(held);
      expect([borderTopStyle, Number.parseFloat(borderTopWidth) > 4]).toEqual(['solid', true]);
      const band = held.querySelector('.band')?.getBoundingClientRect();
      expect(band?.width).toBeGreaterThan(0.8 * window.innerWidth);
      expect(article(await showCase('reading')).querySelector('.band')).toBeNull();
    },
  );
});

describe.each(['light', 'dark'] as const)('accessible, %s', (theme) => {
  test.each(named)('%s', async (_, one) => {
    useTheme(theme);
    const screen = await jobScreen(one.view(), one.shown);
    await chai(screen).to.be.accessible();
  });

  test.each(['why', 'words', 'back', 'stop', 'note'] as const)('over the station: %s', async (over) => {
    useTheme(theme);
    const screen = await jobScreen(viewOf(jobAt('clipWay'), 'ada'), { console: { over } });
    screen.placeBefore = 'Clip link, or riveted link?';
    screen.voided = 2;
    await screen.updateComplete;
    await chai(screen).to.be.accessible();
  });
});
