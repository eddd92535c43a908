import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { defaultLayout, type Pedal, type Role, withPedals } from '../../press/layout.ts';
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

const ORDER: readonly Role[] = ['go', 'back', 'aside'];
const CALLED: Readonly<Record<Role, string>> = {
  go: 'the pedal',
  back: 'the left pedal: back',
  aside: 'the middle pedal: pause',
};

/** Set-up by pressing: what the pedal should do now, how far it has come, and what was learnt of it. */
export class PedalScreen extends LitElement {
  static override properties = { presses: { attribute: false }, settings: { attribute: false } };
  declare presses: Presses | null;
  declare settings: Settings | null;
  #learning: Learning | null = null;
  #pedals: readonly Pedal[] = [];
  /** The pedals of this set-up so far: go first, then back and aside for whoever has three. */
  #learnt: Pedal[] = [];
  #timer = 0;

  static override styles = [
    shared,
    css`
      :host { grid-template-rows: auto minmax(0, 1fr) auto; gap: calc(2 * var(--u)); padding: var(--edge) calc(1.6 * var(--edge)); }
      /* Read from where the foot is on the pedal; what was learnt is read at leisure, close by. */
      h1 { font-size: max(calc(3.4 * var(--u)), var(--near)); line-height: 1; }
      .ask { align-self: center; font-size: max(calc(6.4 * var(--u)), var(--reading)); font-weight: 700; line-height: 1.1; text-wrap: balance; }
      .ask .told { font-size: max(calc(5 * var(--u)), var(--near)); }
      .taps { display: flex; gap: calc(2 * var(--u)); padding-top: calc(2 * var(--u)); }
      .taps i { width: calc(7 * var(--u)); height: calc(7 * var(--u)); border: calc(0.6 * var(--u)) solid var(--ink); border-radius: 50%; }
      .taps i.done { background: var(--ink); }
      .bar { width: 100%; height: calc(7 * var(--u)); border: calc(0.6 * var(--u)) solid var(--ink); margin-top: calc(2 * var(--u)); }
      .bad { color: var(--bad); }
      footer { font-size: max(calc(2.2 * var(--u)), var(--near)); color: var(--ink-2); }
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
    this.#pedals = (await this.settings?.pedals()) ?? [];
    if (!this.isConnected) return;
    this.#ask('go');
  }

  /** After one pedal was learnt: the next one, for whoever has three. */
  more(): void {
    const next = ORDER[this.#learnt.length];
    if (next && this.#learning?.step === 'learnt') this.#ask(next);
  }

  #ask(role: Role): void {
    this.#learning = learning(
      role,
      performance.now(),
      this.#learnt.map(({ code }) => code),
    );
    this.presses?.divert((stroke) => {
      if (stroke.code === 'Escape') {
        if (stroke.phase === 'down') this.dispatchEvent(new Event('left'));
        return true;
      }
      if (this.#learning) this.#now(learnStroke(this.#learning, stroke));
      return this.#learning?.step !== 'cannot';
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
      const { pedal } = learning.learnt;
      this.#learnt.push(pedal);
      const others = this.#pedals.filter(({ code, role }) => code !== pedal.code && role !== pedal.role);
      this.#pedals = [...others, pedal];
      void this.settings?.keepPedals(this.#pedals);
      this.presses?.use(withPedals(defaultLayout, this.#pedals));
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
    return html`<h1>Set up ${CALLED[learning.role]}</h1>
      <div class="ask">
        <p class="${answer === null ? '' : 'told'} ${learning.step === 'cannot' ? 'bad' : ''}" aria-live="polite">${answer ?? learning.asks}</p>
        ${
          learning.step === 'taps'
            ? html`<p class="taps" role="img" aria-label="${learning.taps} of ${LEARN_TAPS} taps">
                ${Array.from({ length: LEARN_TAPS }, (_, n) => html`<i class=${n < learning.taps ? 'done' : ''}></i>`)}
              </p>`
            : nothing
        }
        ${learning.step === 'hold' ? bar(held, 'pedal held down') : nothing}
      </div>
      <footer role="none">${learning.step === 'learnt' && ORDER[this.#learnt.length] ? html`<kbd>Enter</kbd> set up another pedal · ` : nothing}<kbd>Esc</kbd> ${learning.step === 'learnt' || learning.step === 'cannot' ? 'to the job shelf' : 'leave it as it is'}</footer>`;
  }
}

customElements.define('hf-pedal', PedalScreen);

declare global {
  interface HTMLElementTagNameMap {
    'hf-pedal': PedalScreen;
  }
}
