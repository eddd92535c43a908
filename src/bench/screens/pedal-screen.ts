import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { styleMap } from 'lit/directives/style-map.js';
import { LEARN_HOLD_MS, LEARN_TAPS, type Learning } from '../../press/learn.ts';
import { shared } from '../shared-style.ts';

/** Set-up by pressing: what the pedal should do now, how far it has come, and what was learnt of it. */
export class PedalScreen extends LitElement {
  static override properties = { learning: { attribute: false }, now: { type: Number } };
  declare learning: Learning | null;
  /** Clock of the key events, ms. */
  declare now: number;

  static override styles = [
    shared,
    css`
      :host { grid-template-rows: auto minmax(0, 1fr) auto; gap: calc(2 * var(--u)); padding: calc(1.4 * var(--edge)) calc(2 * var(--edge)) var(--edge); }
      h1 { font-size: calc(4.4 * var(--u)); }
      .ask { align-self: center; font-size: calc(8 * var(--u)); font-weight: 700; line-height: 1.1; }
      .taps { display: flex; gap: calc(2 * var(--u)); padding-top: calc(3 * var(--u)); }
      .taps i { width: calc(7 * var(--u)); height: calc(7 * var(--u)); border: calc(0.6 * var(--u)) solid var(--ink); border-radius: 50%; }
      .taps i.done { background: var(--ink); }
      .bar { height: calc(7 * var(--u)); border: calc(0.6 * var(--u)) solid var(--ink); margin-top: calc(3 * var(--u)); }
      .bar i { display: block; height: 100%; background: var(--ink); }
      .bad { color: var(--bad); }
      footer { font-size: calc(2.2 * var(--u)); color: var(--ink-2); }
    `,
  ];

  constructor() {
    super();
    this.learning = null;
    this.now = 0;
  }

  override render(): TemplateResult {
    const { learning } = this;
    if (!learning) return html`${nothing}`;
    const held = learning.downAt === null ? 0 : Math.min(1, (this.now - learning.downAt) / LEARN_HOLD_MS);
    const answer = learning.learnt?.says ?? learning.fault?.sentence ?? null;
    return html`<h1>Set up the pedal</h1>
      <div class="ask">
        <p class=${learning.step === 'cannot' ? 'bad' : ''} aria-live="polite">${answer ?? learning.asks}</p>
        ${
          learning.step === 'taps'
            ? html`<p class="taps" role="img" aria-label="${learning.taps} of ${LEARN_TAPS} taps">
                ${Array.from({ length: LEARN_TAPS }, (_, n) => html`<i class=${n < learning.taps ? 'done' : ''}></i>`)}
              </p>`
            : nothing
        }
        ${learning.step === 'hold' ? html`<p class="bar"><i style=${styleMap({ width: `${held * 100}%` })}></i></p>` : nothing}
      </div>
      <footer><kbd>Esc</kbd> ${learning.step === 'learnt' || learning.step === 'cannot' ? 'to the job shelf' : 'leave it as it is'}</footer>`;
  }
}

customElements.define('hf-pedal', PedalScreen);

declare global {
  interface HTMLElementTagNameMap {
    'hf-pedal': PedalScreen;
  }
}
