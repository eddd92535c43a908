import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import type { HoldEvidence } from '../../job/story.ts';
import { offerStyle } from '../parts/offers.ts';
import type { LogSaid } from '../sealing.dom.ts';
import { shared } from '../shared-style.ts';
import { Resized } from './resized.ts';

/** The end of a job: how it ended, each hold point with what opened it, and the seal that closes the record. */
export class FinishScreen extends LitElement {
  static override properties = {
    outcome: { type: String },
    machine: { type: String },
    jobTitle: { attribute: false },
    holds: { attribute: false },
    records: { type: Number },
    code: { type: String },
    log: { attribute: false },
    saved: { type: String },
    fault: { type: String },
    later: { type: String },
    page: { type: Number },
  };
  declare outcome: string;
  declare machine: string;
  declare jobTitle: string;
  declare holds: readonly HoldEvidence[];
  declare records: number;
  /** Short code of the sealed head, to be read out or written on the job card; null until it is sealed. */
  declare code: string | null;
  /** The log of seals with this one in it; null until it is looked at. */
  declare log: LogSaid | null;
  /** Name of the record file that was saved. */
  declare saved: string | null;
  declare fault: string | null;
  /** What has to be done later. */
  declare later: string | null;
  /** How often the list of hold points was turned on; it begins anew after its end. */
  declare page: number;

  static override styles = [
    shared,
    offerStyle,
    css`
      :host { grid-template-rows: auto minmax(0, 1fr) auto; gap: calc(2 * var(--u)); padding: var(--edge) calc(2 * var(--edge)) calc(0.8 * var(--edge)); }
      /* How it ended is read from the work; the list, the code and the file by whoever walks up to the bench. */
      h1 { font-size: max(calc(7 * var(--u)), var(--reading)); line-height: 1; }
      h1 span { color: var(--good); }
      .stopped h1 span { color: var(--bad); }
      header p { font-size: max(calc(2.6 * var(--u)), var(--near)); color: var(--ink-2); padding-top: 0.4em; }
      header .warn { font-size: max(calc(3.4 * var(--u)), var(--least)); font-weight: 700; color: var(--ink); }
      .rows { overflow: auto; min-height: 0; }
      table { border-collapse: collapse; width: 100%; font-size: max(calc(2.3 * var(--u)), var(--near)); }
      th, td { text-align: left; vertical-align: top; padding: 0.35em 1em 0.35em 0; border-bottom: 0.1em solid var(--rule); }
      th { font-weight: 700; width: 46%; }
      td { white-space: nowrap; }
      .code, .root { white-space: nowrap; }
      @media (orientation: portrait) {
        tbody tr { display: grid; grid-template-columns: minmax(0, 1fr) auto auto; border-bottom: 0.1em solid var(--rule); padding-block: 0.3em; }
        tbody th { grid-column: 1 / -1; width: auto; }
        tbody :is(th, td) { border: 0; padding-block: 0.05em; }
        .code { display: inline-block; }
      }
      .code { font-family: "B612 Mono", monospace; font-size: max(calc(4 * var(--u)), var(--near)); font-weight: 700; letter-spacing: 0.06em; }
      .root { font-family: "B612 Mono", monospace; font-weight: 700; letter-spacing: 0.04em; }
      footer { display: grid; gap: calc(0.7 * var(--u)); border-top: calc(0.3 * var(--u)) solid var(--rule); padding-top: calc(0.9 * var(--u)); font-size: max(calc(2.3 * var(--u)), var(--near)); }
      .offers, .offers li:first-child { font-size: inherit; }
      /* From afar the ending is what counts: the list waits for whoever comes closer. */
      :host([data-set="lean"]) .rows, :host([data-set="lean"]) .after { display: none; }
      :host([data-set="lean"]) { grid-template-rows: minmax(0, 1fr) auto; padding: calc(0.5 * var(--edge)) var(--edge); gap: calc(0.6 * var(--u)); }
      .veiled { visibility: hidden; }
      .bad { color: var(--bad); font-weight: 700; }
      .after { font-weight: 700; }
    `,
  ];

  constructor() {
    super();
    new Resized(this, () => this.updated());
    this.outcome = 'complete';
    this.machine = '';
    this.jobTitle = '';
    this.holds = [];
    this.records = 0;
    this.code = null;
    this.log = null;
    this.saved = null;
    this.fault = null;
    this.later = null;
    this.page = 0;
  }

  override render(): TemplateResult {
    const complete = this.outcome === 'complete';
    return html`<header role="none" class=${this.outcome}>
        <h1><span>${complete ? '✓ Complete' : '✕ Stopped'}</span></h1>
        ${complete ? nothing : html`<p class="warn">Not complete: nobody rides it.</p>`}
        <p><b>${this.machine}</b> · ${this.jobTitle}${complete ? nothing : '. Mark the machine so that nobody rides it.'}</p>
      </header>
      <div class="rows" role="region" aria-label="Hold points" tabindex="0" @scroll=${this.#veil}>
        <table>
          <tbody>
            ${this.holds.map(
              ({ says, opened, by, witness, at }) => html`<tr>
                <th scope="row">${says}</th>
                <td>${opened}</td>
                <td>${by}${witness ? html`<br />witness ${witness}` : nothing}</td>
                <td><time>${at}</time></td>
              </tr>`,
            )}
          </tbody>
        </table>
      </div>
      <footer role="none">
        ${this.later ? html`<p class="after">${this.later}</p>` : nothing}
        ${
          this.code
            ? html`<p>Sealed: ${this.records} records, code <span class="code">${this.code}</span></p>`
            : html`<p>Sealing the record …</p>`
        }
        ${this.log ? this.#log(this.log) : nothing}
        ${this.saved ? html`<p role="status">Saved as ${this.saved}</p>` : nothing}
        ${this.fault ? html`<p class="bad" role="alert">${this.fault}</p>` : nothing}
        <ul class="offers">
          <li><kbd>tap</kbd><span>save the record file</span></li>
          <li class="more" hidden><kbd>back</kbd><span>more hold points</span></li>
          <li><kbd>Esc</kbd><span>to the job shelf</span></li>
        </ul>
      </footer>`;
  }

  /** The code of the log belongs on paper too: it stands for every job that was sealed here so far. */
  #log({ code, says }: LogSaid): TemplateResult {
    return html`${code ? html`<p>Log of seals: <span class="root">${code}</span></p>` : nothing}
      ${
        says.length === 0
          ? nothing
          : html`<div class="bad" role="alert">${code ? html`<p>✕ The past of the log of seals was changed. Have the supervisor look in the record book.</p>` : nothing}
              <p>${says[0]}${says.length > 1 ? ` And ${says.length - 1} more.` : nothing}</p></div>`
      }`;
  }

  /** A list longer than its room is turned on by the hand that did the job: nobody has to scroll. */
  override updated(): void {
    this.dataset.set = '';
    if (this.scrollHeight > this.clientHeight + 1) this.dataset.set = 'lean';
    const rows = this.renderRoot.querySelector<HTMLElement>('.rows');
    const more = this.renderRoot.querySelector<HTMLElement>('.more');
    if (!rows || !more) return;
    const top = rows.firstElementChild?.getBoundingClientRect().top ?? 0;
    // Each page begins with the first row that the page before did not show whole.
    const starts = [0];
    for (const row of rows.querySelectorAll('tr')) {
      const box = row.getBoundingClientRect();
      const start = starts[starts.length - 1] ?? 0;
      if (box.bottom - top > start + rows.clientHeight + 1 && box.top - top > start)
        starts.push(box.top - top);
    }
    more.hidden = starts.length === 1;
    rows.scrollTop = starts[this.page % starts.length] ?? 0;
    this.#veil();
  }

  /** A row that the edge would cut through is not shown: it stands whole on the next page. */
  #veil = (): void => {
    const rows = this.renderRoot.querySelector<HTMLElement>('.rows');
    if (!rows) return;
    const { top, bottom, height } = rows.getBoundingClientRect();
    for (const row of rows.querySelectorAll<HTMLElement>('tr')) {
      const box = row.getBoundingClientRect();
      const cut =
        box.height <= height &&
        ((box.top < top - 1 && box.bottom > top) || (box.top < bottom && box.bottom > bottom + 1));
      row.classList.toggle('veiled', cut);
    }
  };
}

customElements.define('hf-finish', FinishScreen);

declare global {
  interface HTMLElementTagNameMap {
    'hf-finish': FinishScreen;
  }
}
