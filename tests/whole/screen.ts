import type { Page } from 'playwright-core';

/** One line of a list. */
export interface Line {
  /** The number in front of it: the digit that takes it. */
  readonly number: number;
  readonly text: string;
  readonly lit: boolean;
}

/** A figure as it stands on the screen. */
export interface ShownFigure {
  readonly label: string;
  readonly digits: string;
  readonly unit: string;
}

/** What a person sees of a job. */
export interface JobSight {
  readonly station: string;
  readonly kind: string;
  readonly say: string;
  readonly hold: boolean;
  /** Text of the band over a hold, else ''. */
  readonly band: string;
  /** People who could witness, in the order of their numbers; empty while nobody is asked. */
  readonly witnesses: readonly string[];
  readonly figures: readonly ShownFigure[];
  readonly asked: { readonly label: string; readonly typed: string; readonly readBack: boolean } | null;
  readonly choices: readonly Line[];
  readonly over: { readonly title: string; readonly options: readonly Line[]; readonly text: string } | null;
  readonly accepted: string;
  readonly refused: string;
  readonly fault: string;
  readonly readOnly: string;
  /** There is another page of this station. */
  readonly more: boolean;
  readonly offers: readonly { readonly press: string; readonly does: string }[];
  readonly place: string;
}

/** What a person sees. */
export interface Sight {
  readonly screen: 'none' | 'list' | 'pin' | 'job' | 'end' | 'other';
  readonly heading: string;
  readonly options: readonly Line[];
  readonly job: JobSight | null;
  /** The end of a job: how it ended, the short code, the file saved, the hold points with what opened them. */
  readonly end: {
    readonly outcome: string;
    readonly code: string;
    readonly saved: string;
    readonly holds: readonly string[];
  } | null;
  /** All text on the screen. */
  readonly text: string;
}

/** Runs in the page, on nothing but what is drawn: elements, their text and whether they are lit. */
function readScreen(): Sight {
  const root = document.querySelector('hf-app')?.shadowRoot;
  const shown = root?.firstElementChild;
  const inside = shown?.shadowRoot ?? root;
  const textOf = (element: Element | null | undefined) =>
    // biome-ignore lint/performance/useDomNodeTextContent: what is drawn is wanted, not what is in the tree.
    element instanceof HTMLElement ? element.innerText.replace(/\s+/g, ' ').trim() : '';
  const all = (from: ParentNode | null | undefined, what: string) =>
    [...(from?.querySelectorAll(what) ?? [])].filter((element) => element.checkVisibility());
  const one = (from: ParentNode | null | undefined, what: string) => textOf(all(from, what)[0]);
  const lines = (from: ParentNode | null | undefined) =>
    all(from, '.options li').map((item) => ({
      number: Number(one(item, '.number').replace(/\D/g, '')),
      text: one(item, '.text'),
      lit: item.getAttribute('aria-current') === 'true',
    }));
  const text = textOf(shown) || [...(inside?.children ?? [])].map(textOf).join(' ');
  const name = shown?.localName ?? '';
  const station = inside?.querySelector<HTMLElement>('.station');
  const [entry] = all(station, '.entry');
  const [over] = all(station, '.over');
  const screens: Record<string, Sight['screen']> = {
    'hf-choose': 'list',
    'hf-sign-on': 'pin',
    'hf-finish': 'end',
    'hf-job': 'job',
  };
  return {
    screen: text === '' ? 'none' : (screens[name] ?? 'other'),
    heading: one(inside, 'h1'),
    options: name === 'hf-choose' ? lines(inside) : [],
    job: station
      ? {
          station: station.dataset.station ?? '',
          kind: station.dataset.kind ?? '',
          say: one(station, '.say'),
          hold: station.classList.contains('hold'),
          band: one(station, '.band'),
          witnesses: all(station, '.witness').map(textOf),
          figures: all(station, '.figure').map((figure) => {
            const unit = one(figure, '.digits .unit');
            const digits = one(figure, '.digits');
            return {
              label: one(figure, 'h2'),
              unit,
              digits: digits.slice(0, digits.length - unit.length).trim(),
            };
          }),
          asked: entry
            ? {
                label: one(entry, 'h2'),
                typed: one(entry, 'output').replace(/[_–]/, ''),
                readBack: entry.classList.contains('asking'),
              }
            : null,
          choices: over ? [] : lines(station),
          over: over ? { title: one(over, 'h2'), options: lines(over), text: textOf(over) } : null,
          accepted: one(station, '.last.yes'),
          refused: all(station, '.last .no')
            .map(textOf)
            .filter((line) => /^refused/i.test(line))
            .join(' '),
          fault: all(station, '.last .no')
            .map(textOf)
            .filter((line) => /^fault/i.test(line))
            .join(' '),
          readOnly: one(station, '.read-only'),
          more: all(station, '.offers li').some((item) => /read on/.test(textOf(item))),
          offers: all(station, '.offers li').map((item) => ({
            press: one(item, 'kbd'),
            does: one(item, 'span'),
          })),
          place: station.querySelector('.progress')?.getAttribute('aria-label') ?? '',
        }
      : null,
    end:
      name === 'hf-finish'
        ? {
            outcome: one(inside, 'h1'),
            code: one(inside, '.code'),
            saved: one(inside, '[role=status]'),
            holds: all(inside, 'tbody tr').map(textOf),
          }
        : null,
    text,
  };
}

export const look = (page: Page): Promise<Sight> => page.evaluate(readScreen);

/** Waits until the screen shows what is wanted, and returns it. @throws Error with the text on the screen */
export async function until(
  page: Page,
  what: string,
  wanted: (sight: Sight) => boolean,
  ms = 10_000,
): Promise<Sight> {
  const from = performance.now();
  for (;;) {
    const sight = await look(page);
    if (wanted(sight)) return sight;
    if (performance.now() - from > ms) throw new Error(`Not on the screen: ${what}. There is: ${sight.text}`);
    await page.waitForTimeout(25);
  }
}

/** Two frames after the last change: laid out anew, and painted. */
export const painted = (page: Page) =>
  page.evaluate(
    () =>
      new Promise<void>((done) => {
        document.fonts.ready.then(() => requestAnimationFrame(() => requestAnimationFrame(() => done())));
      }),
  );
