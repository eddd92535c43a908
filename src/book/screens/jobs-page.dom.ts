import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import type { Digest } from '../digest.ts';
import { nameOf } from '../digest.ts';
import { choicesIn, type Filter, matches, noFilter } from '../filter.ts';
import type { Unreadable } from '../shelf-of-records.dom.ts';
import { firstVerdicts } from '../verdicts.ts';
import { outcomeInWords, spanInWords } from '../words.ts';
import { bookStyle, tell } from './book-style.dom.ts';

/** The list of jobs with search and filter: one line a job, two of them can be picked to be compared. */
export class JobsPage extends LitElement {
  static override properties = {
    digests: { attribute: false },
    unreadable: { attribute: false },
    filter: { attribute: false },
    picks: { attribute: false },
  };
  declare digests: readonly Digest[];
  declare unreadable: readonly Unreadable[];
  declare filter: Filter;
  declare picks: readonly string[];

  static override styles = [
    bookStyle,
    css`
      form { padding: 0 0 1rem; }
      .text { flex: 1 1 16rem; }
      .actions { padding: 0.8rem 0 0; }
    `,
  ];

  constructor() {
    super();
    this.digests = [];
    this.unreadable = [];
    this.filter = noFilter;
    this.picks = [];
  }

  /** The jobs that answer the filter. */
  get shown(): readonly Digest[] {
    return this.digests.filter((digest) => matches(digest, this.filter));
  }

  override render(): TemplateResult {
    const { shown } = this;
    return html`${this.#form()}
      ${this.unreadable.map(({ job, says }) => html`<p class="bad" role="alert">Job ${job}: ${says}</p>`)}
      <p role="status" class="lead">${shown.length} of ${this.digests.length} jobs</p>
      <div class="wide" role="region" aria-label="Jobs" tabindex="0">
        <table>
          <caption>Jobs, the latest first. All times are UTC.</caption>
          <thead>
            <tr>
              <th scope="col">Compare</th><th scope="col">Job</th><th scope="col">Machine</th><th scope="col">Opened</th>
              <th scope="col">Outcome</th><th scope="col">People</th><th scope="col" class="number">Took</th>
              <th scope="col" class="number">Refused</th><th scope="col">To look at</th>
            </tr>
          </thead>
          <tbody>${shown.map((digest) => this.#line(digest))}</tbody>
        </table>
      </div>
      <div class="row actions">
        <button type="button" ?disabled=${this.picks.length !== 2} @click=${() => tell(this, 'compare', this.picks)}>Compare the two that are ticked</button>
        <button type="button" ?disabled=${shown.length === 0} @click=${() => tell(this, 'jobs-table', shown)}>Save this list as a table (CSV)</button>
      </div>`;
  }

  #form(): TemplateResult {
    const { machines, people, procedures } = choicesIn(this.digests);
    const pick = (label: string, name: keyof Filter, options: readonly { id: string; says: string }[]) =>
      html`<label>${label}
        <select name=${name}>
          <option value="">all</option>
          ${options.map(({ id, says }) => html`<option value=${id} ?selected=${this.filter[name] === id}>${says}</option>`)}
        </select>
      </label>`;
    const outcomes = (['open', 'complete', 'stopped'] as const).map((id) => ({
      id,
      says: outcomeInWords(id),
    }));
    return html`<form role="search" aria-label="Find jobs" class="row" @input=${this.#changed} @submit=${(event: Event) => event.preventDefault()}>
      <label class="text">Words<input name="text" type="search" .value=${this.filter.text} /></label>
      ${pick('Machine', 'machine', machines)}${pick('Person', 'person', people)}
      ${pick('Procedure', 'procedure', procedures)}${pick('Outcome', 'outcome', outcomes)}
      <label>From<input name="from" type="date" .value=${this.filter.from} /></label>
      <label>To<input name="to" type="date" .value=${this.filter.to} /></label>
    </form>`;
  }

  #changed = (event: Event) => {
    const form = event.currentTarget as HTMLFormElement;
    const given = Object.fromEntries([...new FormData(form)].map(([name, value]) => [name, String(value)]));
    tell(this, 'filter', { ...noFilter, ...given } as Filter);
  };

  #line(digest: Digest): TemplateResult {
    const { job, definition, machine, openedAt, outcome, people, times, refused } = digest;
    const title = `${definition.meta.title}, ${machine.says}, ${openedAt.slice(0, 10)}`;
    return html`<tr>
      <td><input type="checkbox" aria-label=${`Compare ${title}`} .checked=${this.picks.includes(job)} @change=${() => tell(this, 'pick', job)} /></td>
      <th scope="row"><button type="button" @click=${() => tell(this, 'open-job', job)}>${definition.meta.title}</button></th>
      <td>${machine.says}</td>
      <td class="time">${openedAt.slice(0, 16).replace('T', ' ')}</td>
      <td class=${{ complete: 'good', stopped: 'bad', open: '' }[outcome]}>${outcomeInWords(outcome)}${outcome !== 'open' && !digest.sealed ? ', not sealed' : ''}</td>
      <td>${people.map(({ id }) => nameOf(digest, id)).join(', ')}</td>
      <td class="number">${spanInWords(times.elapsed)}</td>
      <td class="number">${refused.length || nothing}</td>
      <td>${remarksOn(digest)}</td>
    </tr>`;
  }
}

/** What a supervisor should look at first, in a few words. */
function remarksOn({ verdicts, troubles, tools }: Digest): string {
  const conceded = verdicts.filter(({ what }) => what === 'conceded').length;
  const failed = [...firstVerdicts(verdicts).values()].filter((what) => what === 'failed').length;
  const undecided = troubles.filter(({ decided }) => decided === null).length;
  const lapsed = tools.filter(({ inDate }) => inDate === false).length;
  const said = [
    conceded > 0 ? `${conceded} CONCEDED` : null,
    failed > 0 ? `${failed} failed at first` : null,
    troubles.length > 0 ? `${troubles.length} nonconforming` : null,
    undecided > 0 ? `${undecided} undecided` : null,
    lapsed > 0 ? 'calibration lapsed' : null,
  ];
  return said.filter((one) => one !== null).join(' · ');
}

customElements.define('hf-book-jobs', JobsPage);

declare global {
  interface HTMLElementTagNameMap {
    'hf-book-jobs': JobsPage;
  }
}
