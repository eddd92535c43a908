import { css, html, LitElement, type TemplateResult } from 'lit';
import { type Difference, GROUPS } from '../../procedure/publish/difference.ts';
import { shared } from '../shared-style.ts';
import { procedureStyle } from './procedure-sign.ts';

/** What changed between two revisions, in words, the gravest first. */
export class ProcedureChangesScreen extends LitElement {
  static override properties = {
    heading: { type: String },
    lead: { type: String },
    found: { attribute: false },
  };
  declare heading: string;
  declare lead: string;
  declare found: readonly Difference[];

  static override styles = [
    shared,
    procedureStyle,
    css`
      :host { grid-template: auto minmax(0, 1fr) auto / minmax(0, 1fr); }
      .scroll { display: grid; gap: calc(1.6 * var(--u)); align-content: start; }
      section { border-left: max(calc(0.5 * var(--u)), 4px) solid var(--rule); padding-left: calc(1.4 * var(--u)); }
      section.grave { border-left-width: max(calc(1.2 * var(--u)), 8px); border-color: var(--ink); }
      li { padding: 0.2em 0; max-width: 70em; }
      li::before { content: "– "; }
    `,
  ];

  override render(): TemplateResult {
    return html`<header role="none"><h1>${this.heading}</h1><p>${this.lead}</p></header>
      <div class="scroll" tabindex="0" role="group" aria-label="What changed, to be scrolled">
        ${this.found.length === 0 ? html`<p>Nothing: the two are the same.</p>` : ''}
        ${GROUPS.map(({ key, heading }, at) => {
          const lines = this.found.filter(({ group }) => group === key);
          return lines.length === 0
            ? ''
            : html`<section class=${at < 4 ? 'grave' : ''}><h2>${heading}</h2><ul>${lines.map(({ says }) => html`<li>${says}</li>`)}</ul></section>`;
        })}
      </div>
      <footer role="none"><span><kbd>tap</kbd> further down</span><span><kbd>Esc</kbd> back</span></footer>`;
  }

  /** Shows what lies further down (or up), by most of a page. */
  turn(by: 1 | -1): void {
    const place = this.renderRoot.querySelector('.scroll');
    place?.scrollBy({ top: by * place.clientHeight * 0.8 });
  }
}

customElements.define('hf-procedure-changes', ProcedureChangesScreen);

declare global {
  interface HTMLElementTagNameMap {
    'hf-procedure-changes': ProcedureChangesScreen;
  }
}
