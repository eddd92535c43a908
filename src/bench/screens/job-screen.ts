import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { Return } from '../../job/return.ts';
import type { StationView } from '../../job/view.ts';
import { offersAt } from '../../job/words.ts';
import type { Person } from '../../procedure/context.ts';
import type { Console } from '../console.ts';
import { fitText } from '../fit.ts';
import { cautionPanels, cautionStyle } from '../parts/cautions.ts';
import { drawing, drawingStyle } from '../parts/drawing.ts';
import { entryPanel, entryStyle } from '../parts/entry.ts';
import { figurePanel, figureStyle } from '../parts/figure.ts';
import { holdBand, holdStyle } from '../parts/hold-band.ts';
import { kitList, kitStyle } from '../parts/kit.ts';
import { lastInputs, lastStyle } from '../parts/last-inputs.ts';
import { offerStrip, offerStyle } from '../parts/offers.ts';
import { optionList, optionStyle } from '../parts/options.ts';
import { overPanel, overStyle } from '../parts/over.ts';
import { pinStyle } from '../parts/pin.ts';
import { progressRail, progressStyle } from '../parts/progress.ts';
import { returnStyle } from '../parts/return.ts';
import { ringDrawing, ringStyle } from '../parts/ring.ts';
import { waitClock, waitStyle } from '../parts/wait.ts';
import { shared } from '../shared-style.ts';
import type { TalkNext } from '../talk.ts';
import { jobStyle } from './job-style.ts';

/** One job at one station: a pure picture of the view and of what the hand has done so far. It decides nothing. */
export class JobScreen extends LitElement {
  static override properties = {
    view: { attribute: false },
    console: { attribute: false },
    witnesses: { attribute: false },
    placeBefore: { attribute: false },
    voided: { type: Number },
    now: { type: Number },
    talk: { attribute: false },
    back: { attribute: false },
    hint: { type: String },
    readOnly: { type: Boolean, attribute: 'read-only' },
    listening: { type: Boolean },
    fault: { type: String },
  };
  declare view: StationView;
  declare console: Console;
  declare witnesses: readonly Person[];
  /** What the station before is about, for the question whether to go back. */
  declare placeBefore: string | null;
  declare voided: number;
  /** Wall clock, ms since 1970: only a wait shows it. */
  declare now: number;
  /** The question of the conversation that lies over the station. */
  declare talk: TalkNext | null;
  /** What is told to a person who comes back to a paused job. */
  declare back: Return | null;
  declare hint: string | null;
  declare readOnly: boolean;
  declare listening: boolean;
  /** A sentence about a fault of the app itself, in place of the last input. */
  declare fault: string | null;

  static override styles = [
    shared,
    jobStyle,
    cautionStyle,
    drawingStyle,
    entryStyle,
    figureStyle,
    holdStyle,
    kitStyle,
    lastStyle,
    offerStyle,
    optionStyle,
    overStyle,
    pinStyle,
    progressStyle,
    returnStyle,
    ringStyle,
    waitStyle,
    css`.lower { display: grid; gap: calc(1.4 * var(--u)); align-content: start; }`,
  ];

  constructor() {
    super();
    this.witnesses = [];
    this.placeBefore = null;
    this.voided = 0;
    this.now = 0;
    this.talk = null;
    this.back = null;
    this.hint = null;
    this.readOnly = false;
    this.listening = false;
    this.fault = null;
  }

  override render(): TemplateResult {
    const { view, console } = this;
    const side = this.#side();
    return html`<article
      class="station ${view.hold ? 'hold' : ''} ${view.rework ? 'rework' : ''} ${side ? 'sided' : ''}"
      data-station=${view.station}
      data-kind=${view.kind}
      @keydown=${this.#noteKey}
    >
      <header>
        <h1><b>${view.machine}</b> ${view.title}</h1>
        ${progressRail(view.progress)}
      </header>
      ${view.hold ? holdBand(view.hold, console.press, this.witnesses, console.witness, this.listening) : nothing}
      ${cautionPanels(view.cautions)}
      <div class="body">
        <div class="main">
          ${view.rework ? html`<p class="kind">Put it right</p>` : nothing}
          <p class="say"><span>${view.say}</span></p>
          ${this.#lower()}
        </div>
        ${side ? html`<aside>${side}</aside>` : nothing}
      </div>
      <footer>
        ${lastInputs(view.lastAccepted, view.lastRefused, this.fault)}
        ${
          this.readOnly
            ? html`<p class="read-only">This job is being done in another window: here it can only be read. Hold the pedal down to go on here instead.</p>`
            : offerStrip(offersAt(view), this.listening)
        }
      </footer>
      ${overPanel(view, console, this.placeBefore, this.voided, this.talk, this.hint, this.back)}
    </article>`;
  }

  /** What the station needs besides its instruction. */
  #lower(): TemplateResult | typeof nothing {
    const { view, console } = this;
    const parts = [
      view.kit ? kitList(view.kit) : nothing,
      view.choices.length > 0
        ? optionList(
            view.choices.map(({ phrase, onCard }) => ({
              text: phrase,
              ...(onCard ? { detail: 'as the card has it' } : {}),
            })),
            console.at,
            view.say,
          )
        : nothing,
      view.asked ? entryPanel(view.asked, console.entry.text, console.readBack) : nothing,
      view.waitEndsAt === null ? nothing : waitClock(view.waitEndsAt, this.now),
      view.result?.fault ? html`<p class="fault">${view.result.fault}</p>` : nothing,
    ].filter((part) => part !== nothing);
    return parts.length > 0 ? html`<div class="lower">${parts}</div>` : nothing;
  }

  /** Figures, or the ring, or the drawing: whatever the eye goes to after the instruction. */
  #side(): TemplateResult | null {
    const { view } = this;
    if (view.round) return ringDrawing(view.round);
    const figures = [...(view.result?.answers ?? []), ...view.figures];
    const drawn = drawing(view.drawing);
    if (figures.length === 0 && drawn === nothing) return null;
    const many = figures.length > 1 || drawn !== nothing;
    return html`${
      figures.length > 0
        ? html`<div class="figures ${many ? 'many' : ''}">${figures.map(figurePanel)}</div>`
        : nothing
    }${drawn}`;
  }

  override updated(changed: PropertyValues<this>): void {
    if (changed.has('view') || changed.has('console')) this.#fit();
    if (changed.has('console') && this.console.over === 'note')
      this.renderRoot.querySelector('textarea')?.focus();
  }

  /** The note keeps its keys; Enter keeps it, Escape leaves it. */
  #noteKey = (event: KeyboardEvent) => {
    const field = event.composedPath()[0];
    if (!(field instanceof HTMLTextAreaElement)) return;
    const leaves = event.key === 'Escape';
    if (!leaves && (event.key !== 'Enter' || event.shiftKey)) return;
    event.preventDefault();
    this.dispatchEvent(new CustomEvent<string>('note', { detail: leaves ? '' : field.value }));
  };

  #fit(): void {
    const say = this.renderRoot.querySelector<HTMLElement>('.say');
    if (!say) return;
    const short = Math.min(window.innerWidth, window.innerHeight);
    fitText(say, Math.round(short * 0.045), Math.round(short * 0.13));
  }

  #onResize = () => this.#fit();

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('resize', this.#onResize);
  }

  override disconnectedCallback(): void {
    window.removeEventListener('resize', this.#onResize);
    super.disconnectedCallback();
  }
}

customElements.define('hf-job', JobScreen);

declare global {
  interface HTMLElementTagNameMap {
    'hf-job': JobScreen;
  }
}
