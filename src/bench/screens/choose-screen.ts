import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { type Option, optionList, optionStyle } from '../parts/options.ts';
import { shared } from '../shared-style.ts';

/** A question and its numbered answers: the shelf of jobs, choosing machine and person, every set-up list. */
export class ChooseScreen extends LitElement {
  static override properties = {
    heading: { type: String },
    lead: { type: String },
    options: { attribute: false },
    at: { type: Number },
    fault: { type: String },
  };
  declare heading: string;
  declare lead: string;
  declare options: readonly Option[];
  declare at: number;
  declare fault: string | null;

  static override styles = [
    shared,
    optionStyle,
    css`
      :host { grid-template-rows: auto minmax(0, 1fr) auto; gap: calc(2 * var(--u)); padding: calc(1.4 * var(--edge)) calc(2 * var(--edge)) var(--edge); }
      h1 { font-size: calc(5.4 * var(--u)); line-height: 1.05; }
      header p { font-size: calc(2.5 * var(--u)); color: var(--ink-2); padding-top: 0.5em; max-width: 50em; }
      .list { overflow: auto; min-height: 0; padding: calc(0.4 * var(--u)) 0; }
      footer { display: flex; flex-wrap: wrap; gap: calc(0.6 * var(--u)) calc(2.6 * var(--u)); font-size: calc(2 * var(--u)); color: var(--ink-2); border-top: calc(0.3 * var(--u)) solid var(--rule); padding-top: calc(1.2 * var(--u)); }
      .bad { color: var(--bad); font-weight: 700; font-size: calc(2.8 * var(--u)); flex-basis: 100%; }
    `,
  ];

  constructor() {
    super();
    this.heading = '';
    this.lead = '';
    this.options = [];
    this.at = 0;
    this.fault = null;
  }

  override render(): TemplateResult {
    return html`<header>
        <h1>${this.heading}</h1>
        ${this.lead ? html`<p>${this.lead}</p>` : nothing}
      </header>
      <div class="list" @click=${this.#click}>${optionList(this.options, this.at, this.heading)}</div>
      <footer>
        ${this.fault ? html`<p class="bad" role="alert">${this.fault}</p>` : nothing}
        <span><kbd>tap</kbd> next</span><span><kbd>hold down</kbd> or <kbd>Enter</kbd> or the number: take it</span
        ><span><kbd>Esc</kbd> back</span>
      </footer>`;
  }

  /** A finger on the list takes the option, for whoever has clean hands. */
  #click = (event: Event) => {
    const item = event.composedPath().find((node): node is HTMLElement => node instanceof HTMLLIElement);
    if (!item) return;
    const index = Number(item.id.slice('option-'.length));
    this.dispatchEvent(new CustomEvent<number>('taken', { detail: index }));
  };

  override updated(changed: PropertyValues<this>): void {
    if (changed.has('at')) this.renderRoot.querySelector('.lit')?.scrollIntoView({ block: 'nearest' });
  }
}

customElements.define('hf-choose', ChooseScreen);

declare global {
  interface HTMLElementTagNameMap {
    'hf-choose': ChooseScreen;
  }
}
