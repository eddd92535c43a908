import { css, html, nothing, type TemplateResult } from 'lit';
import { pageStyle } from './page-style.dom.ts';
import { View } from './view.dom.ts';
import type { JobFile } from './wire.ts';

/** The photos and voice notes of one job, fetched when they are looked at and let go of with the part. */
export class FilesPart extends View {
  static override properties = { ...View.properties, job: { attribute: false } };
  declare job: string;
  #files: readonly JobFile[] | null = null;
  readonly #shown = new Map<string, string>();

  static override styles = [
    pageStyle,
    css`
      ul { display: flex; flex-wrap: wrap; gap: 1em; list-style: none; margin: 0.6em 0 0; padding: 0; }
      figure { margin: 0; }
      img { display: block; max-width: min(28rem, 100%); max-height: 20rem; border: 2px solid var(--ink); }
      audio { display: block; width: min(24rem, 100%); }
      figcaption { color: var(--ink-2); }
    `,
  ];

  override connectedCallback(): void {
    super.connectedCallback();
    this.try(async () => {
      this.#files = await this.link.files(this.job);
      for (const file of this.#files) {
        if (!file.here || this.#shown.has(file.sha256)) continue;
        this.#shown.set(file.sha256, URL.createObjectURL(await this.link.file(file)));
        this.requestUpdate();
      }
    });
  }

  override disconnectedCallback(): void {
    for (const url of this.#shown.values()) URL.revokeObjectURL(url);
    this.#shown.clear();
    super.disconnectedCallback();
  }

  #one(file: JobFile): TemplateResult {
    const { sha256, seq, kind, here, bytes } = file;
    const url = this.#shown.get(sha256);
    const says = `${kind === 'photo' ? 'Photo' : 'Voice note'}, record ${seq}`;
    const size = `${Math.ceil(bytes / 1024)} kB`;
    return html`<li><figure>
      ${
        url === undefined
          ? html`<p class="empty">${here ? 'Being fetched' : 'Not here yet: the bench that took it has to reach the office.'}</p>`
          : kind === 'photo'
            ? html`<img src=${url} alt=${says} />`
            : html`<audio controls src=${url} aria-label=${says}></audio>`
      }
      <figcaption>${says}, ${size}<br /><small>SHA-256 ${sha256.slice(0, 16)}</small></figcaption>
    </figure></li>`;
  }

  override render(): TemplateResult {
    return html`
      ${this.fault ? html`<p class="bad" role="alert">${this.fault}</p>` : nothing}
      <ul>${(this.#files ?? []).map((file) => this.#one(file))}</ul>
    `;
  }
}

customElements.define('hf-office-files', FilesPart);
