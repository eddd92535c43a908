import { windowList } from './window-list.ts';

/**
 * What lies over the station, page by page: its parts (`data-part`, or the children of its text) as many as fit from the
 * one where the page begins. A list shows what lies around its lit line instead. Returns how many pages there are.
 */
export function pageOver(panel: HTMLElement, wanted: number): number {
  const text = panel.querySelector<HTMLElement>('.text');
  if (!text) return 1;
  const fits = () => text.scrollHeight <= text.clientHeight + 1;
  const list = text.querySelector<HTMLElement>('[data-window]');
  if (list) {
    windowList(list, fits);
    return 1;
  }
  const parts = partsOf(text);
  const show = (page: readonly HTMLElement[]) => {
    for (const part of parts) part.hidden = !page.includes(part);
  };
  const pages: HTMLElement[][] = [[]];
  for (const part of parts) {
    const page = pages.at(-1) ?? [];
    show([...page, part]);
    if (page.length === 0 || fits()) page.push(part);
    else pages.push([part]);
  }
  const at = Math.min(wanted, pages.length - 1);
  show(pages[at] ?? parts);
  const more = at < pages.length - 1 ? `tap to read on: ${at + 1} of ${pages.length}` : '';
  panel.dataset.more = more;
  // What is drawn before the foot can only take its words from the foot itself.
  const foot = panel.querySelector<HTMLElement>('.foot');
  if (foot) foot.dataset.more = more;
  return pages.length;
}

function partsOf(text: HTMLElement): HTMLElement[] {
  const marked = [...text.querySelectorAll<HTMLElement>('[data-part]')];
  return marked.length > 0 ? marked : [...text.children].filter((child) => child instanceof HTMLElement);
}
