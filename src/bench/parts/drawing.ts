import { css, html, nothing, type TemplateResult } from 'lit';
import { unsafeHTML } from 'lit/directives/unsafe-html.js';

let drawings: ReadonlyMap<string, string> = new Map();

/** Fetches the drawings, once. A job without them still says everything: each drawing only shows what the words say. */
export async function loadDrawings(): Promise<void> {
  if (drawings.size === 0) ({ drawings } = await import('./drawings.ts'));
}

/** A drawing of ours, set into the page so that it takes the page's colours. Its text comes from our own files only. */
export function drawing(name: string | null): TemplateResult | typeof nothing {
  const text = name === null ? undefined : drawings.get(name);
  return text === undefined ? nothing : html`<div class="drawing">${unsafeHTML(text)}</div>`;
}

export const drawingStyle = css`
  .drawing { display: grid; min-height: 0; place-items: center; }
  .drawing svg { width: 100%; height: 100%; max-height: calc(46 * var(--u)); }
`;
