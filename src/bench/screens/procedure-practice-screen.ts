import { css, html, LitElement, type TemplateResult } from 'lit';
import { shared } from '../shared-style.ts';

/** The frame around a practice: a band that is never to be taken for a record, and two buttons that answer for you. */
export class ProcedurePracticeScreen extends LitElement {
  static override properties = { over: { type: Boolean } };
  /** The practice has come to its end: nothing is left to answer. */
  declare over: boolean;

  static override styles = [
    shared,
    css`
      :host { grid-template: auto minmax(0, 1fr) auto / minmax(0, 1fr); overflow: hidden; }
      .band { display: flex; flex-wrap: wrap; gap: 0 0.8em; align-items: center; justify-content: center; padding: calc(0.8 * var(--u)) var(--edge); background: var(--paper); color: var(--ink); border-block: max(calc(0.5 * var(--u)), 4px) dashed var(--ink); font-size: max(calc(3 * var(--u)), var(--least)); font-weight: 700; text-align: center; }
      main { display: grid; grid-template: minmax(0, 1fr) / minmax(0, 1fr); min-height: 0; }
      ::slotted(*) { height: 100%; min-height: 0; }
      .answers { display: flex; gap: calc(1.4 * var(--u)); padding: calc(0.7 * var(--u)) var(--edge); border-top: max(calc(0.5 * var(--u)), 4px) dashed var(--ink); align-items: center; }
      button { font: inherit; font-size: var(--hand); font-weight: 700; color: var(--ink); background: var(--paper-2); border: max(calc(0.3 * var(--u)), 2px) solid var(--ink); padding: 0.3em 0.8em; cursor: pointer; white-space: nowrap; }
      button:focus-visible { outline: max(0.2em, 3px) solid var(--accent); outline-offset: 2px; }
      .answers p { font-size: var(--hand); color: var(--ink-2); }
    `,
  ];

  constructor() {
    super();
    this.over = false;
  }

  override render(): TemplateResult {
    return html`<p class="band" role="note">PRACTICE — no record is kept</p>
      <main><slot></slot></main>
      <div class="answers" ?hidden=${this.over}>
        <button type="button" @click=${() => this.#answer(true)}>Answer right <kbd>R</kbd></button>
        <button type="button" @click=${() => this.#answer(false)}>Answer wrong <kbd>X</kbd></button>
        <p>or do it yourself</p>
      </div>`;
  }

  #answer(right: boolean): void {
    if (!this.over) this.dispatchEvent(new CustomEvent<boolean>('answer', { detail: right }));
  }

  #onKey = (event: KeyboardEvent) => {
    const typing = event.composedPath()[0] instanceof HTMLTextAreaElement;
    if (typing || event.repeat || event.ctrlKey || event.altKey || event.metaKey) return;
    const key = event.key.toLowerCase();
    if (key === 'r' || key === 'x') this.#answer(key === 'r');
  };

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('keydown', this.#onKey);
  }

  override disconnectedCallback(): void {
    window.removeEventListener('keydown', this.#onKey);
    super.disconnectedCallback();
  }
}

customElements.define('hf-practice', ProcedurePracticeScreen);

declare global {
  interface HTMLElementTagNameMap {
    'hf-practice': ProcedurePracticeScreen;
  }
}
