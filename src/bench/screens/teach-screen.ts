import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { TAKES } from '../../hear/teach.ts';
import type { EarState } from '../ear-state.ts';
import { SILENT } from '../ear-state.ts';
import { earStyle, levelMeter } from '../parts/ear.ts';
import { shared } from '../shared-style.ts';
import { spokenStyle } from './spoken-style.ts';

/** One word to be said three times: the word, its takes so far, how loud it is, and what was wrong with the last one. */
export class TeachScreen extends LitElement {
  static override properties = {
    heading: { type: String },
    word: { type: String },
    place: { type: String },
    takes: { type: Number },
    own: { type: Boolean },
    told: { attribute: false },
    ear: { attribute: false },
    fault: { type: String },
  };
  declare heading: string;
  declare word: string;
  /** "word 3 of 18" */
  declare place: string;
  declare takes: number;
  /** The takes are the person's own word and not the app's. */
  declare own: boolean;
  /** What came of the last take. */
  declare told: { readonly good: boolean; readonly says: string } | null;
  declare ear: EarState;
  declare fault: string | null;

  static override styles = [
    shared,
    earStyle,
    spokenStyle,
    css`
      header { display: flex; flex-wrap: wrap; justify-content: space-between; gap: 0.2em 1.5em; align-items: baseline; }
      header p { font-size: var(--text); }
      .ask { gap: calc(1.5 * var(--u)); justify-items: start; }
      .word { font-size: min(var(--most), calc(11 * var(--u))); font-weight: 700; line-height: 1.05; text-wrap: balance; overflow-wrap: anywhere; }
      .takes { display: flex; gap: calc(2 * var(--u)); }
      .takes i { width: calc(6 * var(--u)); height: calc(6 * var(--u)); border: max(calc(0.6 * var(--u)), 3px) solid var(--ink); border-radius: 50%; }
      .takes i.done { background: var(--ink); }
      .told { min-height: 2.4em; font-weight: 700; }
      .keys span { white-space: nowrap; }
    `,
  ];

  constructor() {
    super();
    this.heading = '';
    this.word = '';
    this.place = '';
    this.takes = 0;
    this.own = false;
    this.told = null;
    this.ear = SILENT;
    this.fault = null;
  }

  override render(): TemplateResult {
    const { told } = this;
    return html`<header role="none"><h1>${this.heading}</h1><p>${this.place}</p></header>
      <div class="ask">
        <p class="word">${this.word}</p>
        <p class="takes" role="img" aria-label="${this.takes} of ${TAKES} takes">
          ${Array.from({ length: TAKES }, (_, n) => html`<i class=${n < this.takes ? 'done' : ''}></i>`)}
        </p>
        <p class="ear">${levelMeter(this.ear.level)}</p>
        <p class="told ${told && !told.good ? 'bad' : ''}" role="status">${told?.says ?? `Say it ${TAKES} times, as you say it at work.`}${this.own && told?.good !== false ? ' It is your own word for it.' : ''}</p>
      </div>
      <footer role="none">
        ${this.fault ? html`<p class="bad" role="alert">${this.fault}</p>` : nothing}
        <p>Your takes, sound and all, stay on this device.</p>
        <p class="keys"><span><kbd>tap</kbd> next word</span><span><kbd>back</kbd> word before</span><span><kbd>hold down</kbd> this word anew</span><span><kbd>Esc</kbd> done</span></p>
      </footer>`;
  }
}

customElements.define('hf-teach', TeachScreen);

declare global {
  interface HTMLElementTagNameMap {
    'hf-teach': TeachScreen;
  }
}
