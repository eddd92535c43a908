import { css, html, nothing, type TemplateResult } from 'lit';
import { unsafeHTML } from 'lit/directives/unsafe-html.js';

const files = import.meta.glob<string>('/assets/drawings/*.svg', {
  query: '?raw',
  import: 'default',
  eager: true,
});
const drawings = new Map(Object.entries(files).map(([path, text]) => [path.split('/').at(-1) ?? path, text]));

/** A drawing of ours, set into the page so that it takes the page's colours. Its text comes from our own files only. */
export function drawing(name: string | null): TemplateResult | typeof nothing {
  const text = name === null ? undefined : drawings.get(name);
  return text === undefined ? nothing : html`<div class="drawing">${unsafeHTML(text)}</div>`;
}

export const drawingStyle = css`
  .drawing { display: grid; min-height: 0; place-items: center; }
  .drawing svg { width: 100%; height: 100%; max-height: calc(46 * var(--u)); }
`;
