import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { type Option, optionList, optionStyle } from '../parts/options.ts';
import { shared } from '../shared-style.ts';
import { windowList } from '../window-list.ts';
import { Resized } from './resized.ts';

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
      /* The least and the reading size at arm's length: 16 and 20 minutes of arc. */
      :host([near]) { --least: var(--near); --reading: calc(1.25 * var(--near)); }
      :host { grid-template: auto minmax(0, 1fr) auto / minmax(0, 1fr); gap: calc(1.4 * var(--u)); padding: var(--edge) calc(1.4 * var(--edge)) calc(0.8 * var(--edge)); overflow: hidden; }
      h1 { font-size: max(calc(4.4 * var(--u)), var(--reading)); line-height: 1.05; }
      header p { font-size: var(--small); color: var(--ink-2); padding-top: 0.35em; max-width: 44em; }
      .list { overflow: auto; min-height: 0; }
      footer { display: flex; flex-wrap: wrap; gap: calc(0.5 * var(--u)) calc(2.2 * var(--u)); font-size: var(--small); color: var(--ink-2); border-top: calc(0.3 * var(--u)) solid var(--rule); padding-top: calc(0.9 * var(--u)); }
      .keys span { white-space: nowrap; }
      .keys { display: flex; flex-wrap: wrap; gap: 0 calc(2.2 * var(--u)); height: 1.75em; line-height: 1.75; overflow: hidden; align-content: flex-start; }
      /* The lit line tells more; the others are one line each, so that the list is seen at a glance. */
      .list li:not(.lit) small { display: none; }
      @media (orientation: portrait) { .keys { height: auto; } .keys span:nth-child(2) { order: 1; } .keys span { white-space: normal; } }
      /* Where the lit line has no room: first without what is told besides, then without the keys, at the least type. */
      :host([data-set="lean"]) header p, :host([data-set="bare"]) header p { display: none; }
      :host([data-set="lean"]) .keys, :host([data-set="bare"]) .keys { display: none; }
      :host([data-set="bare"]) h1, :host([data-set="bare"]) .options li { font-size: var(--least); }
      :host([data-set="bare"]) .options li:not([hidden]) { display: block; padding: calc(0.2 * var(--u)) calc(0.6 * var(--u)); }
      :host([data-set="bare"]) .options small { display: none; }
      :host([data-set="bare"]) .options::before, :host([data-set="bare"]) .options::after { display: none; }
      :host([data-set="bare"]) footer:not(:has(.bad)) { display: none; }
      :host([data-set="bare"]) { padding-block: calc(0.5 * var(--edge)); overflow-wrap: anywhere; }
      .bad { color: var(--bad); font-weight: 700; font-size: var(--text); flex-basis: 100%; }
    `,
  ];

  constructor() {
    super();
    new Resized(this, () => this.#window());
    this.heading = '';
    this.lead = '';
    this.options = [];
    this.at = 0;
    this.fault = null;
  }

  override render(): TemplateResult {
    return html`<header role="none">
        <h1>${this.heading}</h1>
        ${this.lead ? html`<p>${this.lead}</p>` : nothing}
      </header>
      <div class="list" @click=${this.#click}>${optionList(this.options, this.at, this.heading)}</div>
      <footer role="none">
        ${this.fault ? html`<p class="bad" role="alert">${this.fault}</p>` : nothing}
        <p class="keys"><span><kbd>tap</kbd> next</span><span><kbd>hold down</kbd> or number: take it</span><span><kbd>Esc</kbd> back</span></p>
      </footer>`;
  }

  /** A finger on the list takes the option, for whoever has clean hands. */
  #click = (event: Event) => {
    const item = event.composedPath().find((node): node is HTMLElement => node instanceof HTMLLIElement);
    if (!item) return;
    const index = Number(item.id.slice('option-'.length));
    this.dispatchEvent(new CustomEvent<number>('taken', { detail: index }));
  };

  override updated(_changed: PropertyValues<this>): void {
    this.#window();
  }

  /** A list longer than the screen shows whole lines around the lit one, and says how many there are besides. */
  #window(): void {
    const place = this.renderRoot.querySelector<HTMLElement>('.list');
    const list = place?.querySelector<HTMLElement>('.options');
    if (!place || !list || this.clientHeight === 0) return;
    for (const set of ['', 'lean', 'bare']) {
      this.dataset.set = set;
      const fits = () => place.scrollHeight <= place.clientHeight + 1;
      windowList(list, fits);
      if (place.clientHeight > 0 && fits() && this.scrollHeight <= this.clientHeight + 1) break;
    }
  }
}

customElements.define('hf-choose', ChooseScreen);

declare global {
  interface HTMLElementTagNameMap {
    'hf-choose': ChooseScreen;
  }
}
