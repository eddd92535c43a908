import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { Digest } from '../digest.ts';
import { nameOf } from '../digest.ts';
import type { Report } from '../report.ts';
import { recordInWords, stationsOf, storyOf } from '../story.ts';
import { outcomeInWords } from '../words.ts';
import { bookStyle, tell } from './book-style.dom.ts';

const VIEWS = [
  ['report', 'Report'],
  ['story', 'Story'],
  ['table', 'Every record'],
] as const;

/** One job: as the report that is printed, as a story, and record by record. */
export class RecordPage extends LitElement {
  static override properties = {
    digest: { attribute: false },
    report: { attribute: false },
    as: { attribute: false },
  };
  declare digest: Digest;
  declare report: Report;
  declare as: (typeof VIEWS)[number][0];

  static override styles = [
    bookStyle,
    css`
      .views { padding: 0.8rem 0; }
      .paper { --report-size: 0.9375rem; background: #fff; color: #15181d; padding: 1.5rem; overflow-x: auto; }
      ol { list-style: none; }
      .chapter { border-left: 3px solid var(--rule); padding: 0 0 0.8rem 1rem; max-width: 60rem; }
      .chapter.hold { border-left: 6px solid var(--hold); }
      .chapter h2 { padding-top: 0.2rem; }
      .lines li { display: grid; grid-template-columns: 5.5rem 1fr; gap: 0.5rem; }
    `,
  ];

  override render(): TemplateResult {
    const { machine, definition, outcome, sealed } = this.digest;
    return html`<h1 tabindex="-1">${definition.meta.title}, ${machine.says}</h1>
      <p class="lead">${outcomeInWords(outcome)} · ${this.digest.openedAt.slice(0, 10)} · revision ${definition.meta.revision}${sealed ? nothing : ' · not sealed'}</p>
      <div class="row views" role="group" aria-label="How it is shown">
        ${VIEWS.map(
          ([as, says]) =>
            html`<button type="button" aria-pressed=${as === this.as} @click=${() => tell(this, 'view', as)}>${says}</button>`,
        )}
      </div>
      <div class="row" role="group" aria-label="Take it along">
        <button type="button" @click=${() => tell(this, 'print', null)}>Print the report</button>
        <button type="button" @click=${() => tell(this, 'save-report', null)}>Save the report as a page</button>
        <button type="button" ?disabled=${!sealed} @click=${() => tell(this, 'save-record', null)}>Save the record file</button>
        <button type="button" @click=${() => tell(this, 'save-table', null)}>Save the records as a table (CSV)</button>
        <button type="button" @click=${() => tell(this, 'save-times', null)}>Save the times as a table (CSV)</button>
      </div>
      <div class="views">${this.as === 'story' ? this.#story() : this.as === 'table' ? this.#table() : html`<div class="paper" id="paper" role="region" aria-label="Job report" tabindex="0"></div>`}</div>`;
  }

  /** The report is text that was escaped when it was made; its style comes as a sheet, because inline ones are barred. */
  override updated(changed: PropertyValues<this>): void {
    const paper = this.renderRoot.querySelector('#paper');
    if (!paper || !(changed.has('report') || changed.has('as'))) return;
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(this.report.css);
    const root = this.renderRoot as ShadowRoot;
    const own = (this.constructor as typeof RecordPage).elementStyles.length;
    root.adoptedStyleSheets = [...root.adoptedStyleSheets.slice(0, own), sheet];
    paper.replaceChildren(...new DOMParser().parseFromString(this.report.body, 'text/html').body.childNodes);
  }

  #story(): TemplateResult {
    const chapters = storyOf(this.digest);
    return html`<ol>
      ${chapters.map(
        ({ says, kind, day, lines }, at) => html`<li class="chapter ${kind}">
          <h2>${kind === 'hold' ? html`<b>Hold point:</b> ` : nothing}${says}</h2>
          ${day === chapters[at - 1]?.day ? nothing : html`<p class="quiet">${day}</p>`}
          <ol class="lines">
            ${lines.map(
              ({ time, who, words, via, refused }) => html`<li>
                <span class="time">${time}</span>
                <span>${who} ${words} <span class="quiet">(by ${via})</span>${
                  refused === null ? nothing : html`<br /><span class="bad">Refused: ${refused}</span>`
                }</span>
              </li>`,
            )}
          </ol>
        </li>`,
      )}
    </ol>`;
  }

  #table(): TemplateResult {
    const { records } = this.digest;
    const stations = stationsOf(records);
    return html`<div class="wide" role="region" aria-label="Every record" tabindex="0"><table>
      <caption>Every record. Times are UTC; the hash is the first 12 digits.</caption>
      <thead><tr><th scope="col" class="number">No.</th><th scope="col">At</th><th scope="col">Person</th><th scope="col">By</th><th scope="col">What</th><th scope="col">Taken</th><th scope="col">Station</th><th scope="col">Then at</th><th scope="col">Hash</th></tr></thead>
      <tbody>
        ${records.map(
          (record, at) => html`<tr>
            <td class="number">${record.seq}</td><td class="time">${record.at.slice(0, 23).replace('T', ' ')}</td>
            <td>${nameOf(this.digest, record.by)}</td><td>${record.via}</td>
            <td>${recordInWords(this.digest, record, stations[at] ?? '')}</td>
            <td>${record.outcome === 'accepted' ? 'yes' : html`<span class="bad">refused: ${record.reason?.sentence}</span>`}</td>
            <td>${stations[at]}</td><td>${record.station}</td><td class="code">${record.hash.slice(0, 12)}</td>
          </tr>`,
        )}
      </tbody>
    </table></div>`;
  }
}

customElements.define('hf-book-record', RecordPage);

declare global {
  interface HTMLElementTagNameMap {
    'hf-book-record': RecordPage;
  }
}
