import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { Cell, Certificate, CertificateRow } from '../../procedure/proof/certificate.ts';
import { shared } from '../shared-style.ts';
import { gateSign, procedureStyle } from './procedure-sign.ts';

const MARKS: Readonly<Record<Cell, { sign: string; word: string }>> = {
  must: { sign: '●', word: 'must be passed' },
  anyway: { sign: '○', word: 'does not apply, but every way leads through it' },
  free: { sign: '·', word: 'does not apply' },
};

/** Columns of facts are named by letters, those of hold points by numbers: the words stand beside the table. */
const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ';

const said = (value: unknown): string =>
  value === true ? 'yes' : value === false ? 'no' : String(value ?? 'any');

/** The certificate of a revision: combinations of facts against hold points, and for the lit one a way that proves it. */
export class ProcedureCertificateScreen extends LitElement {
  static override properties = {
    certificate: { attribute: false },
    says: { attribute: false },
    facts: { attribute: false },
    at: { type: Number },
  };
  declare certificate: Certificate;
  /** What each station says, by its name. */
  declare says: Readonly<Record<string, string>>;
  /** Plain words for each fact. */
  declare facts: Readonly<Record<string, string>>;
  /** The row that is lit. */
  declare at: number;

  static override styles = [
    shared,
    procedureStyle,
    css`
      :host { grid-template: auto minmax(0, 1fr) auto / minmax(0, 1.35fr) minmax(0, 1fr); column-gap: calc(2 * var(--u)); }
      header, footer { grid-column: 1 / -1; }
      .hash { overflow-wrap: anywhere; }
      table { border-collapse: separate; border-spacing: 0; font-variant-numeric: tabular-nums; }
      th, td { padding: 0.18em 0.5em; text-align: center; border-bottom: 1px solid var(--rule); white-space: nowrap; }
      thead th { white-space: normal; position: sticky; top: 0; background: var(--paper); border-bottom: max(calc(0.25 * var(--u)), 2px) solid var(--ink); vertical-align: bottom; }
      thead .fact { text-align: left; }
      tbody th { font-weight: 400; text-align: left; }
      tr[aria-current] { background: var(--ink); color: var(--paper); }
      tr[aria-current] th:first-child::before { content: "▸ "; font-weight: 700; }
      tr { cursor: pointer; }
      .side { display: grid; gap: calc(1.6 * var(--u)); align-content: start; padding-right: calc(0.6 * var(--u)); }
      .side li { display: grid; grid-template-columns: 2.6em 1fr; gap: 0.4em; padding: 0.12em 0; }
      .side li b { text-align: right; font-variant-numeric: tabular-nums; }
      .path .hold { border: max(calc(0.4 * var(--u)), 3px) solid var(--ink); padding: 0.12em 0; font-weight: 700; }
      .none { color: var(--ink-2); }
      .spoken { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
      @media (orientation: portrait) {
        :host { grid-template: auto minmax(0, 1.2fr) minmax(0, 1fr) auto / minmax(0, 1fr); }
      }
    `,
  ];

  constructor() {
    super();
    this.at = 0;
  }

  override render(): TemplateResult {
    const { title, procedure, revision, hash, stations, holds, combinations, rows, shortened } =
      this.certificate;
    const row = rows[this.at];
    return html`<header role="none">
        <h1>Hold points proved: ${title}</h1>
        <p>${procedure}, revision ${revision}: ${stations} stations, ${holds.length} hold points, ${combinations} combinations of facts</p>
        <p class="hash">SHA-256 <code>${hash}</code></p>
      </header>
      <div class="scroll" tabindex="0" role="group" aria-label="Facts against hold points, to be scrolled">
        ${this.#table()} ${shortened ? html`<p>The first ${rows.length} rows of more; all are proved.</p>` : nothing}
      </div>
      <div class="scroll side" tabindex="0" role="group" aria-label="What was proved">
        ${row ? this.#path(row) : nothing}
        ${this.#factList()}
        <section>
          <h2>Hold points</h2>
          <ol>${holds.map((hold, at) => html`<li><b>${at + 1}</b><span>${this.says[hold] ?? hold}${this.#conceded(hold)}</span></li>`)}</ol>
        </section>
      </div>
      <footer role="none">
        ${Object.values(MARKS).map(({ sign, word }) => html`<span><b>${sign}</b> ${word}</span>`)}
        <span><kbd>tap</kbd> next row</span><span><kbd>Esc</kbd> back</span>
      </footer>`;
  }

  #factList(): TemplateResult | typeof nothing {
    const names = this.#names();
    if (names.length === 0) return nothing;
    return html`<section>
      <h2>Facts</h2>
      <ol>${names.map((name, at) => html`<li><b>${LETTERS[at]}</b><span>${this.facts[name] ?? name}</span></li>`)}</ol>
    </section>`;
  }

  #conceded(hold: string): string {
    return this.certificate.concessions.includes(hold) ? ' (or a concession by a supervisor)' : '';
  }

  /** The facts that matter, in the order of their columns. */
  #names(): readonly string[] {
    return [...new Set(this.certificate.rows.flatMap((row) => Object.keys(row.facts)))];
  }

  #table(): TemplateResult {
    const { rows, holds } = this.certificate;
    const names = this.#names();
    return html`<table>
      <caption class="spoken">Facts against hold points. For each combination of facts, which hold points every finished job has passed.</caption>
      <thead>
        <tr>
          ${names.length === 0 ? html`<th scope="col">Facts</th>` : names.map((name, at) => html`<th scope="col" class="fact"><span aria-hidden="true">${LETTERS[at]}</span><span class="spoken">${this.facts[name] ?? name}</span></th>`)}
          ${holds.map((hold, at) => html`<th scope="col"><span aria-hidden="true">${at + 1}</span><span class="spoken">hold point ${at + 1}, ${hold}</span></th>`)}
          <th scope="col">stations</th>
        </tr>
      </thead>
      <tbody>
        ${rows.map(
          (row, index) => html`<tr
            aria-current=${index === this.at ? 'true' : nothing}
            @click=${() => this.dispatchEvent(new CustomEvent('picked', { detail: index }))}
          >
            ${names.length === 0 ? html`<th scope="row">every job</th>` : names.map((name) => html`<th scope="row">${said(row.facts[name])}</th>`)}
            ${row.cells.map((cell) => html`<td><span aria-hidden="true">${MARKS[cell].sign}</span><span class="spoken">${MARKS[cell].word}</span></td>`)}
            <td>${row.path.length - 1}</td>
          </tr>`,
        )}
      </tbody>
    </table>`;
  }

  /** A shortest way through under these facts: it meets every hold point that must be passed. */
  #path({ path, facts }: CertificateRow): TemplateResult {
    const holds = new Map(this.certificate.holds.map((hold, at) => [hold, at + 1]));
    const names = this.#names();
    const when = names
      .filter((name) => facts[name] !== undefined)
      .map((name) => `${LETTERS[names.indexOf(name)]} ${said(facts[name])}`);
    const stations = path.slice(0, -1);
    return html`<section class="path">
      <h2>A shortest way through</h2>
      <p class="none">${when.length === 0 ? 'Every job' : when.join(' · ')}. With the pass of any hold on it taken out, there is no way to the end.</p>
      <ol>
        ${stations.map((name, at) => {
          const hold = holds.get(name);
          return html`<li class=${hold === undefined ? '' : 'hold'}>
            <b>${at + 1}</b>
            <span>${hold === undefined ? nothing : html`<svg class="sign" viewBox="0 0 20 20" role="img" aria-label="Hold point ${hold}">${gateSign(0, 0)}</svg> `}${this.says[name] ?? name}</span>
          </li>`;
        })}
      </ol>
    </section>`;
  }

  override updated(changed: PropertyValues<this>): void {
    if (changed.has('at'))
      this.renderRoot.querySelector('tr[aria-current]')?.scrollIntoView({ block: 'nearest' });
  }
}

customElements.define('hf-procedure-certificate', ProcedureCertificateScreen);

declare global {
  interface HTMLElementTagNameMap {
    'hf-procedure-certificate': ProcedureCertificateScreen;
  }
}
