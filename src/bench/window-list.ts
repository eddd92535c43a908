/**
 * Shows of a list only as many lines as there is room for: the lit one, then those after it and before it in turn.
 * `fits` says whether what is shown fits. Says on the list how many are not shown.
 */
export function windowList(list: HTMLElement, fits: () => boolean): void {
  const items = [...list.children].filter((item) => item instanceof HTMLElement);
  const show = (from: number, to: number) => {
    for (const [index, item] of items.entries()) item.hidden = index < from || index > to;
    list.dataset.before = from > 0 ? `▴ ${from} more` : '';
    list.dataset.after = to < items.length - 1 ? `▾ ${items.length - 1 - to} more` : '';
  };
  const last = items.length - 1;
  show(0, last);
  if (items.length === 0 || fits()) return;
  const lit = Math.max(
    0,
    items.findIndex((item) => item.matches('.lit, .now')),
  );
  // The first line stays in sight beside the second: it is where a list begins.
  let from = lit === 1 ? 0 : lit;
  let to = lit;
  show(from, to);
  if (!fits()) from = lit;
  show(from, to);
  for (let grown = true; grown; ) {
    grown = false;
    for (const [first, end] of [
      [from, to + 1],
      [from - 1, to],
    ] as const) {
      if (first < 0 || end > last) continue;
      show(first, end);
      if (!fits()) continue;
      from = first;
      to = end;
      grown = true;
    }
    show(from, to);
  }
}
