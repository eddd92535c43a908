import { type Tier, type TypeSizes, tierFor } from './optics.ts';
import { windowList } from './window-list.ts';

/** What a part of a page is; a page is filled in this order. */
const ORDER = ['told', 'caution', 'say', 'side', 'lower'] as const;
type Kind = (typeof ORDER)[number];
type Block = HTMLElement;

/** How close the type may be set: as designed, at the size for reading, at the least. */
const CLOSENESS = ['wide', 'reading', 'least'] as const;

const kindOf = (block: Block) => block.dataset.block as Kind;
const LEANER: Readonly<Record<Tier, readonly Tier[]>> = {
  roomy: ['roomy', 'lean', 'bare'],
  lean: ['lean', 'bare'],
  bare: ['bare'],
};

/**
 * Lays a station out on the room there is: on one page with all around it; else with less around it; else cut into pages
 * that are read one after the other. Type never gets smaller than its limits: what does not fit goes to another page.
 * Shows page `wanted` (the last one when there are fewer). Returns how many pages there are.
 *
 * Works on the elements that are there: `data-block` marks what may stand on another page, `data-holds` what only holds
 * such parts and goes with them.
 */
export class Pages {
  readonly #article: HTMLElement;
  readonly #sizes: TypeSizes;

  constructor(article: HTMLElement, sizes: TypeSizes) {
    this.#article = article;
    this.#sizes = sizes;
  }

  show(wanted: number): number {
    const blocks = this.#blocks();
    const pages = this.#cut(blocks);
    const at = Math.min(wanted, pages.length - 1);
    const page = pages[at] ?? blocks;
    this.#mark(at, pages.length);
    this.#put(page);
    const fits = CLOSENESS.some((closeness) => this.#fits(closeness)) || this.#window();
    if (!fits) this.#article.dataset.break = '';
    this.#grow();
    this.#plain();
    return pages.length;
  }

  #blocks(): Block[] {
    const all = [...this.#article.querySelectorAll<Block>('[data-block]')];
    return ORDER.flatMap((kind) => all.filter((block) => kindOf(block) === kind));
  }

  #cut(blocks: Block[]): Block[][] {
    delete this.#article.dataset.break;
    for (const line of this.#article.querySelectorAll<HTMLElement>('.lower [data-window] > *'))
      line.hidden = false;
    const tiers = LEANER[tierFor(this.#article.clientHeight, this.#sizes)];
    for (const tier of tiers.slice(0, 2)) {
      this.#article.dataset.tier = tier;
      this.#mark(0, 1);
      if (this.#together(blocks)) return [blocks];
    }
    this.#mark(1, 3);
    const of = (...kinds: Kind[]) => blocks.filter((block) => kinds.includes(kindOf(block)));
    const work = of('say', 'side', 'lower');
    if (work.length > 0 && this.#together(work)) return [...this.#filled(of('told', 'caution')), work];
    const act = of('side', 'lower');
    const read = of('told', 'caution', 'say');
    if (act.length > 0 && this.#together(act)) return [...this.#filled(read), act];
    return this.#filled(blocks);
  }

  /** Pages filled one after the other. */
  #filled(blocks: readonly Block[]): Block[][] {
    const pages: Block[][] = [];
    for (const block of blocks) {
      const page = pages.at(-1);
      if (page && this.#together([...page, block])) page.push(block);
      else pages.push([block]);
    }
    return pages;
  }

  #together(blocks: readonly Block[]): boolean {
    this.#put(blocks);
    return this.#fits('wide') || this.#fits('reading');
  }

  /** A list that is longer than its page shows what lies around its lit line; the lines themselves do not shrink. */
  #window(): boolean {
    const lists = [...this.#article.querySelectorAll<HTMLElement>('.lower [data-window]')];
    const list = lists.find((one) => one.closest<HTMLElement>('[data-block]')?.hidden === false);
    if (!list) return false;
    for (const closeness of ['reading', 'least'] as const) {
      windowList(list, () => this.#fits(closeness));
      if (this.#fits(closeness)) return true;
    }
    return false;
  }

  #put(blocks: readonly Block[]): void {
    this.#article.style.removeProperty('--digits');
    const shown = new Set(blocks);
    for (const block of this.#blocks()) block.hidden = !shown.has(block);
    // From the inside out: what holds nothing that is shown takes no room either.
    const holders = [...this.#article.querySelectorAll<HTMLElement>('[data-holds]')].reverse();
    for (const holder of holders) {
      holder.hidden = ![...holder.querySelectorAll<HTMLElement>('[data-block]')].some(
        (block) => !block.hidden,
      );
    }
  }

  /** The offers of a page that is not the last one: read on. */
  #mark(at: number, pages: number): void {
    const more = at < pages - 1;
    const { dataset } = this.#article;
    dataset.more = String(more);
    for (const one of this.#article.querySelectorAll<HTMLElement>('.offers')) {
      one.hidden = one.classList.contains('more') !== more;
    }
    const place = this.#article.querySelector('.page-place');
    if (place) place.textContent = pages > 1 ? `${at + 1} of ${pages}` : '';
    this.#trim();
  }

  /** Leaves out offers that would take another line: the way on stays, then what stands next to it, then the list of all. */
  #trim(): void {
    const offers = [...this.#article.querySelectorAll<HTMLElement>('.offers')].find((one) => !one.hidden);
    if (!offers) return;
    const items = [...offers.children].filter((item) => item instanceof HTMLElement);
    for (const item of items) item.hidden = false;
    offers.classList.remove('short');
    const lines = this.#article.dataset.tier === 'roomy' ? 2 : 1;
    const line = (items[0]?.offsetHeight ?? 0) + 2;
    const room = () =>
      offers.scrollHeight <= line * lines + (lines - 1) * 16 && offers.scrollWidth <= offers.clientWidth + 1;
    const last = items.length - 1;
    const inTurn = [
      ...items.slice(2, last).reverse(),
      ...items.slice(Math.max(2, last)),
      ...items.slice(1, 2),
    ];
    for (const item of inTurn) {
      if (room()) return;
      item.hidden = true;
    }
    // Nothing but the way on is left: its key says enough, and may take two lines.
    if (!room()) offers.classList.add('short');
  }

  #fits(closeness: (typeof CLOSENESS)[number]): boolean {
    this.#article.dataset.closeness = closeness;
    return this.#fitsAt(closeness === 'least' ? this.#sizes.least : this.#sizes.reading);
  }

  #fitsAt(size: number): boolean {
    this.#article.style.setProperty('--fit', `${size}px`);
    return this.#hasRoom();
  }

  #hasRoom(): boolean {
    return [this.#article, ...this.#article.querySelectorAll<HTMLElement>('[data-room]')].every(
      (room) => room.scrollHeight <= room.clientHeight + 1 && room.scrollWidth <= room.clientWidth + 1,
    );
  }

  /** The instruction as large as the page allows; on a page without one, the figures. */
  #grow(): void {
    const { style, dataset } = this.#article;
    const size = (px: number) => style.setProperty('--fit', `${px}px`);
    const digits = (px: number) => style.setProperty('--digits', `${px}px`);
    const { least, reading, figure, most } = this.#sizes;
    style.removeProperty('--digits');
    this.#largest(size, dataset.closeness === 'least' ? least : reading, most);
    const says = [...this.#article.querySelectorAll<HTMLElement>('[data-block="say"]')].some(
      (one) => !one.hidden,
    );
    if (!says && dataset.closeness !== 'wide') {
      this.#largest(digits, dataset.closeness === 'least' ? reading : figure, 3 * figure);
    }
  }

  #largest(set: (px: number) => void, smallest: number, largest: number): void {
    let low = smallest;
    let high = largest;
    set(high);
    if (this.#hasRoom()) return;
    while (high - low > 2) {
      const middle = (low + high) / 2;
      set(middle);
      if (this.#hasRoom()) low = middle;
      else high = middle;
    }
    set(low);
  }

  /** Letters in a drawing grow and shrink with it: those that came out too small to be read are left out. */
  #plain(): void {
    for (const picture of this.#article.querySelectorAll<HTMLElement>('.picture')) {
      delete picture.dataset.plain;
      const texts = [...picture.querySelectorAll<SVGTextElement>('svg text:not(.next)')];
      const small = texts.some((text) => {
        const scale = text.getScreenCTM()?.a ?? 1;
        return Number.parseFloat(getComputedStyle(text).fontSize) * scale < this.#sizes.least - 0.5;
      });
      if (small) picture.dataset.plain = '';
    }
  }
}
