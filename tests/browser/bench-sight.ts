import { fixture, html } from '@open-wc/testing';
import { page } from 'vitest/browser';
import { type Console, freshConsole } from '../../src/bench/console.ts';
import { SILENT } from '../../src/bench/ear-state.ts';
import '../../src/bench/page.css';
import '../../src/bench/screens/job-screen.ts';
import type { JobScreen } from '../../src/bench/screens/job-screen.ts';
import type { StationView } from '../../src/job/view.ts';
import type { Person } from '../../src/procedure/context.ts';

/** A window of this size, with the type of the bench loaded. */
export async function windowOf(width: number, height: number): Promise<void> {
  await page.viewport(width, height);
  await Promise.all(
    ['400 20px "B612"', '700 20px "B612"', '700 20px "B612 Mono"'].map((font) => document.fonts.load(font)),
  );
}

export interface Shown {
  readonly console?: Partial<Console>;
  readonly witnesses?: readonly Person[];
  readonly readOnly?: boolean;
  readonly listening?: boolean;
  readonly fault?: string;
  readonly now?: number;
}

/** A job's screen over the whole window. */
export async function jobScreen(view: StationView, shown: Shown = {}): Promise<JobScreen> {
  const holder = await fixture<HTMLElement>(
    html`<div class="whole"><hf-job .view=${view} .console=${freshConsole}></hf-job></div>`,
  );
  Object.assign(holder.style, { position: 'fixed', inset: '0' });
  const screen = holder.querySelector('hf-job');
  if (!screen) throw new Error('No screen.');
  await showOn(screen, view, shown);
  return screen;
}

/** Shows another view on the same screen. */
export async function showOn(screen: JobScreen, view: StationView, shown: Shown = {}): Promise<void> {
  screen.view = view;
  screen.console = { ...freshConsole, ...shown.console };
  screen.witnesses = shown.witnesses ?? [];
  screen.readOnly = shown.readOnly ?? false;
  screen.ear = { ...SILENT, on: shown.listening ?? false };
  screen.fault = shown.fault ?? null;
  screen.now = shown.now ?? 0;
  screen.requestUpdate('view');
  await screen.updateComplete;
}

export const article = (screen: JobScreen): HTMLElement => {
  const found = screen.renderRoot.querySelector<HTMLElement>('.station');
  if (!found) throw new Error('No station.');
  return found;
};

/** Text that is really drawn: of elements that are not hidden, without runs of space. */
export function drawn(root: ParentNode, what: string): string[] {
  return [...root.querySelectorAll<HTMLElement>(what)]
    .filter((element) => element.checkVisibility())
    .map((element) => element.textContent.replace(/\s+/g, ' ').trim());
}

interface Piece {
  readonly text: string;
  readonly box: DOMRect;
  readonly in: Element;
}

/** Every line of text that is drawn under an element, with its box. */
function pieces(root: Element): Piece[] {
  const found: Piece[] = [];
  const walker = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const { parentElement } = node;
    const text = node.textContent?.trim() ?? '';
    if (!parentElement || text === '' || !parentElement.checkVisibility()) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const box of range.getClientRects()) {
      if (box.width > 0 && box.height > 0) found.push({ text, box, in: parentElement });
    }
  }
  return found;
}

/** A glyph's box is higher than its line: that much may stand over without being cut. */
const EDGE = 0.22;

const sides = ({ left, top, right, bottom }: DOMRect, slack: number) => ({
  left: left + 1,
  top: top + slack,
  right: right - 1,
  bottom: bottom - slack,
});

const within = (box: DOMRect, room: DOMRect): boolean => {
  const part = sides(box, box.height * EDGE);
  return (
    part.left >= room.left - 1 &&
    part.right <= room.right + 1 &&
    part.top >= room.top - 1 &&
    part.bottom <= room.bottom + 1
  );
};

const clips = (element: Element): boolean => {
  const { overflowX, overflowY } = getComputedStyle(element);
  return overflowX !== 'visible' || overflowY !== 'visible';
};

/** What a reader could not read: text outside the window, cut off by what holds it, or over other text. */
export function unreadable(root: Element): string[] {
  // What does not fit beside the machine's name is put out of sight as a whole, on purpose.
  const putAway = (element: Element) => element.matches('header h1 span');
  const window_ = new DOMRect(0, 0, window.innerWidth, window.innerHeight);
  const all = pieces(root).filter((piece) => !putAway(piece.in));
  const bad: string[] = [];
  for (const { text, box, in: element } of all) {
    if (!within(box, window_)) bad.push(`outside the window: ${text}`);
    for (let holder: Element | null = element; holder && holder !== root; holder = holder.parentElement) {
      if (clips(holder) && !within(box, holder.getBoundingClientRect())) {
        bad.push(`cut off by .${holder.className || holder.localName}: ${text}`);
        break;
      }
    }
  }
  for (const [at, one] of all.entries()) {
    const a = sides(one.box, one.box.height * EDGE);
    for (const other of all.slice(at + 1)) {
      if (other.in === one.in) continue;
      const b = sides(other.box, other.box.height * EDGE);
      const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left);
      const high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
      if (wide > 2 && high > 2) bad.push(`over one another: ${one.text} / ${other.text}`);
    }
  }
  return [...new Set(bad)];
}
