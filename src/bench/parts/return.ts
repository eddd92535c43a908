import { css, html, nothing, type TemplateResult } from 'lit';
import { type Return, spell } from '../../job/return.ts';
import { HOLD_PRESS_MS } from '../../procedure/settle-hold.ts';
import { breaths } from '../breaths.ts';
import { bar } from './bar.ts';

const clock = (at: number): string =>
  new Date(at).toLocaleTimeString([], { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' });

/** After a day and more the time of day alone would mislead. */
const moment = (at: number, away: number): string =>
  away < 20 * 3_600_000 ? clock(at) : `${new Date(at).toLocaleDateString()}, ${clock(at)}`;

/** Each breath is a part of its own, so that a small screen can show it on the next page instead of half. */
const parts = (text: string, most: number) =>
  breaths(text, most).map((piece) => html`<span data-part>${piece}</span> `);

/** What is told under a name of its own; the name stands with the first breath of it. */
const named = (name: string, text: string, most: number) =>
  breaths(text, Math.max(12, most - name.length)).map(
    (piece, n) => html`<span data-part>${n === 0 ? html`<b>${name}</b> ` : nothing}${piece}</span> `,
  );

/**
 * Coming back to a job: where we were, what was confirmed last, what to look at; after a long break the hold is read
 * again, on the last page, so that nothing is acknowledged that was not on the screen.
 */
export function returnPanel(back: Return, heldMs: number | null, most: number): TemplateResult {
  const { since, away, byItself, stands, last, confirmed, look, readAgain } = back;
  const paused = `Paused at ${moment(since, away)}, ${spell(away)} ago.`;
  return html`<p class="return" data-holds>${parts(byItself === null ? paused : `${byItself} Last done at ${moment(since, away)}.`, most)}</p>
    <p class="return stands" data-holds>${named('You stand at', stands, most)}</p>
    ${
      confirmed && readAgain === null
        ? html`<p class="return" data-holds>${named('Last confirmed', confirmed.says, most)}<small data-part>${confirmed.opened}, ${confirmed.by}, ${clock(confirmed.at)}</small></p>`
        : nothing
    }
    ${last ? html`<p class="return" data-holds>${named('Last done', last.says, most)}<small data-part>${last.by}</small></p>` : nothing}
    ${look.map((says, n) => html`<p class="return" data-holds>${n === 0 ? named('Before you go on', says, most) : parts(says, most)}</p>`)}
    ${
      readAgain === null
        ? nothing
        : html`<p class="return again" data-holds>${parts('Confirmed last. Read it again, and see that it is still so:', most)}</p>
            <p class="return again big" data-holds>${parts(readAgain, most)}</p>
            <div class="return again" data-holds>
              <p data-part><small>${confirmed?.opened}, ${confirmed?.by}</small></p>
              <p data-part>${bar((heldMs ?? 0) / HOLD_PRESS_MS, 'pedal held down')}</p>
            </div>`
    }`;
}

/** What the foot says, and what it says where it has little room. */
export const returnFoot = ({ readAgain }: Return): readonly [full: string, brief: string] =>
  readAgain === null
    ? ['tap to go on · 1 hand the work over · Esc to the job shelf', 'tap: go on · 1: hand over']
    : [
        'read it, then hold the pedal down to go on · 1 hand the work over · Esc to the job shelf',
        'hold down: go on',
      ];

export const returnStyle = css`
  .return b { display: block; font-size: var(--small); font-weight: 400; color: var(--ink-2); }
  .return small { display: block; font-size: var(--small); color: var(--ink-2); }
  .return.stands { font-weight: 700; }
  .return.again { border-left: max(calc(0.8 * var(--u)), 6px) solid var(--hold); padding-left: calc(1.6 * var(--u)); }
  .return.again:has(.bar) { display: grid; gap: calc(0.8 * var(--u)); }
  .return .bar { width: 100%; height: calc(2.4 * var(--u)); border: calc(0.3 * var(--u)) solid currentColor; }
`;
