import { windowList } from './window-list.ts';

/**
 * What lies over the station, page by page, never set smaller than its limits. A page holds as many parts (`data-part`, or
 * the children of the text) as fit from the one where it begins; what only holds parts (`data-holds`) goes with them. A
 * list shows what lies around its lit line. Where the heading leaves no room, it is read first, on pages of its own.
 * Returns how many pages there are.
 */
export function pageOver(panel: HTMLElement, wanted: number): number {
  const text = panel.querySelector<HTMLElement>('.text');
  const heading = panel.querySelector<HTMLElement>('h2');
  if (!text || !heading) return 1;
  const over = new Over(panel, heading, text);
  return over.show(wanted);
}

/** How the panel is set: as designed; at the least type; with words cut where nothing else helps. */
const SETTINGS = ['', 'least', 'break'] as const;

/** As long as the foot gets. */
const READ_ON = 'tap: keep reading 10/10';

type Page = { readonly of: 'heading' | 'text'; readonly parts: readonly HTMLElement[] };

class Over {
  readonly #panel: HTMLElement;
  readonly #heading: HTMLElement;
  readonly #text: HTMLElement;
  readonly #parts: readonly HTMLElement[];
  readonly #list: HTMLElement | null;

  constructor(panel: HTMLElement, heading: HTMLElement, text: HTMLElement) {
    this.#panel = panel;
    this.#heading = heading;
    this.#text = text;
    this.#list = text.querySelector<HTMLElement>('[data-window]');
    const marked = [...text.querySelectorAll<HTMLElement>('[data-part]')];
    this.#parts =
      marked.length > 0 || this.#list
        ? marked
        : [...text.children].filter((child) => child instanceof HTMLElement);
  }

  show(wanted: number): number {
    const pages = this.#cut();
    const at = Math.min(wanted, pages.length - 1);
    const page = pages[at];
    const more = at < pages.length - 1 ? `tap: keep reading ${at + 1}/${pages.length}` : '';
    this.#mark(more);
    if (page) this.#put(page);
    return pages.length;
  }

  /** With the heading over every page; where one part does not fit so, with the heading on pages before the text. */
  #cut(): Page[] {
    for (const apart of [false, true]) {
      for (const setting of SETTINGS) {
        this.#panel.dataset.set = setting;
        this.#panel.toggleAttribute('data-apart', apart);
        const pages = [
          ...(apart ? this.#pagesOf('heading', this.#headingParts()) : []),
          ...this.#pagesOf('text', this.#parts),
        ];
        if (pages.every((page, at) => this.#fitsAlone(page, at === pages.length - 1))) return pages;
        if (apart && setting === 'break') return pages;
      }
    }
    return [];
  }

  #headingParts(): HTMLElement[] {
    return [...this.#heading.querySelectorAll<HTMLElement>('[data-piece]')];
  }

  #pagesOf(of: Page['of'], parts: readonly HTMLElement[]): Page[] {
    if (parts.length === 0) return [{ of, parts }];
    const pages: HTMLElement[][] = [[]];
    // The foot says that there is more on every page but the last, and then it is as high as that takes.
    this.#mark(READ_ON);
    for (const part of parts) {
      const page = pages.at(-1) ?? [];
      this.#put({ of, parts: [...page, part] });
      if (page.length === 0 || this.#fits(of)) page.push(part);
      else pages.push([part]);
    }
    const [last] = pages.slice(-1);
    this.#mark('');
    if (of === 'text' && last && last.length > 1) {
      this.#put({ of, parts: last });
      const end = this.#fits(of) ? undefined : last.pop();
      if (end) pages.push([end]);
    }
    return pages.map((page) => ({ of, parts: page }));
  }

  /** With the foot that it has: on all pages but the last that there is more. */
  #fitsAlone(page: Page, last: boolean): boolean {
    this.#mark(last ? '' : READ_ON);
    this.#put(page);
    return this.#fits(page.of);
  }

  #put({ of, parts }: Page): void {
    const apart = this.#panel.hasAttribute('data-apart');
    this.#heading.hidden = apart && of === 'text';
    this.#text.hidden = of === 'heading';
    for (const piece of this.#headingParts()) piece.hidden = of === 'heading' && !parts.includes(piece);
    for (const part of this.#parts) part.hidden = of === 'heading' || !parts.includes(part);
    for (const holder of this.#text.querySelectorAll<HTMLElement>('[data-holds]')) {
      holder.hidden = ![...holder.querySelectorAll<HTMLElement>('[data-part]')].some(({ hidden }) => !hidden);
    }
    if (of === 'text' && this.#list) windowList(this.#list, () => this.#fits('text'));
  }

  #fits(of: Page['of']): boolean {
    const box = of === 'heading' ? this.#heading : this.#text;
    const panel = this.#panel;
    // What is wider than its box is cut off at the side: a long word, an unbroken foot.
    const wide = [...panel.querySelectorAll<HTMLElement>('.text, .text *, h2, .foot')].every(
      (one) => one.hidden || one.clientWidth === 0 || one.scrollWidth <= one.clientWidth + 1,
    );
    return wide && box.scrollHeight <= box.clientHeight + 1 && panel.scrollHeight <= panel.clientHeight + 1;
  }

  #mark(more: string): void {
    this.#panel.dataset.more = more;
    // What is drawn before the foot can only take its words from the foot itself.
    const foot = this.#panel.querySelector<HTMLElement>('.foot');
    if (foot) foot.dataset.more = more;
  }
}
