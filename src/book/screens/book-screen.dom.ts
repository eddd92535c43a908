import type { JSONWebKeySet } from 'jose';
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { Workshop } from '../../job/workshop.ts';
import type { Digest } from '../digest.ts';
import { type Filter, noFilter } from '../filter.ts';
import { browserLog, type LogMemory } from '../log-memory.dom.ts';
import { back, firstPage, type Page, pageOf, picked, turned, type Way } from '../pages.ts';
import { printReport } from '../print.dom.ts';
import type { Report } from '../report.ts';
import { type BookDesk, type Records, readRecords } from '../shelf-of-records.dom.ts';
import { Takeaway } from '../takeaway.dom.ts';
import { bookStyle } from './book-style.dom.ts';
import type { BundleWish } from './bundle-page.dom.ts';
import './bundle-page.dom.ts';
import './compare-page.dom.ts';
import './jobs-page.dom.ts';
import './log-page.dom.ts';
import './rates-page.dom.ts';
import './record-page.dom.ts';
import './verify-page.dom.ts';

const CHAPTERS = [
  ['jobs', 'Jobs'],
  ['rates', 'Hold points'],
  ['bundle', 'Bundle'],
  ['log', 'Log of seals'],
  ['verify', 'Verify'],
] as const;

interface Sealing {
  readonly busy: boolean;
  readonly fault: string | null;
  readonly done: string | null;
}

/** The record book, for the supervisor at a desk: what was done, by whom, and whether it stands. */
export class BookScreen extends LitElement {
  static override properties = { desk: { attribute: false }, memory: { attribute: false } };
  declare desk: BookDesk;
  declare memory: LogMemory;

  static override styles = [
    bookStyle,
    css`
      :host { height: 100%; overflow: auto; }
      header { display: flex; flex-wrap: wrap; gap: 0.8rem 2rem; align-items: center; justify-content: space-between; padding: 1rem 1.5rem; border-bottom: 3px solid var(--ink); }
      header h1 { font-size: 1.5rem; }
      header h1 small { font-size: 0.9375rem; font-weight: 400; color: var(--ink-2); padding-left: 0.6rem; }
      nav { display: flex; flex-wrap: wrap; gap: 0.4rem; }
      .page { padding: 1.2rem 1.5rem 3rem; max-width: 88rem; }
      .page:focus { outline: none; }
      .alarm { padding: 0.8rem 1.5rem; border-bottom: 3px solid var(--bad); }
    `,
  ];

  #way: Way = firstPage;
  #filter: Filter = noFilter;
  #picks: readonly string[] = [];
  #records: Records | null = null;
  #workshop: Workshop | null = null;
  #keys: JSONWebKeySet = { keys: [] };
  #progress = '';
  #fault: string | null = null;
  #bundle: Sealing = { busy: false, fault: null, done: null };
  #takeaway: Takeaway | null = null;

  constructor() {
    super();
    this.memory = browserLog();
    this.addEventListener('keydown', this.#key);
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#try(this.#read());
  }

  async #read(): Promise<void> {
    this.#workshop = (await this.desk.settings.workshop()) ?? null;
    await this.desk.passkeys?.look();
    this.#records = await readRecords(this.desk, this.memory, (done, all) => {
      this.#progress = `Reading ${done + 1} of ${all} jobs …`;
      this.requestUpdate();
    });
    this.#takeaway = new Takeaway(this.desk, this.#records, this.#workshop?.name ?? '');
    this.#progress = '';
    this.requestUpdate();
    const { publicJwk, kid } = await this.desk.key();
    this.#keys = { keys: [{ ...publicJwk, kid, alg: 'ES256', use: 'sig' }] };
    this.requestUpdate();
  }

  #try(work: Promise<unknown>): void {
    work.catch((error: unknown) => {
      this.#fault = error instanceof Error ? error.message : String(error);
      this.#progress = '';
      this.requestUpdate();
    });
  }

  #turn(to: Page): void {
    this.#way = turned(this.#way, to);
    this.#fault = null;
    this.#turned();
  }

  /** A page that was turned begins at its top, and the keyboard goes on there. */
  #turned(): void {
    this.requestUpdate();
    void this.updateComplete.then(() => {
      this.renderRoot.querySelector<HTMLElement>('.page')?.focus({ preventScroll: true });
      this.scrollTop = 0;
    });
  }

  #leave(): void {
    this.dispatchEvent(new CustomEvent('left'));
  }

  #back(): void {
    const way = back(this.#way);
    if (way) {
      this.#way = way;
      this.#turned();
    } else this.#leave();
  }

  #key = (event: KeyboardEvent) => {
    if (event.key !== 'Escape' || event.defaultPrevented) return;
    const [at] = event.composedPath();
    // A field that is being searched in is emptied first, as browsers do.
    if (at instanceof HTMLInputElement && at.type === 'search' && at.value !== '') return;
    event.preventDefault();
    this.#back();
  };

  override render(): TemplateResult {
    const page = pageOf(this.#way);
    const faults = this.#records?.log.faults ?? [];
    return html`<header role="none">
        <h1>Record book<small>${this.#workshop?.name ?? ''}</small></h1>
        <nav aria-label="Chapters">
          ${CHAPTERS.map(
            ([at, says]) =>
              html`<button type="button" aria-current=${page.at === at ? 'page' : nothing} @click=${() => this.#turn({ at })}>${says}</button>`,
          )}
          <button type="button" @click=${() => this.#back()}>Back (Esc)</button>
          <button type="button" @click=${() => this.#leave()}>Close the book</button>
        </nav>
      </header>
      ${faults.length > 0 && page.at !== 'log' ? html`<p class="alarm bad" role="alert">✕ The log of seals has changed: ${faults[0]?.says}</p>` : nothing}
      ${this.#fault ? html`<p class="alarm bad" role="alert">${this.#fault}</p>` : nothing}
      <div class="page" tabindex="-1">
        ${this.#progress ? html`<p role="status">${this.#progress}</p>` : nothing}
        ${this.#records ? this.#page(page, this.#records) : nothing}
      </div>`;
  }

  override firstUpdated(_: PropertyValues<this>): void {
    this.renderRoot.querySelector<HTMLElement>('.page')?.focus({ preventScroll: true });
  }

  #page(page: Page, records: Records): TemplateResult {
    const { digests, unreadable, log } = records;
    const find = (job: string) => digests.find((digest) => digest.job === job);
    switch (page.at) {
      case 'jobs':
        return html`<hf-book-jobs
          .digests=${digests}
          .unreadable=${unreadable}
          .filter=${this.#filter}
          .picks=${this.#picks}
          @filter=${(event: CustomEvent<Filter>) => {
            this.#filter = event.detail;
            this.requestUpdate();
          }}
          @pick=${(event: CustomEvent<string>) => {
            this.#picks = picked(this.#picks, event.detail);
            this.requestUpdate();
          }}
          @open-job=${(event: CustomEvent<string>) => this.#turn({ at: 'record', job: event.detail, as: 'report' })}
          @compare=${(event: CustomEvent<readonly [string, string]>) => this.#turn({ at: 'compare', a: event.detail[0], b: event.detail[1] })}
          @jobs-table=${(event: CustomEvent<readonly Digest[]>) => this.#takeaway?.jobsTable(event.detail)}
        ></hf-book-jobs>`;
      case 'record': {
        const digest = find(page.job);
        return digest ? this.#record(page, digest) : html`<p class="bad">This job is not in the book.</p>`;
      }
      case 'compare': {
        const [a, b] = [find(page.a), find(page.b)];
        return a && b
          ? html`<hf-book-compare .a=${a} .b=${b}></hf-book-compare>`
          : html`<p class="bad">One of these jobs is not in the book.</p>`;
      }
      case 'rates':
        return html`<hf-book-rates .digests=${digests}></hf-book-rates>`;
      case 'log':
        return html`<hf-book-log .state=${log}></hf-book-log>`;
      case 'bundle':
        return html`<hf-book-bundle
          .digests=${digests}
          .people=${this.#workshop?.people ?? []}
          .passkeys=${this.desk.passkeys?.known ?? new Set()}
          .today=${new Date(this.desk.now()).toISOString().slice(0, 10)}
          .busy=${this.#bundle.busy}
          .fault=${this.#bundle.fault}
          .done=${this.#bundle.done}
          @bundle=${(event: CustomEvent<BundleWish>) => void this.#seal(event.detail)}
        ></hf-book-bundle>`;
      case 'verify':
        return html`<hf-book-verify .keys=${this.#keys} @save-keys=${() => this.#takeaway?.keys(this.#keys)}></hf-book-verify>`;
    }
  }

  #reports = new WeakMap<Digest, Promise<Report>>();
  #report: { readonly of: Digest; readonly report: Report } | null = null;

  #record(page: Extract<Page, { at: 'record' }>, digest: Digest): TemplateResult {
    const take = this.#takeaway;
    if (!take) return html``;
    if (this.#report?.of !== digest) {
      const making = this.#reports.get(digest) ?? take.report(digest);
      this.#reports.set(digest, making);
      this.#try(
        making.then((report) => {
          this.#report = { of: digest, report };
          this.requestUpdate();
        }),
      );
      return html`<p role="status">Making the report …</p>`;
    }
    const { report } = this.#report;
    return html`<hf-book-record
      .digest=${digest}
      .report=${report}
      .as=${page.as}
      @view=${(event: CustomEvent<typeof page.as>) => {
        this.#way = turned(this.#way, { ...page, as: event.detail });
        this.requestUpdate();
      }}
      @print=${() => this.#try(printReport(report))}
      @save-report=${() => take.reportPage(digest, report)}
      @save-record=${() => take.recordFile(digest)}
      @save-table=${() => take.recordsTable(digest)}
      @save-times=${() => take.timesTable(digest)}
    ></hf-book-record>`;
  }

  async #seal(wish: BundleWish): Promise<void> {
    const say = (now: Partial<Sealing>) => {
      this.#bundle = { busy: false, fault: null, done: null, ...now };
      this.requestUpdate();
    };
    say({ busy: true });
    try {
      say({ done: `Saved as ${await this.#takeaway?.bundle(wish)}` });
    } catch (error) {
      say({ fault: error instanceof Error ? error.message : String(error) });
    }
  }
}

customElements.define('hf-book', BookScreen);

declare global {
  interface HTMLElementTagNameMap {
    'hf-book': BookScreen;
  }
}
