import { css, html, nothing, type TemplateResult } from 'lit';
import type { Asked } from '../../job/view.ts';

/** The figure as it is typed, and the question after it was read back. */
export function entryPanel(asked: Asked, text: string, readBack: boolean): TemplateResult {
  const [tool] = asked.tools;
  const origin = asked.as === 'lookUp' ? `${asked.label}, from the maker's service manual` : asked.label;
  return html`<section class="entry ${readBack ? 'asking' : ''}">
    <h2>${origin}${tool ? html`, with <b>${tool.id}</b>` : nothing}</h2>
    <p class="typed"><output aria-live="polite">${text === '' ? '_' : text}</output><span class="unit">${asked.unit}</span></p>
    <p class="ask">${
      readBack
        ? html`Is that right? <kbd>Enter</kbd> yes <kbd>Esc</kbd> no`
        : html`type it, then <kbd>Enter</kbd>`
    }</p>
  </section>`;
}

export const entryStyle = css`
  .entry { display: grid; grid-template-columns: auto 1fr; align-items: center; gap: calc(0.4 * var(--u)) calc(2 * var(--u)); padding: calc(0.7 * var(--u)) calc(1.4 * var(--u)); border: calc(0.4 * var(--u)) dashed var(--ink-2); }
  .entry.asking { border-style: solid; border-color: var(--ink); background: var(--paper-2); }
  .entry h2 { grid-column: 1 / -1; font-size: calc(1.9 * var(--u)); font-weight: 400; color: var(--ink-2); }
  .typed { font-family: "B612 Mono", monospace; font-weight: 700; font-size: calc(5.6 * var(--u)); line-height: 1; }
  .typed .unit { font-size: 0.45em; padding-left: 0.3em; }
  .ask { font-size: calc(2.4 * var(--u)); }
`;
