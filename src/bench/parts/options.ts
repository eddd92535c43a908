import { css, html, nothing, type TemplateResult } from 'lit';

export interface Option {
  readonly text: string;
  readonly detail?: string;
  /** Told apart by more than colour: a word in front. */
  readonly mark?: string;
}

/** A day is not broken over two lines. */
const DAY = /(\d{4}-\d\d-\d\d)/;

/** A numbered list of which one option is lit; every list in the app looks and works the same. */
export function optionList(options: readonly Option[], at: number, label: string): TemplateResult {
  return html`<ol class="options" data-window aria-label=${label}>
    ${options.map(
      ({ text, detail, mark }, index) => html`<li
        id="option-${index}"
        aria-current=${index === at ? 'true' : nothing}
        class=${index === at ? 'lit' : ''}
      >
        <b class="number">${index + 1}</b>
        <span class="text">${mark ? html`<em>${mark}</em> ` : nothing}${text}${
          detail
            ? html`<small>${detail.split(DAY).map((part, at) => (at % 2 ? html`<i>${part}</i>` : part))}</small>`
            : nothing
        }</span>
      </li>`,
    )}
  </ol>`;
}

export const optionStyle = css`
  .options { display: grid; gap: calc(0.7 * var(--u)); align-content: start; outline: none; min-width: 0; grid-template-columns: minmax(0, 1fr); }
  .options li {
    display: grid;
    grid-template-columns: auto minmax(0, 1fr);
    gap: calc(1.4 * var(--u));
    align-items: center;
    padding: calc(0.7 * var(--u)) calc(1.4 * var(--u));
    border: max(calc(0.3 * var(--u)), 2px) solid var(--rule);
    font-size: max(calc(2.8 * var(--u)), var(--reading));
  }
  .options .number { font-family: "B612 Mono", monospace; min-width: 1.2em; text-align: center; color: var(--ink-2); }
  .options small { display: block; font-size: max(0.66em, var(--least)); color: var(--ink-2); padding-top: 0.1em; }
  .options .text { text-wrap: pretty; }
  .options small i { font-style: normal; white-space: nowrap; }
  .options em { font-style: normal; font-weight: 700; }
  .options .lit { border-color: var(--ink); background: var(--ink); color: var(--paper); }
  .options .lit .number, .options .lit small { color: inherit; }
  .options .lit .number::before { content: "▸"; }
  [data-tier="bare"] .options small { display: none; }
  [data-closeness="least"] .options li { font-size: var(--least); }
  .options::before, .options::after { font-size: var(--least); line-height: 1; color: var(--ink-2); }
  .options[data-before]:not([data-before=""])::before { content: attr(data-before); }
  .options[data-after]:not([data-after=""])::after { content: attr(data-after); }
  @media (forced-colors: active) { .options .lit { forced-color-adjust: none; border-color: Highlight; background: Highlight; color: HighlightText; } }
`;
