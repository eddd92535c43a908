import { css, html, LitElement, type TemplateResult } from 'lit';
import { shared } from '../shared-style.ts';

/** A place around a list onto which a file can be dropped, or for which one can be chosen. */
export class ProcedureDropScreen extends LitElement {
  static override properties = { over: { state: true } };
  declare over: boolean;

  static override styles = [
    shared,
    css`
      :host { grid-template: minmax(0, 1fr) / minmax(0, 1fr); position: relative; overflow: hidden; }
      ::slotted(*) { height: 100%; min-height: 0; }
      .here { position: absolute; inset: 0; display: grid; place-items: center; background: var(--paper); border: max(calc(1 * var(--u)), 6px) dashed var(--ink); font-size: max(calc(4 * var(--u)), var(--least)); font-weight: 700; pointer-events: none; }
      input { display: none; }
    `,
  ];

  constructor() {
    super();
    this.over = false;
  }

  override render(): TemplateResult {
    return html`<slot></slot>
      <p class="here" ?hidden=${!this.over}>Let go: the file is looked at before anything of it is taken.</p>
      <input type="file" accept=".json,application/json" aria-label="A published procedure" @change=${this.#chosen} />`;
  }

  /** Opens the browser's own question for a file. */
  choose(): void {
    this.renderRoot.querySelector('input')?.click();
  }

  #chosen = (event: Event) => {
    const field = event.target as HTMLInputElement;
    this.#give(field.files?.[0]);
    // The same file again is a new choice.
    field.value = '';
  };

  #give(file: File | undefined | null): void {
    if (file) this.dispatchEvent(new CustomEvent<File>('file', { detail: file }));
  }

  #drag = (event: DragEvent) => {
    event.preventDefault();
    this.over = event.type === 'dragover' || event.type === 'dragenter';
  };

  #drop = (event: DragEvent) => {
    this.#drag(event);
    this.#give(event.dataTransfer?.files[0]);
  };

  override connectedCallback(): void {
    super.connectedCallback();
    for (const type of ['dragenter', 'dragover', 'dragleave'] as const)
      this.addEventListener(type, this.#drag);
    this.addEventListener('drop', this.#drop);
  }

  override disconnectedCallback(): void {
    for (const type of ['dragenter', 'dragover', 'dragleave'] as const)
      this.removeEventListener(type, this.#drag);
    this.removeEventListener('drop', this.#drop);
    super.disconnectedCallback();
  }
}

customElements.define('hf-procedure-drop', ProcedureDropScreen);

declare global {
  interface HTMLElementTagNameMap {
    'hf-procedure-drop': ProcedureDropScreen;
  }
}
