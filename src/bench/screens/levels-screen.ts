import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { shopVerdict } from '../../hear/shop.ts';
import type { EarState } from '../ear-state.ts';
import { SILENT } from '../ear-state.ts';
import { earStyle, levelMeter } from '../parts/ear.ts';
import { shared } from '../shared-style.ts';
import { spokenStyle } from './spoken-style.ts';

const ASKS = {
  quiet: 'Nobody speaks. Let the shop run as it does.',
  speak: 'Now say, as you do at work: “every line unbroken”.',
} as const;

const SIGNS = { good: '✓', some: '!', poor: '✕' } as const;

/** Measures the shop: asks for quiet, then for a sentence, then says what will work by voice. */
export class LevelsScreen extends LitElement {
  static override properties = {
    step: { type: String },
    floor: { type: Number },
    ratio: { type: Number },
    told: { type: String },
    ear: { attribute: false },
    fault: { type: String },
  };
  declare step: 'quiet' | 'speak' | 'told';
  /** dBFS */
  declare floor: number | null;
  /** dB */
  declare ratio: number | null;
  declare told: string | null;
  declare ear: EarState;
  declare fault: string | null;

  static override styles = [
    shared,
    earStyle,
    spokenStyle,
    css`
      .ask { gap: calc(1.4 * var(--u)); }
      .say { font-size: max(calc(5.4 * var(--u)), var(--reading)); font-weight: 700; line-height: 1.1; text-wrap: balance; }
    `,
  ];

  constructor() {
    super();
    this.step = 'quiet';
    this.floor = null;
    this.ratio = null;
    this.told = null;
    this.ear = SILENT;
    this.fault = null;
  }

  override render(): TemplateResult {
    return html`<h1>Measure this shop</h1>
      <div class="ask">
        ${this.step === 'told' && this.ratio !== null ? this.#verdict(this.ratio) : html`<p class="say" role="status">${ASKS[this.step === 'quiet' ? 'quiet' : 'speak']}</p>`}
        <p class="ear">${levelMeter(this.ear.level)}</p>
        <p class="told">${this.told ?? nothing}</p>
      </div>
      <footer role="none">
        ${this.fault ? html`<p class="bad" role="alert">${this.fault}</p>` : nothing}
        <p class="keys"><span><kbd>tap</kbd> measure again</span><span><kbd>Esc</kbd> back</span></p>
      </footer>`;
  }

  #verdict(ratio: number): TemplateResult {
    const { stands, says, remedy } = shopVerdict(ratio);
    const floor = this.floor === null ? '' : `, over a shop ${Math.round(-this.floor)} dB below full scale`;
    return html`<p class="say" role="status">${SIGNS[stands]} ${says}</p>
      <p class="told">Your voice stands ${Math.round(ratio)} dB over the noise${floor}.</p>
      ${remedy ? html`<p class="told">${remedy}</p>` : nothing}`;
  }
}

customElements.define('hf-levels', LevelsScreen);

declare global {
  interface HTMLElementTagNameMap {
    'hf-levels': LevelsScreen;
  }
}
