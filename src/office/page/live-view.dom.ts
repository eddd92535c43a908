import { html, nothing, type TemplateResult } from 'lit';
import { ago, View } from './view.dom.ts';
import type { LiveRow } from './wire.ts';

const EVERY_MS = 3_000;

/** What most wants somebody: trouble, then a witness waited for, then what is odd, then work, then pauses. */
function urgency({ trouble, waitsFor, disputed, paused }: LiveRow): number {
  if (trouble) return 0;
  if (waitsFor) return 1;
  if (disputed) return 2;
  return paused ? 4 : 3;
}

/** Every bench as it stands now. */
export class LiveView extends View {
  #jobs: readonly LiveRow[] = [];
  #timer = 0;
  #releasing: string | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    this.#timer = window.setInterval(() => {
      if (!document.hidden) this.#look();
    }, EVERY_MS);
    this.#look();
  }

  override disconnectedCallback(): void {
    window.clearInterval(this.#timer);
    super.disconnectedCallback();
  }

  #look(): void {
    this.try(async () => {
      const { jobs } = await this.link.live();
      this.#jobs = jobs.toSorted((a, b) => urgency(a) - urgency(b) || b.lastAt.localeCompare(a.lastAt));
    });
  }

  #release(job: string): void {
    if (this.#releasing !== job) {
      this.#releasing = job;
      this.requestUpdate();
      return;
    }
    this.#releasing = null;
    this.try(() => this.link.release(job)).then(() => this.#look());
  }

  #state(row: LiveRow): TemplateResult {
    if (row.trouble) return html`<span class="state bad">▲ Trouble: ${row.trouble}</span>`;
    if (row.waitsFor) return html`<span class="state">▮▮ Waits for a witness: ${row.waitsFor}</span>`;
    if (row.disputed) return html`<span class="state bad">≠ Records differ: see the book</span>`;
    return row.paused ? html`<span>Paused</span>` : html`<span>At work</span>`;
  }

  override render(): TemplateResult {
    const now = Date.now();
    return html`
      ${this.fault ? html`<p class="bad" role="alert">${this.fault}</p>` : nothing}
      <table>
        <caption>${this.#jobs.length} ${this.#jobs.length === 1 ? 'job' : 'jobs'} at the benches, what wants somebody first</caption>
        <thead>
          <tr><th scope="col">Machine</th><th scope="col">Station</th><th scope="col">State</th><th scope="col">Person</th><th scope="col">Bench</th><th scope="col">Last record</th><th></th></tr>
        </thead>
        <tbody>
          ${this.#jobs.map(
            (row) => html`<tr data-job=${row.job}>
              <td><strong>${row.machine}</strong><small>${row.title}</small></td>
              <td>${row.says}</td>
              <td>${this.#state(row)}</td>
              <td>${row.worker}</td>
              <td>${row.bench ?? 'free to take'}<br /><small>heard of ${ago(row.benchSeenAt, now)}</small></td>
              <td>${ago(row.lastAt, now)}</td>
              <td>
                <button class="quiet" ?hidden=${row.bench === null} @click=${() => this.#release(row.job)}>
                  ${this.#releasing === row.job ? 'Yes, free it for another bench' : 'Free it'}
                </button>
              </td>
            </tr>`,
          )}
        </tbody>
      </table>
      ${this.#jobs.length === 0 ? html`<p class="empty">Nobody is at work.</p>` : nothing}
    `;
  }
}

customElements.define('hf-office-live', LiveView);
