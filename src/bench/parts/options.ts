import { css, html, nothing, type TemplateResult } from 'lit';

export interface Option {
  readonly text: string;
  readonly detail?: string;
  /** Told apart by more than colour: a word in front. */
  readonly mark?: string;
}

/** A numbered list of which one option is lit; every list in the app looks and works the same. */
export function optionList(options: readonly Option[], at: number, label: string): TemplateResult {
  return html`<ol class="options" aria-label=${label}>
    ${options.map(
      ({ text, detail, mark }, index) => html`<li
        id="option-${index}"
        aria-current=${index === at ? 'true' : nothing}
        class=${index === at ? 'lit' : ''}
      >
        <b class="number">${index + 1}</b>
        <span class="text">${mark ? html`<em>${mark}</em> ` : nothing}${text}${
          detail ? html`<small>${detail}</small>` : nothing
        }</span>
      </li>`,
    )}
  </ol>`;
}

export const optionStyle = css`
  .options { display: grid; gap: calc(0.8 * var(--u)); align-content: start; outline: none; }
  .options li {
    display: grid;
    grid-template-columns: auto 1fr;
    gap: calc(1.6 * var(--u));
    align-items: center;
    padding: calc(1 * var(--u)) calc(1.6 * var(--u));
    border: calc(0.3 * var(--u)) solid var(--rule);
    font-size: calc(3.2 * var(--u));
  }
  .options .number { font-family: "B612 Mono", monospace; min-width: 1.2em; text-align: center; color: var(--ink-2); }
  .options small { display: block; font-size: 0.62em; color: var(--ink-2); padding-top: 0.15em; }
  .options em { font-style: normal; font-weight: 700; }
  .options .lit { border-color: var(--ink); background: var(--ink); color: var(--paper); }
  .options .lit .number, .options .lit small { color: inherit; }
  .options .lit .number::before { content: "▸"; }
`;
