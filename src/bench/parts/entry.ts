import { css, html, nothing, type TemplateResult } from 'lit';
import type { Asked } from '../../job/view.ts';

/** The figure as it is typed, and the question after it was read back. */
export function entryPanel(asked: Asked, text: string, readBack: boolean): TemplateResult {
  const [tool] = asked.tools;
  const origin = asked.as === 'lookUp' ? `${asked.label}, from the maker's service manual` : asked.label;
  return html`<section data-block="lower" class="entry ${readBack ? 'asking' : ''}">
    <h2>${origin}${tool ? html`, with <b>${tool.id}</b>` : nothing}</h2>
    <p class="typed"><output aria-live="polite">${text === '' ? '–' : text}</output><span class="unit">${asked.unit}</span></p>
    <p class="ask">${
      readBack
        ? html`Is that right? <kbd>Enter</kbd> yes <kbd>Esc</kbd> no`
        : html`type it, then <kbd>Enter</kbd>`
    }</p>
  </section>`;
}

export const entryStyle = css`
  .entry { display: flex; flex-wrap: wrap; align-items: center; gap: calc(0.3 * var(--u)) calc(2 * var(--u)); padding: calc(0.7 * var(--u)) calc(1.4 * var(--u)); border: max(calc(0.4 * var(--u)), 3px) dashed var(--ink-2); font-size: var(--small); min-width: 0; }
  .entry.asking { border-style: solid; border-color: var(--ink); background: var(--paper-2); }
  .entry h2 { flex: 1 0 100%; font-size: inherit; font-weight: 400; color: var(--ink-2); }
  .typed { font-family: "B612 Mono", monospace; font-weight: 700; font-size: max(calc(5.6 * var(--u)), var(--reading)); line-height: 1; white-space: nowrap; min-width: 3.4em; }
  .typed .unit { font-size: max(0.45em, var(--least)); padding-left: 0.3em; }
  [data-tier="bare"] .typed { min-width: 0; white-space: normal; }
  [data-tier="bare"] .typed > * { display: inline-block; white-space: nowrap; }
  [data-tier="bare"] .entry h2 { display: none; }
  [data-tier="bare"] .entry .ask { display: none; }
`;
