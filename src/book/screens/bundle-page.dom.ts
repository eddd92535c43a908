import { html, LitElement, nothing, type TemplateResult } from 'lit';
import type { Person } from '../../procedure/context.ts';
import { may } from '../../procedure/roles.ts';
import { onDays } from '../bundle.ts';
import type { Digest } from '../digest.ts';
import { counted } from '../words.ts';
import { bookStyle, tell } from './book-style.dom.ts';

/** What is asked for: the days, who seals, and the PIN that shows it is them; null: they show their passkey. */
export interface BundleWish {
  readonly from: string;
  readonly to: string;
  readonly person: Person;
  readonly pin: string | null;
}

/** Choosing the days of a bundle and sealing it: an act of its own, by id and PIN or passkey. */
export class BundlePage extends LitElement {
  static override properties = {
    digests: { attribute: false },
    people: { attribute: false },
    passkeys: { attribute: false },
    today: { type: String },
    busy: { type: Boolean },
    fault: { type: String },
    done: { type: String },
    span: { state: true },
  };
  declare digests: readonly Digest[];
  declare people: readonly Person[];
  /** Ids of the people who have a passkey here. */
  declare passkeys: ReadonlySet<string>;
  declare today: string;
  declare busy: boolean;
  declare fault: string | null;
  declare done: string | null;
  declare span: { readonly from: string; readonly to: string } | null;
  static override styles = bookStyle;

  constructor() {
    super();
    this.digests = [];
    this.people = [];
    this.passkeys = new Set();
    this.today = '';
    this.busy = false;
    this.fault = null;
    this.done = null;
    this.span = null;
  }

  override render(): TemplateResult {
    const { from, to } = this.span ?? { from: `${this.today.slice(0, 7)}-01`, to: this.today };
    const mine = this.digests.filter((digest) => onDays(digest, from, to));
    const sealed = mine.filter((digest) => digest.sealed).length;
    const signers = this.people.filter(({ role }) => may(role, 'bundle'));
    return html`<h1 tabindex="-1">Bundle of records</h1>
      <p class="lead">All sealed records of some days in one zip: record files, reports, photos and voice notes, tables, the certificates of the procedures,
        and a signed list of it all. Whoever gets it can check it without this bench.</p>
      <form @submit=${(event: SubmitEvent) => this.#submit(event, signers)}>
        <div class="row" @input=${this.#span}>
          <label>From<input name="from" type="date" required .value=${from} /></label>
          <label>To<input name="to" type="date" required .value=${to} /></label>
        </div>
        <p role="status">${counted(sealed, 'sealed job')}${mine.length > sealed ? `; ${mine.length - sealed} not sealed yet, only named in the list` : ''}.</p>
        <h2>Seal it</h2>
        <p>By your name and your PIN or passkey you release these records as complete and true copies.</p>
        <div class="row">
          <label>Supervisor
            <select name="person" required>${signers.map(({ id, name }) => html`<option value=${id}>${name} (${id})</option>`)}</select>
          </label>
          <label>PIN<input name="pin" type="password" inputmode="numeric" pattern="[0-9]{4,8}" required autocomplete="off" /></label>
          <button ?disabled=${this.busy || sealed === 0 || signers.length === 0}>Seal and save the bundle</button>
          ${
            signers.some(({ id }) => this.passkeys.has(id))
              ? html`<button type="button" ?disabled=${this.busy || sealed === 0} @click=${(event: Event) => this.#byPasskey(event, signers)}>Seal it by passkey</button>`
              : nothing
          }
        </div>
      </form>
      <p role="status">${this.busy ? 'Putting it together …' : (this.done ?? nothing)}</p>
      ${this.fault ? html`<p class="bad" role="alert">${this.fault}</p>` : nothing}`;
  }

  #span = (event: Event) => {
    const form = (event.currentTarget as HTMLElement).closest('form');
    const given = form ? new FormData(form) : null;
    this.span = { from: String(given?.get('from') ?? ''), to: String(given?.get('to') ?? '') };
  };

  #submit(event: SubmitEvent, signers: readonly Person[]): void {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    const pin = String(new FormData(form).get('pin'));
    // The PIN stays in the field no longer than it takes to read it.
    const field = form.elements.namedItem('pin');
    if (field instanceof HTMLInputElement) field.value = '';
    this.#wish(form, signers, pin);
  }

  #byPasskey(event: Event, signers: readonly Person[]): void {
    const form = (event.currentTarget as HTMLButtonElement).form;
    if (form) this.#wish(form, signers, null);
  }

  #wish(form: HTMLFormElement, signers: readonly Person[], pin: string | null): void {
    const given = new FormData(form);
    const person = signers.find(({ id }) => id === given.get('person'));
    const [from, to] = [String(given.get('from')), String(given.get('to'))];
    if (!person || from === '' || to === '') return;
    const wish: BundleWish = { from, to, person, pin };
    tell(this, 'bundle', wish);
  }
}

customElements.define('hf-book-bundle', BundlePage);

declare global {
  interface HTMLElementTagNameMap {
    'hf-book-bundle': BundlePage;
  }
}
