import { html, LitElement, type TemplateResult } from 'lit';
import type { Digest } from '../digest.ts';
import { firstPassRates } from '../history.ts';
import { percent } from '../words.ts';
import { bookStyle } from './book-style.dom.ts';

/** How often each hold point was passed when it was first looked at, with what that says about the next time. */
export class RatesPage extends LitElement {
  static override properties = { digests: { attribute: false } };
  declare digests: readonly Digest[];
  static override styles = bookStyle;

  constructor() {
    super();
    this.digests = [];
  }

  override render(): TemplateResult {
    const rates = [...firstPassRates(this.digests)].sort((a, b) => a.limits.low - b.limits.low);
    return html`<h1 tabindex="-1">Hold points passed the first time</h1>
      <p class="lead">Over all jobs of this bench, the least sure first. A hold that failed or was conceded when it was first decided on counts against;
        an attempt that was refused is no verdict and does not count. The limits are the 95 % Wilson score limits: with few jobs they lie far apart.</p>
      <div class="wide" role="region" aria-label="First-pass rates" tabindex="0"><table>
        <caption>First-pass rate of each hold point</caption>
        <thead><tr><th scope="col">Hold point</th><th scope="col">Procedure</th><th scope="col" class="number">Passed first</th><th scope="col" class="number">of jobs</th><th scope="col" class="number">Rate</th><th scope="col" class="number">95 % limits</th><th scope="col" class="number">Conceded</th></tr></thead>
        <tbody>
          ${rates.map(
            ({ says, title, passed, jobs, limits, conceded }) => html`<tr>
              <th scope="row">${says}</th><td>${title}</td><td class="number">${passed}</td><td class="number">${jobs}</td>
              <td class="number">${percent(passed / jobs)}</td><td class="number">${percent(limits.low)} to ${percent(limits.high)}</td>
              <td class="number">${conceded === 0 ? '' : html`<span class="bad">${conceded}</span>`}</td>
            </tr>`,
          )}
        </tbody>
      </table></div>`;
  }
}

customElements.define('hf-book-rates', RatesPage);

declare global {
  interface HTMLElementTagNameMap {
    'hf-book-rates': RatesPage;
  }
}
