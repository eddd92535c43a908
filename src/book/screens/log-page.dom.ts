import { html, LitElement, nothing, type TemplateResult } from 'lit';
import { shortCode } from '../../job/story.ts';
import type { LogState } from '../log-memory.dom.ts';
import { logTree, rootCode } from '../seal-log.ts';
import { counted } from '../words.ts';
import { bookStyle } from './book-style.dom.ts';

/** The log of seals: its code, what has changed, and a look whether a code from paper is part of its past. */
export class LogPage extends LitElement {
  static override properties = { state: { attribute: false }, asked: { state: true } };
  declare state: LogState;
  declare asked: { readonly count: number; readonly code: string } | null;
  static override styles = bookStyle;

  constructor() {
    super();
    this.asked = null;
  }

  override render(): TemplateResult {
    const { log, seen, faults } = this.state;
    const tree = logTree(log);
    return html`<h1 tabindex="-1">Log of seals</h1>
      <p class="lead">Every sealed job adds a line, and the code stands for all lines so far. Print it, write it down or read it to somebody: a job that
        is removed or replaced later changes every code after it.</p>
      <p>Now: <span class="code">${rootCode(seen)}</span></p>
      ${
        faults.length === 0
          ? html`<p class="good" role="status">✓ Nothing has changed in what was seen before.</p>`
          : html`<div role="alert">${faults.map(({ says }) => html`<p class="bad">✕ ${says}</p>`)}<p>Have the supervisor compare with the last bundle or printed report.</p></div>`
      }
      <h2>Is a code from paper part of this log?</h2>
      <form class="row" @submit=${this.#ask}>
        <label>Seals<input name="count" type="number" min="1" max="1000000" required size="6" /></label>
        <label>Code<input name="code" required pattern="[0-9a-fA-F ]{12,16}" autocomplete="off" placeholder="12 digits" /></label>
        <button>Look</button>
      </form>
      <p role="status">${this.asked ? this.#answer(this.asked.count, this.asked.code) : nothing}</p>
      <h2>Its lines</h2>
      <div class="wide" role="region" aria-label="Lines of the log" tabindex="0"><table>
        <caption>In the order of sealing</caption>
        <thead><tr><th scope="col" class="number">Seal</th><th scope="col">Job</th><th scope="col">Code from here on</th></tr></thead>
        <tbody>
          ${log.map(
            ({ job }, at) =>
              html`<tr><td class="number">${at + 1}</td><th scope="row">${job}</th><td class="code">${shortCode(tree.root(at + 1))}</td></tr>`,
          )}
        </tbody>
      </table></div>`;
  }

  #ask = (event: SubmitEvent) => {
    event.preventDefault();
    const given = new FormData(event.currentTarget as HTMLFormElement);
    this.asked = { count: Number(given.get('count')), code: String(given.get('code')) };
  };

  #answer(count: number, code: string): TemplateResult {
    const { log } = this.state;
    if (count > log.length)
      return html`<span class="bad">✕ This log has only ${counted(log.length, 'seal')}: some were taken out, or the paper is from another bench.</span>`;
    const here = logTree(log).root(count).slice(0, 12);
    return here === code.replaceAll(' ', '').toLowerCase()
      ? html`<span class="good">✓ Yes: the first ${counted(count, 'seal')} of this log ${count === 1 ? 'is' : 'are'} what the paper saw.</span>`
      : html`<span class="bad">✕ No: after ${counted(count, 'seal')} this log has ${shortCode(here)}. History was changed, or the paper is from another bench.</span>`;
  }
}

customElements.define('hf-book-log', LogPage);

declare global {
  interface HTMLElementTagNameMap {
    'hf-book-log': LogPage;
  }
}
