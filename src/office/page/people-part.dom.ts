import { html, nothing, type TemplateResult } from 'lit';
import { hashPin } from '../../job/pins.dom.ts';
import { moment, View } from './view.dom.ts';
import type { PersonRow } from './wire.ts';

/** The people of the workshop: who may work at the benches, and who may not any more. */
export class PeoplePart extends View {
  #people: readonly PersonRow[] = [];
  #shutting: string | null = null;
  #pinning: string | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    this.look();
  }

  look(): Promise<void> {
    return this.try(async () => {
      this.#people = await this.link.people();
    });
  }

  #shutOut(event: Event, person: string): void {
    event.preventDefault();
    const why = String(new FormData(event.currentTarget as HTMLFormElement).get('why') ?? '').trim();
    if (why === '') return;
    this.#shutting = null;
    this.try(() => this.link.shutOut(person, why)).then(() => this.look());
  }

  #setPin(event: Event, person: string): void {
    event.preventDefault();
    const pin = String(new FormData(event.currentTarget as HTMLFormElement).get('pin') ?? '');
    this.#pinning = null;
    this.try(async () => this.link.setPin(person, await hashPin(pin))).then(() => this.look());
  }

  #pin({ id, name, hasPin }: PersonRow): TemplateResult {
    if (this.#pinning === id)
      return html`<form @submit=${(event: Event) => this.#setPin(event, id)}>
        <label>PIN of ${name}, 4 to 8 digits <input name="pin" type="password" inputmode="numeric" pattern="\\d{4,8}" required autocomplete="off" /></label>
        <button>Set it</button>
      </form>`;
    const ask = () => {
      this.#pinning = id;
      this.requestUpdate();
    };
    return html`<button class="quiet" @click=${ask}>${hasPin ? 'Set another PIN' : 'Set a PIN'}</button>`;
  }

  #letIn(person: string): void {
    this.try(() => this.link.letIn(person)).then(() => this.look());
  }

  #state(row: PersonRow): TemplateResult {
    if (row.shutOutAt)
      return html`<span class="bad">✕ shut out ${moment(row.shutOutAt)}: ${row.shutOutWhy}</span>
        <button class="quiet" @click=${() => this.#letIn(row.id)}>Let in again</button>`;
    if (this.#shutting !== row.id) {
      const ask = () => {
        this.#shutting = row.id;
        this.requestUpdate();
      };
      return html`<button class="quiet" @click=${ask}>Shut out</button>`;
    }
    return html`<form @submit=${(event: Event) => this.#shutOut(event, row.id)}>
      <label>Why <input name="why" required maxlength="500" /></label><button>Shut out</button>
    </form>`;
  }

  override render(): TemplateResult {
    return html`
      ${this.fault ? html`<p class="bad" role="alert">${this.fault}</p>` : nothing}
      <table>
        <caption>People; whoever is shut out signs on and witnesses no more, and their open jobs wait for somebody else</caption>
        <thead><tr><th scope="col">Name</th><th scope="col">Role</th><th scope="col">Sign-on</th><th scope="col"></th></tr></thead>
        <tbody>
          ${this.#people.map(
            (row) => html`<tr data-person=${row.id}>
              <td><strong>${row.name}</strong></td>
              <td>${row.role}</td>
              <td>${this.#pin(row)}</td>
              <td>${this.#state(row)}</td>
            </tr>`,
          )}
        </tbody>
      </table>
      ${this.#people.length === 0 ? html`<p class="empty">No workshop was published yet.</p>` : nothing}
    `;
  }
}

customElements.define('hf-office-people', PeoplePart);
