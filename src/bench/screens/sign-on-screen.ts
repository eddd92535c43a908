import { css, html, LitElement, type TemplateResult } from 'lit';
import { pinPanel, pinStyle } from '../parts/pin.ts';
import { shared } from '../shared-style.ts';

/** Signing on before a job: one person, one PIN. */
export class SignOnScreen extends LitElement {
  static override properties = {
    person: { type: String },
    typed: { type: Number },
    fault: { type: String },
    hint: { type: String },
    passkey: { type: Boolean },
  };
  declare person: string;
  declare typed: number;
  declare fault: string | null;
  declare hint: string | null;
  /** This person has a passkey. */
  declare passkey: boolean;

  static override styles = [
    shared,
    pinStyle,
    css`
      /* Worked with a hand on it: the least and the reading size at arm's length. */
      :host { --least: var(--near); --reading: calc(1.25 * var(--near)); }
      :host { grid-template-rows: minmax(0, 1fr) auto; padding: calc(1.4 * var(--edge)) calc(2 * var(--edge)) var(--edge); }
      footer { display: flex; gap: calc(2.6 * var(--u)); font-size: max(calc(2 * var(--u)), var(--near)); color: var(--ink-2); border-top: calc(0.3 * var(--u)) solid var(--rule); padding-top: calc(1.2 * var(--u)); }
    `,
  ];

  constructor() {
    super();
    this.person = '';
    this.typed = 0;
    this.fault = null;
    this.hint = null;
    this.passkey = false;
  }

  override render(): TemplateResult {
    return html`${pinPanel(this.person, this.typed, this.fault, this.hint, this.passkey, true)}
      <footer role="none"><span><kbd>digits</kbd>, then <kbd>Enter</kbd></span><span><kbd>Del</kbd> erase</span><span><kbd>Esc</kbd> back</span></footer>`;
  }
}

customElements.define('hf-sign-on', SignOnScreen);

declare global {
  interface HTMLElementTagNameMap {
    'hf-sign-on': SignOnScreen;
  }
}
