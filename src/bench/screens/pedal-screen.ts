import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { defaultLayout, type Layout, withPedals } from '../../press/layout.ts';
import {
  LEARN_HOLD_MS,
  LEARN_TAPS,
  type Learning,
  learnDueAt,
  learning,
  learnStroke,
  learnTick,
} from '../../press/learn.ts';
import type { Presses } from '../../press/presses.dom.ts';
import type { Settings } from '../desk.dom.ts';
import { bar } from '../parts/bar.ts';
import { shared } from '../shared-style.ts';

/** Set-up by pressing: what the pedal should do now, how far it has come, and what was learnt of it. */
export class PedalScreen extends LitElement {
  static override properties = { presses: { attribute: false }, settings: { attribute: false } };
  declare presses: Presses | null;
  declare settings: Settings | null;
  #learning: Learning | null = null;
  #layout: Layout = defaultLayout;
  #timer = 0;

  static override styles = [
    shared,
    css`
      :host { grid-template-rows: auto minmax(0, 1fr) auto; gap: calc(2 * var(--u)); padding: calc(1.4 * var(--edge)) calc(2 * var(--edge)) var(--edge); }
      h1 { font-size: calc(4.4 * var(--u)); }
      .ask { align-self: center; font-size: calc(8 * var(--u)); font-weight: 700; line-height: 1.1; }
      .taps { display: flex; gap: calc(2 * var(--u)); padding-top: calc(3 * var(--u)); }
      .taps i { width: calc(7 * var(--u)); height: calc(7 * var(--u)); border: calc(0.6 * var(--u)) solid var(--ink); border-radius: 50%; }
      .taps i.done { background: var(--ink); }
      .bar { width: 100%; height: calc(7 * var(--u)); border: calc(0.6 * var(--u)) solid var(--ink); margin-top: calc(3 * var(--u)); }
      .bad { color: var(--bad); }
      footer { font-size: calc(2.2 * var(--u)); color: var(--ink-2); }
    `,
  ];

  constructor() {
    super();
    this.presses = null;
    this.settings = null;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    void this.#begin();
  }

  override disconnectedCallback(): void {
    this.#end();
    super.disconnectedCallback();
  }

  async #begin(): Promise<void> {
    this.#layout = (await this.settings?.layout()) ?? defaultLayout;
    if (!this.isConnected) return;
    this.#learning = learning('go', performance.now());
    this.presses?.divert((stroke) => {
      if (stroke.code === 'Escape') {
        if (stroke.phase === 'down') this.dispatchEvent(new Event('left'));
        return true;
      }
      if (this.#learning) this.#now(learnStroke(this.#learning, stroke));
      return true;
    });
    // The clock only moves the bar and ends a wait: what counts are the times of the strokes themselves.
    this.#timer = window.setInterval(() => {
      const due = this.#learning ? learnDueAt(this.#learning) : null;
      if (this.#learning && due !== null && performance.now() >= due) {
        this.#now(learnTick(this.#learning, performance.now()));
      }
      this.requestUpdate();
    }, 50);
  }

  #now(learning: Learning): void {
    this.#learning = learning;
    if (learning.learnt) {
      const layout = withPedals(this.#layout, [learning.learnt.pedal]);
      void this.settings?.keepLayout(layout);
      this.presses?.use(layout);
    }
    if (learning.learnt || learning.fault) this.#end();
    this.requestUpdate();
  }

  #end(): void {
    window.clearInterval(this.#timer);
    this.presses?.divert(null);
  }

  override render(): TemplateResult {
    const learning = this.#learning;
    if (!learning) return html`${nothing}`;
    const held =
      learning.downAt === null ? 0 : Math.min(1, (performance.now() - learning.downAt) / LEARN_HOLD_MS);
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
        ${learning.step === 'hold' ? bar(held, 'pedal held down') : nothing}
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
