import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { HealthRow, Verdict } from '../health.ts';
import { shared } from '../shared-style.ts';
import { windowList } from '../window-list.ts';
import { Resized } from './resized.ts';

const SIGN: Readonly<Record<Verdict, { sign: string; word: string }>> = {
  good: { sign: '✓', word: 'in order' },
  look: { sign: '!', word: 'look at it' },
  bad: { sign: '✕', word: 'not in order' },
};

/** The device under the bench, part by part: how each stands, and at the one that is lit, what to do about it. */
export class HealthScreen extends LitElement {
  static override properties = {
    rows: { attribute: false },
    at: { type: Number },
    busy: { type: String },
    fault: { type: String },
  };
  declare rows: readonly HealthRow[];
  declare at: number;
  /** What is being done just now. */
  declare busy: string | null;
  declare fault: string | null;

  static override styles = [
    shared,
    css`
      :host { grid-template-rows: auto minmax(0, 1fr) auto; gap: calc(1.6 * var(--u)); padding: calc(1.4 * var(--edge)) calc(2 * var(--edge)) var(--edge); }
      /* Read at arm's length, by whoever puts it right. */
      h1 { font-size: max(calc(4 * var(--u)), var(--near)); }
      ol { overflow: hidden; display: grid; gap: calc(0.6 * var(--u)); align-content: start; }
      ol::before, ol::after { font-size: max(calc(2.2 * var(--u)), var(--near)); line-height: 1; color: var(--ink-2); }
      ol[data-before]:not([data-before=""])::before { content: attr(data-before); }
      ol[data-after]:not([data-after=""])::after { content: attr(data-after); }
      li { display: grid; grid-template-columns: calc(4 * var(--u)) minmax(0, 1fr) auto; gap: 0 calc(1.4 * var(--u)); align-items: baseline; padding: calc(0.7 * var(--u)) calc(1.4 * var(--u)); border: calc(0.3 * var(--u)) solid var(--rule); font-size: max(calc(2.7 * var(--u)), var(--near)); }
      li b { text-align: center; }
      .good b, .good .word { color: var(--good); }
      .bad b, .bad .word { color: var(--bad); font-weight: 700; }
      .look .word { font-weight: 700; }
      .lit { border-color: var(--ink); border-left-width: calc(1.4 * var(--u)); }
      .lit .name { font-weight: 700; }
      @media (forced-colors: active) { .lit { border-color: Highlight; } }
      .told { grid-column: 2 / 4; font-size: max(calc(2.6 * var(--u)), var(--near)); padding-top: calc(0.5 * var(--u)); display: grid; gap: calc(0.5 * var(--u)); overflow-wrap: anywhere; }
      .told .act { font-size: max(calc(2.3 * var(--u)), var(--near)); color: var(--ink-2); }
      footer { display: flex; flex-wrap: wrap; gap: calc(0.6 * var(--u)) calc(2.6 * var(--u)); font-size: max(calc(2 * var(--u)), var(--near)); color: var(--ink-2); border-top: calc(0.3 * var(--u)) solid var(--rule); padding-top: calc(1.2 * var(--u)); }
      footer p { flex-basis: 100%; font-size: max(calc(2.8 * var(--u)), var(--near)); font-weight: 700; color: var(--ink); }
      footer .fault { color: var(--bad); }
    `,
  ];

  constructor() {
    super();
    new Resized(this, () => this.#window());
    this.rows = [];
    this.at = 0;
    this.busy = null;
    this.fault = null;
  }

  override render(): TemplateResult {
    return html`<h1>This bench</h1>
      <ol aria-label="Parts of this bench">
        ${this.rows.map((row, index) => this.#row(row, index === this.at))}
      </ol>
      <footer role="none">
        ${this.busy ? html`<p role="status">${this.busy}</p>` : nothing}
        ${this.fault ? html`<p class="fault" role="alert">${this.fault}</p>` : nothing}
        <span><kbd>tap</kbd> next</span><span><kbd>hold down</kbd> or <kbd>Enter</kbd> do it</span><span><kbd>Esc</kbd> back</span>
      </footer>`;
  }

  #row({ part, name, verdict, says, remedy, act }: HealthRow, lit: boolean): TemplateResult {
    const { sign, word } = SIGN[verdict];
    return html`<li id=${part} class="${verdict} ${lit ? 'lit' : ''}" aria-current=${lit ? 'true' : nothing}>
      <b aria-hidden="true">${sign}</b><span class="name">${name}</span><span class="word">${word}</span>
      ${
        lit
          ? html`<div class="told"><p>${says}</p>
              ${remedy ? html`<p>${remedy}</p>` : nothing}
              ${act ? html`<p class="act"><kbd>hold down</kbd> ${act}</p>` : nothing}</div>`
          : nothing
      }
    </li>`;
  }

  override updated(_changed: PropertyValues<this>): void {
    this.#window();
  }

  /** Whole rows around the lit one, and how many there are besides: no row is cut through. */
  #window(): void {
    const list = this.renderRoot.querySelector('ol');
    if (list && list.clientHeight > 0) windowList(list, () => list.scrollHeight <= list.clientHeight + 1);
  }
}

customElements.define('hf-health', HealthScreen);

declare global {
  interface HTMLElementTagNameMap {
    'hf-health': HealthScreen;
  }
}
