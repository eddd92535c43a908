import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { compare, type Pair } from '../compare.ts';
import type { Digest } from '../digest.ts';
import { spanInWords } from '../words.ts';
import { bookStyle } from './book-style.dom.ts';

/** Two records side by side; what differs carries a sign and a word, not a colour alone. */
export class ComparePage extends LitElement {
  static override properties = { a: { attribute: false }, b: { attribute: false } };
  declare a: Digest;
  declare b: Digest;

  static override styles = [
    bookStyle,
    css`
      table { table-layout: fixed; }
      th:first-child { width: 34%; }
      .mark { width: 6.5rem; }
      .differs td, .differs th { font-weight: 700; }
    `,
  ];

  override render(): TemplateResult {
    const found = compare(this.a, this.b);
    return html`<h1 tabindex="-1">Two records side by side</h1>
      ${this.#pairs('About the jobs', found.about)}${this.#pairs('Hold points', found.holds)}
      ${this.#pairs('Figures measured', found.readings)}${this.#times()}
      ${this.#pairs('Refused attempts, by reason', found.refusals)}${this.#pairs('Tools', found.tools)}
      ${this.#pairs('What the jobs went by', found.facts)}`;
  }

  #name = ({ machine, openedAt }: Digest) => `${machine.says}, ${openedAt.slice(0, 10)}`;

  #head(): TemplateResult {
    return html`<thead><tr><td></td><th scope="col">${this.#name(this.a)}</th><th scope="col">${this.#name(this.b)}</th><th scope="col" class="mark">Differs</th></tr></thead>`;
  }

  #pairs(title: string, pairs: readonly Pair[]): TemplateResult {
    if (pairs.length === 0) return html`<h2>${title}</h2><p class="quiet">None in either.</p>`;
    return html`<h2>${title}</h2>
      <table aria-label=${title}>
        ${this.#head()}
        <tbody>
          ${pairs.map(
            ({ what, a, b, differs }) => html`<tr class=${differs ? 'differs' : ''}>
              <th scope="row">${what}</th><td>${a}</td><td>${b}</td><td>${differs ? '≠ differs' : nothing}</td>
            </tr>`,
          )}
        </tbody>
      </table>`;
  }

  #times(): TemplateResult {
    const span = (ms: number | null) => (ms === null ? '–' : spanInWords(ms));
    const gap = (a: number | null, b: number | null) =>
      a === null || b === null
        ? '≠ only in one'
        : b === a
          ? ''
          : `${b > a ? '+' : '−'} ${spanInWords(Math.abs(b - a))}`;
    return html`<h2>Time at each station</h2>
      <table aria-label="Time at each station">
        ${this.#head()}
        <tbody>
          ${compare(this.a, this.b).times.map(
            ({ says, a, b }) =>
              html`<tr><th scope="row">${says}</th><td>${span(a)}</td><td>${span(b)}</td><td>${gap(a, b)}</td></tr>`,
          )}
        </tbody>
      </table>`;
  }
}

customElements.define('hf-book-compare', ComparePage);

declare global {
  interface HTMLElementTagNameMap {
    'hf-book-compare': ComparePage;
  }
}
