import { css, html, LitElement, svg, type TemplateResult } from 'lit';
import { CARD } from '../optics.ts';
import { shared } from '../shared-style.ts';

/** The outline of a card, to be made as wide as the card that is held to the screen. */
export class ReadingScreen extends LitElement {
  static override properties = { width: { type: Number }, fault: { type: String } };
  /** Width of the outline, px. */
  declare width: number;
  declare fault: string | null;

  static override styles = [
    shared,
    css`
      :host { grid-template: auto minmax(0, 1fr) auto / minmax(0, 1fr); gap: calc(1.6 * var(--u)); padding: calc(1.2 * var(--edge)) calc(1.4 * var(--edge)) var(--edge); }
      h1 { font-size: max(calc(3.6 * var(--u)), var(--near)); line-height: 1.1; }
      header p { font-size: max(calc(2.2 * var(--u)), var(--near)); color: var(--ink-2); padding-top: 0.4em; max-width: 44em; }
      .place { overflow: hidden; display: grid; place-items: center; min-height: 0; }
      svg { display: block; }
      footer { display: flex; flex-wrap: wrap; gap: calc(0.6 * var(--u)) calc(2.4 * var(--u)); font-size: max(calc(2 * var(--u)), var(--near)); color: var(--ink-2); border-top: calc(0.3 * var(--u)) solid var(--rule); padding-top: calc(1 * var(--u)); }
    `,
  ];

  constructor() {
    super();
    this.width = 0;
    this.fault = null;
  }

  override render(): TemplateResult {
    const height = (this.width * CARD.height) / CARD.width;
    return html`<header role="none">
        <h1>Hold a bank card to the screen. Make the outline as wide as the card.</h1>
        <p>Any card of the usual size will do: driving licence, badge, bank card. ISO/IEC 7810 makes it 85.60 mm wide. From it the bench knows how large a letter really is.</p>
      </header>
      <div class="place">
        <svg role="img" aria-label="Outline of a card" width=${this.width.toFixed(1)} height=${height.toFixed(1)}>
          ${svg`<rect x="1.5" y="1.5" width=${Math.max(0, this.width - 3)} height=${Math.max(0, height - 3)} rx=${this.width * 0.037} fill="none" stroke="currentColor" stroke-width="3" />
            <path d=${`M1.5 ${height / 2}H${this.width * 0.16}M${this.width - 1.5} ${height / 2}H${this.width * 0.84}`} stroke="currentColor" stroke-width="3" />`}
        </svg>
      </div>
      <footer role="none">
        <span><kbd>tap</kbd> or <kbd>→</kbd> wider</span><span><kbd>back</kbd> or <kbd>←</kbd> narrower</span><span><kbd>hold down</kbd> or <kbd>Enter</kbd> it fits</span><span><kbd>Esc</kbd> leave it</span>
      </footer>`;
  }
}

customElements.define('hf-reading', ReadingScreen);

declare global {
  interface HTMLElementTagNameMap {
    'hf-reading': ReadingScreen;
  }
}
