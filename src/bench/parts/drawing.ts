import { css, html, nothing, type TemplateResult } from 'lit';
import { unsafeHTML } from 'lit/directives/unsafe-html.js';

let drawings: ReadonlyMap<string, string> = new Map();

/** Fetches the drawings, once. A job without them still says everything: each drawing only shows what the words say. */
export async function loadDrawings(): Promise<void> {
  if (drawings.size === 0) ({ drawings } = await import('./drawings.ts'));
}

/** File names of the drawings that this app has. */
export async function drawingNames(): Promise<ReadonlySet<string>> {
  await loadDrawings();
  return new Set(drawings.keys());
}

/** A drawing of ours, set into the page so that it takes the page's colours. Its text comes from our own files only. */
export function drawing(name: string | null): TemplateResult | typeof nothing {
  const text = name === null ? undefined : drawings.get(name);
  return text === undefined
    ? nothing
    : html`<div class="drawing picture" data-block="side">${unsafeHTML(text)}</div>`;
}

/** What a drawing shows, in words: its description. */
export function drawingInWords(name: string | null): string | null {
  const text = name === null ? undefined : drawings.get(name);
  return (text && /<desc[^>]*>([^<]*)<\/desc>/.exec(text)?.[1]) ?? null;
}

export const drawingStyle = css`
  .picture { min-height: calc(26 * var(--u)); min-width: 0; }
  [data-tier="bare"] .picture { min-height: max(calc(18 * var(--u)), calc(2.7 * var(--least))); }
  /* Letters that would be too small from here are left out: the words say the same. */
  .picture[data-plain] svg text:not(.next) { display: none; }
  .drawing { display: grid; place-items: center; grid-template: minmax(0, 1fr) / minmax(0, 1fr); }
  .drawing svg { width: 100%; height: 100%; }
  @media (forced-colors: active) { .picture svg { forced-color-adjust: auto; } }
`;
