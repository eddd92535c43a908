import { html, nothing, type TemplateResult } from 'lit';
import type { DeviceKind } from '../../sync/wire.ts';
import type { PeoplePart } from './people-part.dom.ts';
import './people-part.dom.ts';
import { ago, moment, View } from './view.dom.ts';
import type { DeviceRow } from './wire.ts';

/** The benches and desks: letting new ones in, shutting lost ones out, publishing what they work by. */
export class DevicesView extends View {
  #devices: readonly DeviceRow[] = [];
  #code: { kind: DeviceKind; name: string; code: string; expiresAt: string } | null = null;
  #revoking: string | null = null;
  #published: string | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    this.#look();
  }

  #look(): Promise<void> {
    return this.try(async () => {
      this.#devices = await this.link.devices();
    });
  }

  #newBench = (event: Event): void => {
    event.preventDefault();
    this.#newCode('bench', String(new FormData(event.currentTarget as HTMLFormElement).get('name') ?? ''));
  };

  #newCode(kind: DeviceKind, name = ''): void {
    this.try(async () => {
      this.#code = { kind, name, ...(await this.link.code(kind)) };
    });
  }

  #revoke(event: Event, kid: string): void {
    event.preventDefault();
    const why = String(new FormData(event.currentTarget as HTMLFormElement).get('why') ?? '').trim();
    if (why === '') return;
    this.#revoking = null;
    this.try(() => this.link.revoke(kid, why)).then(() => this.#look());
  }

  #publish(event: Event, what: 'workshop' | 'procedure'): void {
    const input = event.currentTarget as HTMLInputElement;
    const [file] = input.files ?? [];
    if (!file) return;
    this.try(async () => {
      const { version } = await this.link.publish(what, JSON.parse(await file.text()));
      this.#published = `${file.name} is published; benches fetch it as version ${version}.`;
      await this.renderRoot.querySelector<PeoplePart>('hf-office-people')?.look();
    });
    input.value = '';
  }

  #link({ kind, code, name }: { kind: DeviceKind; code: string; name: string }): string {
    return kind === 'bench'
      ? `${location.origin}/#office=${code}&name=${encodeURIComponent(name)}`
      : `${location.origin}/office/#code=${code}`;
  }

  override render(): TemplateResult {
    const now = Date.now();
    const code = this.#code;
    return html`
      ${this.fault ? html`<p class="bad" role="alert">${this.fault}</p>` : nothing}
      <form @submit=${this.#newBench}>
        <label>Name of the new bench <input name="name" required maxlength="60" autocomplete="off" /></label>
        <button id="new-bench">Let a new bench in</button>
        <button type="button" class="quiet" @click=${() => this.#newCode('desk')}>Let another desk in</button>
      </form>
      ${
        code
          ? html`<p role="status">Open this on the new ${code.kind}; it is good once, until ${moment(code.expiresAt)} UTC:<br />
              <span class="code">${this.#link(code)}</span></p>`
          : nothing
      }
      <table>
        <caption>Benches and desks</caption>
        <thead><tr><th scope="col">Name</th><th scope="col">Kind</th><th scope="col">Let in</th><th scope="col">Heard of</th><th scope="col"></th></tr></thead>
        <tbody>
          ${this.#devices.map(
            (row) => html`<tr>
              <td><strong>${row.name}</strong><small>key ${row.kid.slice(0, 8)}</small></td>
              <td>${row.kind}</td>
              <td>${moment(row.enrolledAt)}</td>
              <td>${ago(row.seenAt, now)}</td>
              <td>${this.#shutting(row)}</td>
            </tr>`,
          )}
        </tbody>
      </table>
      <h2>Who works at the benches</h2>
      <hf-office-people .link=${this.link}></hf-office-people>
      <h2>What the benches work by</h2>
      <form>
        <label>Workshop: machines, people, tools (JSON) <input type="file" accept="application/json,.json" @change=${(event: Event) => this.#publish(event, 'workshop')} /></label>
        <label>Procedure, proved before it is published (JSON) <input type="file" accept="application/json,.json" @change=${(event: Event) => this.#publish(event, 'procedure')} /></label>
      </form>
      ${this.#published ? html`<p role="status">${this.#published}</p>` : nothing}
    `;
  }

  #shutting(row: DeviceRow): TemplateResult {
    if (row.revokedAt)
      return html`<span class="bad">✕ shut out ${moment(row.revokedAt)}: ${row.revokedWhy}</span>`;
    if (this.#revoking !== row.kid) {
      const ask = () => {
        this.#revoking = row.kid;
        this.requestUpdate();
      };
      return html`<button class="quiet" @click=${ask}>Shut out</button>`;
    }
    return html`<form @submit=${(event: Event) => this.#revoke(event, row.kid)}>
      <label>Why <input name="why" required maxlength="500" /></label><button>Shut out for good</button>
    </form>`;
  }
}

customElements.define('hf-office-devices', DevicesView);
