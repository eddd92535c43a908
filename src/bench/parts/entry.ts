import { css, html, nothing, type TemplateResult } from 'lit';
import type { Asked } from '../../job/view.ts';

/** The figure as it is typed, and the question after it was read back. */
export function entryPanel(asked: Asked, text: string, readBack: boolean): TemplateResult {
  const origin = asked.as === 'lookUp' ? "from the maker's service manual" : nothing;
  const tool = asked.tools[0] ? html`with ${asked.tools[0].says}` : nothing;
  return html`<section class="entry ${readBack ? 'asking' : ''}">
    <h2>${asked.label} ${origin}${tool}</h2>
    <p class="typed"><output aria-live="polite">${text === '' ? '_' : text}</output><span class="unit">${asked.unit}</span></p>
    <p class="ask">${
      readBack
        ? html`Is that right? <kbd>Enter</kbd> yes <kbd>Esc</kbd> no`
        : html`type it, then <kbd>Enter</kbd>`
    }</p>
  </section>`;
}

export const entryStyle = css`
  .entry { display: grid; gap: calc(0.6 * var(--u)); padding: calc(1.4 * var(--u)); border: calc(0.4 * var(--u)) dashed var(--ink-2); }
  .entry.asking { border-style: solid; border-color: var(--ink); background: var(--paper-2); }
  .entry h2 { font-size: calc(2.2 * var(--u)); font-weight: 400; color: var(--ink-2); }
  .typed { font-family: "B612 Mono", monospace; font-weight: 700; font-size: calc(8 * var(--u)); line-height: 1; }
  .typed .unit { font-size: 0.45em; padding-left: 0.3em; }
  .ask { font-size: calc(2.4 * var(--u)); }
`;
