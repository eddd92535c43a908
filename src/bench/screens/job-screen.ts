import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { Return } from '../../job/return.ts';
import type { StationView } from '../../job/view.ts';
import { offersAt } from '../../job/words.ts';
import type { Person } from '../../procedure/context.ts';
import { breaths } from '../breaths.ts';
import type { Console } from '../console.ts';
import { type EarState, SILENT } from '../ear-state.ts';
import { pageOver } from '../page-over.ts';
import { Pages } from '../pages.ts';
import { adjusterDrawing, adjusterStyle } from '../parts/adjuster.ts';
import { cautionPanels, cautionStyle } from '../parts/cautions.ts';
import { drawing, drawingStyle } from '../parts/drawing.ts';
import { earStrip, earStyle, notePanel } from '../parts/ear.ts';
import { entryPanel, entryStyle } from '../parts/entry.ts';
import { figurePanel, figureStyle } from '../parts/figure.ts';
import { holdBand, holdOpens, holdStyle } from '../parts/hold-band.ts';
import { fitPanel, kitList, kitStyle } from '../parts/kit.ts';
import { lastAccepted, lastStyle, refusal } from '../parts/last-inputs.ts';
import { offerStrip, offerStyle } from '../parts/offers.ts';
import { optionList, optionStyle } from '../parts/options.ts';
import { overPanel, overStyle } from '../parts/over.ts';
import { pinStyle } from '../parts/pin.ts';
import { progressRail, progressStyle } from '../parts/progress.ts';
import { returnStyle } from '../parts/return.ts';
import { ringDrawing, ringStyle } from '../parts/ring.ts';
import { waitClock, waitStyle } from '../parts/wait.ts';
import type { Pages as PageCount } from '../read-on.ts';
import { shared } from '../shared-style.ts';
import type { TalkNext } from '../talk.ts';
import { sizesAt } from '../type-tokens.ts';
import { jobStyle } from './job-style.ts';
import { Resized } from './resized.ts';

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
    dark: { type: Boolean },
    ear: { attribute: false },
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
  /** The device no longer promises to keep its screen on. */
  declare dark: boolean;
  declare ear: EarState;
  /** A sentence about a fault of the app itself, in place of the last input. */
  declare fault: string | null;

  static override styles = [
    shared,
    adjusterStyle,
    jobStyle,
    cautionStyle,
    drawingStyle,
    earStyle,
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
  ];

  constructor() {
    super();
    new Resized(this, () => this.requestUpdate('view'));
    this.witnesses = [];
    this.placeBefore = null;
    this.voided = 0;
    this.now = 0;
    this.talk = null;
    this.back = null;
    this.hint = null;
    this.readOnly = false;
    this.dark = false;
    this.ear = SILENT;
    this.fault = null;
  }

  override render(): TemplateResult {
    const { view, console } = this;
    const side = this.#side();
    return html`<article
      class="station ${view.hold ? 'hold' : ''} ${view.rework ? 'rework' : ''}"
      data-station=${view.station}
      data-kind=${view.kind}
      @keydown=${this.#noteKey}
    >
      <header>
        <h1><i></i><span class="machine">${view.machine}</span>${this.dark ? html`<span class="dark">Screen may go dark</span>` : nothing}<span>${view.title}</span></h1>
        ${progressRail(view.progress)}
      </header>
      ${view.hold ? holdBand(view.hold, console.press) : nothing}
      ${refusal(view.lastAccepted, view.lastRefused, this.fault)}
      ${this.readOnly ? html`<p class="told read-only" data-block="told" data-room>This job is being done in another window: here it can only be read. Hold the pedal down to go on here instead.</p>` : nothing}
      ${cautionPanels(view.cautions)}
      <div class="body" data-holds data-room>
        <div class="main" data-holds data-room>
          ${view.rework ? html`<p class="kind">Put it right</p>` : nothing}
          <p class="say" data-holds data-room><span>${this.#pieces().map((piece) => html`<span data-block="say">${piece} </span>`)}</span></p>
          ${this.#lower()}
        </div>
        ${side ? html`<aside data-holds data-room>${side}</aside>` : nothing}
      </div>
      <footer data-room>
        ${lastAccepted(view.lastAccepted)}
        ${earStrip(this.ear)}
        ${this.readOnly ? nothing : offerStrip(offersAt(view), this.ear.on)}
      </footer>
      ${this.ear.note === null ? overPanel(view, console, this.placeBefore, this.voided, this.talk, this.hint, this.back, this.#most(0.4)) : notePanel(this.ear)}
    </article>`;
  }

  /** The instruction, cut where a page may end; a piece holds no more than about a page of reading type. */
  #pieces(): string[] {
    return breaths(this.view.say, this.#most(0.5));
  }

  /** About how many letters of reading type that part of the screen holds. */
  #most(part: number): number {
    const { reading } = sizesAt(this);
    const letters = Math.floor(this.clientWidth / (reading * 0.6));
    const lines = Math.floor((this.clientHeight * part) / (reading * 1.15));
    return Math.max(12, letters * Math.max(1, lines));
  }

  /** What the station needs besides its instruction. */
  #lower(): TemplateResult | typeof nothing {
    const { view, console } = this;
    const parts = [
      view.kit ? kitList(view.kit) : nothing,
      view.fit ? fitPanel(view.fit) : nothing,
      view.choices.length > 0
        ? html`<div data-block="lower">${optionList(
            view.choices.map(({ phrase, onCard }) => ({
              text: phrase,
              ...(onCard ? { detail: 'as the card has it' } : {}),
            })),
            console.at,
            view.say,
          )}</div>`
        : nothing,
      view.hold ? holdOpens(view.hold, this.witnesses, console.witness, this.ear.on) : nothing,
      view.asked ? entryPanel(view.asked, console.entry.text, console.readBack) : nothing,
      view.waitEndsAt === null ? nothing : waitClock(view.waitEndsAt, this.now),
      view.result?.fault ? html`<p class="fault" data-block="lower">${view.result.fault}</p>` : nothing,
    ].filter((part) => part !== nothing);
    return parts.length > 0 ? html`<div class="lower" data-holds data-room>${parts}</div>` : nothing;
  }

  /** Figures, or the ring, or the drawing: whatever the eye goes to after the instruction. */
  #side(): TemplateResult | null {
    const { view } = this;
    const figures = [...(view.result?.answers ?? []), ...view.figures];
    const drawn = view.round ? ringDrawing(view.round) : drawing(view.drawing);
    const adjuster = view.adjuster ? adjusterDrawing(view.adjuster) : nothing;
    if (figures.length === 0 && drawn === nothing && adjuster === nothing) return null;
    const many = figures.length > 1 || drawn !== nothing || adjuster !== nothing;
    return html`${
      figures.length > 0
        ? html`<div class="figures ${many ? 'many' : ''}" data-holds>${figures.map(figurePanel)}</div>`
        : nothing
    }${adjuster}${drawn}`;
  }

  override updated(changed: PropertyValues<this>): void {
    const before = changed.get('console');
    const onlyPress =
      !changed.has('view') &&
      before !== undefined &&
      sameBut(before, this.console) &&
      [...changed.keys()].every((key) => key === 'console' || key === 'now');
    if (!onlyPress && changed.size > 0) this.#layOut();
    if (changed.has('console') && ['note', 'label'].includes(this.console.over))
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

  /** How many pages there are now; whoever takes the gestures has to know. */
  #layOut(): void {
    const article = this.renderRoot.querySelector<HTMLElement>('.station');
    if (!article || this.clientWidth === 0) return;
    const sizes = sizesAt(this);
    const station = new Pages(article, sizes).show(this.console.page);
    const panel = article.querySelector<HTMLElement>('.over');
    const over = panel ? pageOver(panel, this.console.overPage) : 1;
    this.dispatchEvent(new CustomEvent<PageCount>('pages', { detail: { station, over } }));
  }

  // The room may change without the window: a keyboard comes up, type is loaded, the distance is set.
  override connectedCallback(): void {
    super.connectedCallback();
    document.fonts.addEventListener('loadingdone', this.#onFonts);
  }

  override disconnectedCallback(): void {
    document.fonts.removeEventListener('loadingdone', this.#onFonts);
    super.disconnectedCallback();
  }

  #onFonts = () => this.requestUpdate('view');
}

/** Only the pedal moved: nothing is laid out anew for that. */
function sameBut(one: Console, other: Console): boolean {
  return (Object.keys(one) as (keyof Console)[]).every((key) => key === 'press' || one[key] === other[key]);
}

customElements.define('hf-job', JobScreen);

declare global {
  interface HTMLElementTagNameMap {
    'hf-job': JobScreen;
  }
}
