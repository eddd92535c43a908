import type { JSONWebKeySet } from 'jose';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { JournalError } from '../../journal/fault.ts';
import { MAX_FILE } from '../../journal/file.ts';
import type { Report } from '../../journal/verify.ts';
import { isKeySet } from '../../journal/verify-seal.ts';
import { MAX_BUNDLE } from '../unpack.ts';
import { type Apart, verifyApart } from '../verify-apart.dom.ts';
import type { Looked } from '../verify-talk.ts';
import { counted, momentInWords } from '../words.ts';
import { bookStyle, tell } from './book-style.dom.ts';

type Verified = { readonly name: string } & (Looked | { readonly kind: 'not'; readonly says: string });

/** Verifying files that were brought along: dropped on the page, or chosen. Nothing of them is kept. */
export class VerifyPage extends LitElement {
  static override properties = {
    keys: { attribute: false },
    results: { state: true },
    more: { state: true },
    busy: { state: true },
    apart: { attribute: false },
    over: { state: true },
  };
  /** The key of this bench. */
  declare keys: JSONWebKeySet;
  declare results: readonly Verified[];
  /** Keys of other benches, brought along too. */
  declare more: JSONWebKeySet | null;
  /** What is being done now, in words; null: nothing. */
  declare busy: string | null;
  /** Where files are verified. */
  declare apart: typeof verifyApart;
  declare over: boolean;

  static override styles = [
    bookStyle,
    css`
      .place { border: 3px dashed var(--ink-2); padding: 1.5rem; }
      .place.over { border-style: solid; background: var(--paper-2); }
      section { border-bottom: 2px solid var(--ink); padding: 0 0 1rem; }
      ul { padding-left: 1.2rem; }
    `,
  ];

  constructor() {
    super();
    this.keys = { keys: [] };
    this.results = [];
    this.more = null;
    this.busy = null;
    this.apart = verifyApart;
    this.over = false;
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#stop();
  }

  override render(): TemplateResult {
    return html`<h1 tabindex="-1">Verify records</h1>
      <p class="lead">A record file (.holdfast.jsonl) or a bundle (.zip) from this bench or another. Every line is looked at: form, chain, seal, procedure, every event
        run again, every hold point. The file is not kept.</p>
      <div class="place ${this.over ? 'over' : ''}" @dragover=${this.#dragged} @dragleave=${this.#dragged} @drop=${this.#dropped}>
        <label>Drop files here, or choose them
          <input type="file" multiple accept=".jsonl,.zip,.json" @change=${(event: Event) => this.#take((event.target as HTMLInputElement).files)} />
        </label>
      </div>
      <p>Seals are held against the key of this bench${this.more ? ` and ${counted(this.more.keys.length, 'key')} that you brought` : ''}. For records of other
        benches choose their keys too (a JWK Set, .json). <button type="button" @click=${() => tell(this, 'save-keys', null)}>Save the key of this bench</button></p>
      <div role="status">${this.busy ? html`<p>${this.busy}</p>` : this.results.map((result) => this.#result(result))}</div>
      ${this.busy ? html`<p><button type="button" @click=${this.#stop}>Stop looking</button></p>` : nothing}`;
  }

  #now: Apart | null = null;
  /** The choice that is being looked at: what comes of an earlier one is no longer wanted. */
  #choice = { stopped: true };

  #stop = (): void => {
    this.#choice.stopped = true;
    this.#now?.stop();
  };

  #dragged = (event: DragEvent) => {
    event.preventDefault();
    this.over = event.type === 'dragover';
  };

  #dropped = (event: DragEvent) => {
    event.preventDefault();
    this.over = false;
    void this.#take(event.dataTransfer?.files ?? null);
  };

  async #take(files: FileList | null): Promise<void> {
    this.#stop();
    const choice = { stopped: false };
    this.#choice = choice;
    this.busy = 'Looking …';
    this.results = [];
    const chosen = [...(files ?? [])];
    const results: Verified[] = [];
    // Keys first, in whatever order they were chosen: the records are held against them.
    for (const file of chosen.filter(({ name }) => name.endsWith('.json')))
      results.push(...(await this.#takeKeys(file)));
    for (const file of chosen.filter(({ name }) => !name.endsWith('.json'))) {
      if (choice.stopped) break;
      results.push(await this.#look(file));
    }
    if (this.#choice !== choice) return;
    this.results = results;
    this.busy = null;
  }

  /** One file, looked at in a worker: the page goes on. */
  async #look(file: File): Promise<Verified> {
    const { name, size } = file;
    if (size > (name.endsWith('.zip') ? MAX_BUNDLE : MAX_FILE))
      return { name, kind: 'not', says: 'This file is far larger than any record.' };
    this.busy = `Looking at ${name} …`;
    const keys = { keys: [...this.keys.keys, ...(this.more?.keys ?? [])] };
    const apart = this.apart({ file, keys }, (done, all) => {
      this.busy = `Looking at ${name}: ${done} of ${counted(all, 'record')} done …`;
    });
    this.#now = apart;
    try {
      return { name, ...(await apart.looked) };
    } catch (error) {
      if (!(error instanceof JournalError)) throw error;
      return { name, kind: 'not', says: error.message };
    } finally {
      if (this.#now === apart) this.#now = null;
    }
  }

  async #takeKeys(file: File): Promise<Verified[]> {
    try {
      const value: unknown = JSON.parse(await file.text());
      if (isKeySet(value)) {
        this.more = value;
        return [];
      }
    } catch {
      // Said below.
    }
    return [
      {
        name: file.name,
        kind: 'not',
        says: 'This is no set of public keys (JWK Set, of the form {"keys": [...]}).',
      },
    ];
  }

  #result(result: Verified): TemplateResult {
    if (result.kind === 'not')
      return html`<section><h2>${result.name}</h2><p class="bad">✕ ${result.says}</p></section>`;
    if (result.kind === 'record') return html`<section>${this.#record(result.name, result.report)}</section>`;
    const { holds, findings, remarks, records, manifest } = result.report;
    return html`<section>
      <h2>${result.name}</h2>
      ${
        holds && manifest
          ? html`<p class="good">✓ The bundle holds: ${counted(records.length, 'record')} of ${manifest.from} to ${manifest.to}, sealed by ${manifest.signedBy.name} (${manifest.signedBy.role}), ${momentInWords(manifest.signedAt)}.</p>
              <p>${manifest.meaning}.</p>`
          : html`<p class="bad">✕ The bundle does not hold.</p>`
      }
      <ul>
        ${findings.map(({ file, says }) => html`<li class="bad">${file ? `${file}: ` : ''}${says}</li>`)}
        ${remarks.map((says) => html`<li>${says}</li>`)}
      </ul>
      ${records.map(({ file, report }) => this.#record(file, report))}
    </section>`;
  }

  #record(name: string, { holds, findings, remarks, record }: Report): TemplateResult {
    return html`<h2 class="long">${name}</h2>
      ${
        holds && record
          ? html`<p class="good">✓ The record holds: ${record.procedure.title} on ${record.machine}, ${record.outcome}, ${record.records} records, opened ${momentInWords(record.openedAt)}, sealed by ${record.sealedBy?.name ?? '?'} ${momentInWords(record.sealedAt ?? '')}.</p>`
          : html`<p class="bad">✕ The record does not hold${record ? html`: ${record.machine}, ${record.procedure.title}` : nothing}.</p>`
      }
      ${
        findings.length + remarks.length === 0
          ? nothing
          : html`<ul>
              ${findings.map(({ line, says }) => html`<li class="bad">Line ${line}: ${says}</li>`)}
              ${remarks.map(({ line, says }) => html`<li>Line ${line}: ${says}</li>`)}
            </ul>`
      }`;
  }
}

customElements.define('hf-book-verify', VerifyPage);

declare global {
  interface HTMLElementTagNameMap {
    'hf-book-verify': VerifyPage;
  }
}
