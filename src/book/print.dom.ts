import type { Report } from './report.ts';

/** A frame is kept this long when the browser does not say that printing is over, ms. */
const LONGEST = 10 * 60_000;

/** Puts a report into a document of its own: no script runs in it, and its style comes as a sheet, never inline. */
export function fillWith({ title, css, body }: Report, frame: HTMLIFrameElement): Window | null {
  const { contentDocument: inner, contentWindow: view } = frame;
  if (!inner || !view) return null;
  const sheet = new (view as Window & typeof globalThis).CSSStyleSheet();
  sheet.replaceSync(`body { margin: 0; }${css}`);
  inner.adoptedStyleSheets = [sheet];
  inner.title = title;
  inner.documentElement.lang = 'en';
  inner.body.replaceChildren(...new DOMParser().parseFromString(body, 'text/html').body.childNodes);
  return view;
}

/** Prints a report. It is laid out in a hidden frame, so that nothing of the screen gets onto the paper. */
export async function printReport(report: Report): Promise<void> {
  const frame = document.createElement('iframe');
  frame.title = report.title;
  frame.setAttribute('aria-hidden', 'true');
  // Laid out, though not seen: a frame that is not displayed prints as nothing.
  Object.assign(frame.style, {
    position: 'fixed',
    right: '100%',
    width: '210mm',
    height: '297mm',
    border: '0',
  });
  document.body.append(frame);
  const view = fillWith(report, frame);
  if (!view)
    throw new Error('The browser gives no page to print on: save the report as a page and print that.');
  await Promise.all([...view.document.images].map((image) => image.decode().catch(() => undefined)));
  view.addEventListener('afterprint', () => setTimeout(() => frame.remove()));
  setTimeout(() => frame.remove(), LONGEST);
  view.focus();
  view.print();
}
