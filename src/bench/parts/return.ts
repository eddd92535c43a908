import { css, html, nothing, type TemplateResult } from 'lit';
import { type Return, spell } from '../../job/return.ts';
import { HOLD_PRESS_MS } from '../../procedure/settle-hold.ts';
import { bar } from './bar.ts';

const clock = (at: number): string =>
  new Date(at).toLocaleTimeString([], { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' });

/** After a day and more the time of day alone would mislead. */
const moment = (at: number, away: number): string =>
  away < 20 * 3_600_000 ? clock(at) : `${new Date(at).toLocaleDateString()}, ${clock(at)}`;

/** Each sentence is a part of its own, so that a small screen can show it on the next page instead of half. */
const sentences = (text: string): string[] => text.split(/(?<=[.!?])\s+/);

/**
 * Coming back to a job: where we were, what was confirmed last, what to look at; after a long break the hold is read
 * again, on the last page, so that nothing is acknowledged that was not on the screen.
 */
export function returnPanel(back: Return, heldMs: number | null): TemplateResult {
  const { since, away, byItself, stands, last, confirmed, look, readAgain } = back;
  const paused = `Paused at ${moment(since, away)}, ${spell(away)} ago.`;
  return html`<p class="return" data-part>${byItself === null ? paused : `${byItself} Last done at ${moment(since, away)}.`}</p>
    <p class="return stands" data-part><b>You stand at</b> ${stands}</p>
    ${
      confirmed && readAgain === null
        ? html`<p class="return" data-part><b>Last confirmed</b> ${confirmed.says} <span>${confirmed.opened}, ${confirmed.by}, ${clock(confirmed.at)}</span></p>`
        : nothing
    }
    ${last ? html`<p class="return" data-part><b>Last done</b> ${last.says} <span>${last.by}</span></p>` : nothing}
    ${look.map((says, n) => html`<p class="return" data-part>${n === 0 ? html`<b>Before you go on</b> ` : nothing}${says}</p>`)}
    ${
      readAgain === null
        ? nothing
        : html`<p class="return again" data-part>Confirmed last. Read it again, and see that it is still so:</p>
            ${sentences(readAgain).map((says) => html`<p class="return again big" data-part>${says}</p>`)}
            <div class="return again" data-part>
              <p><span>${confirmed?.opened}, ${confirmed?.by}</span></p>
              ${bar((heldMs ?? 0) / HOLD_PRESS_MS, 'pedal held down')}
            </div>`
    }`;
}

export const returnFoot = ({ readAgain }: Return): string =>
  readAgain === null
    ? 'tap to go on · 1 hand the work over · Esc to the job shelf'
    : 'read it, then hold the pedal down to go on · 1 hand the work over · Esc to the job shelf';

export const returnStyle = css`
  .return b { display: block; font-size: var(--small); font-weight: 400; color: var(--ink-2); }
  .return span { font-size: var(--small); color: var(--ink-2); }
  .return.stands { font-weight: 700; }
  .return.again { border-left: max(calc(0.8 * var(--u)), 6px) solid var(--hold); padding-left: calc(1.6 * var(--u)); display: grid; gap: calc(0.8 * var(--u)); }
  .return .bar { width: 100%; height: calc(2.4 * var(--u)); border: calc(0.3 * var(--u)) solid currentColor; }
`;
