import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { DeskLink } from './desk-link.dom.ts';
import './live-view.dom.ts';
import './book-view.dom.ts';
import './devices-view.dom.ts';
import { pageStyle } from './page-style.dom.ts';

type Part = 'live' | 'book' | 'figures' | 'devices';

const PARTS: readonly { readonly part: Part; readonly says: string }[] = [
  { part: 'live', says: 'At the benches' },
  { part: 'book', says: 'Record book' },
  { part: 'figures', says: 'Figures' },
  { part: 'devices', says: 'Devices and people' },
];

/** The supervisor's page: what goes on at the benches, what was done, what it shows, who may send. */
export class OfficePage extends LitElement {
  static override properties = { fault: { state: true }, shown: { state: true } };
  declare fault: string | null;
  declare shown: Part;
  #link: DeskLink | null = null;
  #asked = false;

  static override styles = [
    pageStyle,
    css`
      :host { height: 100%; overflow: auto; background: var(--paper); }
      header { display: flex; flex-wrap: wrap; gap: 0.4em 2em; align-items: baseline; padding: 1em 2rem 0; border-bottom: 4px solid var(--ink); }
      h1 { font-size: 1.5rem; margin: 0; }
      nav { display: flex; flex-wrap: wrap; gap: 0.2em; }
      nav button { border: 0; border-radius: 0; background: none; font-weight: 400; padding: 0.7em 1em; }
      nav button[aria-current="page"] { background: var(--ink); color: var(--paper); font-weight: 700; }
      main { padding: 1.4rem 2rem 3rem; }
      .who { margin-left: auto; color: var(--ink-2); }
    `,
  ];

  constructor() {
    super();
    this.fault = null;
    this.shown = 'live';
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#begin().catch((error: unknown) => this.#failed(error));
  }

  async #begin(): Promise<void> {
    this.#link = await DeskLink.kept();
    this.#asked = true;
    this.requestUpdate();
  }

  #failed(error: unknown): void {
    this.fault = error instanceof Error ? error.message : String(error);
  }

  #enrol(event: Event): void {
    event.preventDefault();
    const data = new FormData(event.currentTarget as HTMLFormElement);
    DeskLink.enrol(String(data.get('code') ?? ''), String(data.get('name') ?? '')).then(
      (link) => {
        history.replaceState(null, '', location.pathname);
        this.#link = link;
        this.fault = null;
        this.requestUpdate();
      },
      (error: unknown) => this.#failed(error),
    );
  }

  async #show(part: Part): Promise<void> {
    // Charts are fetched when they are wanted.
    if (part === 'figures') await import('./figures-view.dom.ts');
    this.shown = part;
  }

  override render(): TemplateResult {
    const link = this.#link;
    return html`
      <header>
        <h1>Office</h1>
        ${link ? this.#tabs() : nothing}
        ${link ? html`<span class="who">${link.name}</span>` : nothing}
      </header>
      <main>
        ${this.fault ? html`<p class="bad" role="alert">${this.fault}</p>` : nothing}
        ${link ? this.#shown(link) : this.#asked ? this.#enrolment() : nothing}
      </main>
    `;
  }

  #tabs(): TemplateResult {
    return html`<nav>
      ${PARTS.map(
        ({ part, says }) => html`<button
          aria-current=${this.shown === part ? 'page' : 'false'}
          @click=${() => this.#show(part).catch((error: unknown) => this.#failed(error))}
        >${says}</button>`,
      )}
    </nav>`;
  }

  #shown(link: DeskLink): TemplateResult {
    switch (this.shown) {
      case 'live':
        return html`<hf-office-live .link=${link}></hf-office-live>`;
      case 'book':
        return html`<hf-office-book .link=${link}></hf-office-book>`;
      case 'figures':
        return html`<hf-office-figures .link=${link}></hf-office-figures>`;
      case 'devices':
        return html`<hf-office-devices .link=${link}></hf-office-devices>`;
    }
  }

  #enrolment(): TemplateResult {
    const code = /^#code=([0-9A-Za-z-]{1,40})$/.exec(location.hash)?.[1] ?? '';
    return html`<p>This browser is not a desk of this office yet. The office told a code where it was started; another desk can make one.</p>
      <form @submit=${(event: Event) => this.#enrol(event)}>
        <label>Code <input name="code" required maxlength="40" autocomplete="off" .value=${code} /></label>
        <label>Name of this desk <input name="name" required maxlength="60" autocomplete="off" /></label>
        <button>Let this desk in</button>
      </form>`;
  }
}

customElements.define('hf-office', OfficePage);
