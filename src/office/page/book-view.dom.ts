import { html, nothing, type TemplateResult } from 'lit';
import './files-part.dom.ts';
import { saveStream } from './save.dom.ts';
import { moment, View } from './view.dom.ts';
import type { BookRow, Filter } from './wire.ts';

/** The record book over all benches, and what can be taken out of it. */
export class BookView extends View {
  #filter: Filter = {};
  #rows: readonly BookRow[] = [];
  #next: string | null = null;
  #saved: string | null = null;
  /** The job whose photos and voice notes are shown. */
  #looking: string | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    this.#look(null);
  }

  #look(after: string | null): void {
    this.try(async () => {
      const page = await this.link.book(this.#filter, after);
      this.#rows = after === null ? page.rows : [...this.#rows, ...page.rows];
      this.#next = page.next;
    });
  }

  #asked = (event: Event): void => {
    event.preventDefault();
    const data = new FormData(event.currentTarget as HTMLFormElement);
    const text = (name: string) => String(data.get(name) ?? '').trim();
    const outcome = text('outcome') as NonNullable<Filter['outcome']> | '';
    this.#filter = {
      from: text('from'),
      to: text('to'),
      text: text('text'),
      ...(outcome ? { outcome } : {}),
      ...(data.get('odd') ? { odd: true } : {}),
    };
    this.#look(null);
  };

  #save(as: 'zip' | 'csv'): void {
    this.try(async () => {
      this.#saved = await saveStream(await this.link.exported(this.#filter, as));
    });
  }

  #lookAt(job: string): void {
    this.#looking = this.#looking === job ? null : job;
    this.requestUpdate();
  }

  #files({ job, files, filesHere }: BookRow): TemplateResult | typeof nothing {
    if (files === 0) return nothing;
    const shown = this.#looking === job;
    const all = filesHere === files ? `${files}` : `${filesHere} of ${files}`;
    return html`<button class="quiet" aria-expanded=${shown ? 'true' : 'false'} @click=${() => this.#lookAt(job)}>
      ${shown ? 'Close' : `Show ${all}`}
    </button>`;
  }

  #state({ outcome, sealed, findings, disputed, shutOut }: BookRow): TemplateResult {
    const word = { open: 'Open', complete: '✓ Complete', stopped: '✕ Stopped' }[outcome];
    return html`${word}${sealed ? ', sealed' : nothing}
      ${disputed ? html`<br /><span class="bad">≠ Another history was refused and is kept</span>` : nothing}
      ${shutOut ? html`<br /><span class="bad">✕ Somebody worked on it after they were shut out</span>` : nothing}
      ${findings.map((one) => html`<br /><span class="bad">${one}</span>`)}`;
  }

  override render(): TemplateResult {
    return html`
      <form @submit=${this.#asked}>
        <label>From <input type="date" name="from" /></label>
        <label>To <input type="date" name="to" /></label>
        <label>Words <input type="search" name="text" maxlength="200" placeholder="machine, work, person, job" /></label>
        <label>How it ended
          <select name="outcome">
            <option value="">any</option>
            <option value="open">open</option>
            <option value="complete">complete</option>
            <option value="stopped">stopped</option>
          </select>
        </label>
        <label><span>Only what is odd</span><input type="checkbox" name="odd" value="1" /></label>
        <button>Look</button>
        <button type="button" class="quiet" @click=${() => this.#save('zip')}>Save these records</button>
        <button type="button" class="quiet" @click=${() => this.#save('csv')}>Save as a table</button>
      </form>
      ${this.fault ? html`<p class="bad" role="alert">${this.fault}</p>` : nothing}
      ${this.#saved ? html`<p role="status">Saved: ${this.#saved}</p>` : nothing}
      <table>
        <caption>The latest first; times in UTC</caption>
        <thead>
          <tr><th scope="col">Machine</th><th scope="col">Work</th><th scope="col">Person</th><th scope="col">State</th><th scope="col">Opened</th><th scope="col">Last record</th><th scope="col" class="number">Records</th><th scope="col">Photos, voice</th></tr>
        </thead>
        <tbody>
          ${this.#rows.map(
            (row) => html`<tr data-job=${row.job}>
              <td><strong>${row.says}</strong><small>${row.machine}</small></td>
              <td>${row.title}<br /><small>revision ${row.revision}${row.published ? '' : ', not published here'}</small></td>
              <td>${row.worker}</td>
              <td>${this.#state(row)}</td>
              <td>${moment(row.openedAt)}</td>
              <td>${moment(row.lastAt)}</td>
              <td class="number">${row.records}</td>
              <td>${this.#files(row)}</td>
            </tr>
            ${
              this.#looking === row.job
                ? html`<tr><td colspan="8"><hf-office-files .link=${this.link} .job=${row.job}></hf-office-files></td></tr>`
                : nothing
            }`,
          )}
        </tbody>
      </table>
      ${this.#rows.length === 0 ? html`<p class="empty">No job is like that.</p>` : nothing}
      <p ?hidden=${this.#next === null}><button @click=${() => this.#look(this.#next)}>Earlier jobs</button></p>
    `;
  }
}

customElements.define('hf-office-book', BookView);
