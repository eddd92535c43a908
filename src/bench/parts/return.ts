import { css, html, nothing, type TemplateResult } from 'lit';
import { type Return, spell } from '../../job/return.ts';
import { HOLD_PRESS_MS } from '../../procedure/settle-hold.ts';
import { bar } from './bar.ts';

const clock = (at: number): string =>
  new Date(at).toLocaleTimeString([], { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' });

/** After a day and more the time of day alone would mislead. */
const moment = (at: number, away: number): string =>
  away < 20 * 3_600_000 ? clock(at) : `${new Date(at).toLocaleDateString()}, ${clock(at)}`;

/** Coming back to a job: where we were, what was confirmed last, what to look at; after a long break the hold is read again. */
export function returnPanel(back: Return, heldMs: number | null): TemplateResult {
  const { since, away, byItself, stands, last, confirmed, look, readAgain } = back;
  return html`<div class="return">
    <p>${byItself === null ? `Paused at ${moment(since, away)}` : `${byItself} Last done at ${moment(since, away)}`}, ${spell(away)} ago.</p>
    <p class="stands"><b>You stand at</b> ${stands}</p>
    <dl>
      ${
        confirmed && readAgain === null
          ? html`<dt>Last confirmed</dt><dd>${confirmed.says} <span>${confirmed.opened}, ${confirmed.by}, ${clock(confirmed.at)}</span></dd>`
          : nothing
      }
      ${last ? html`<dt>Last done</dt><dd>${last.says} <span>${last.by}</span></dd>` : nothing}
      ${look.length > 0 ? html`<dt>Before you go on</dt>${look.map((says) => html`<dd>${says}</dd>`)}` : nothing}
    </dl>
    ${
      readAgain === null
        ? nothing
        : html`<div class="again">
            <p><b>Read again what was confirmed last, and see that it is still so</b></p>
            <p class="big">${readAgain}</p>
            <p>${confirmed?.opened}, ${confirmed?.by}</p>
            ${bar((heldMs ?? 0) / HOLD_PRESS_MS, 'pedal held down')}
          </div>`
    }
  </div>`;
}

export const returnFoot = ({ readAgain }: Return): string =>
  readAgain === null
    ? 'tap to go on · 1 hand the work over · Esc to the job shelf'
    : 'read it, then hold the pedal down to go on · 1 hand the work over · Esc to the job shelf';

export const returnStyle = css`
  .return { display: grid; gap: calc(1.2 * var(--u)); align-content: start; }
  .return .stands { font-size: calc(4 * var(--u)); font-weight: 700; line-height: 1.15; }
  .return .stands b { display: block; font-size: calc(2.4 * var(--u)); font-weight: 400; color: var(--ink-2); }
  .return dl { display: grid; grid-template-columns: auto 1fr; gap: calc(0.6 * var(--u)) calc(2 * var(--u)); font-size: calc(2.5 * var(--u)); }
  .return dt { color: var(--ink-2); grid-column: 1; }
  .return dd { grid-column: 2; }
  .return dd span { color: var(--ink-2); }
  .return .again { border: calc(0.5 * var(--u)) solid var(--hold); padding: calc(1.2 * var(--u)) calc(1.6 * var(--u)); display: grid; gap: calc(0.8 * var(--u)); }
  .return .bar { width: 100%; height: calc(2.4 * var(--u)); border: calc(0.3 * var(--u)) solid currentColor; }
`;
