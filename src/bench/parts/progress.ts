import { css, html, type TemplateResult } from 'lit';
import type { Progress } from '../../job/road.ts';

/** Where we are: the place on the road as a line, and each hold point as a gate on it: open once it is passed. */
export function progressRail({ place, stations, holds }: Progress): TemplateResult {
  const passed = holds.filter((hold) => hold.passed).length;
  const said = `Station ${place} of ${stations}, hold points passed ${passed} of ${holds.length}`;
  return html`<div class="progress" role="img" aria-label=${said}>
    <span class="place"><b>${place}</b>&thinsp;/&thinsp;${stations}</span>
    <span class="gates" aria-hidden="true">
      ${holds.map((hold) => html`<i class="gate ${hold.passed ? 'open' : ''} ${hold.here ? 'here' : ''}"></i>`)}
    </span>
    <span class="count">holds <b>${passed}</b>&thinsp;/&thinsp;${holds.length}</span>
  </div>`;
}

export const progressStyle = css`
  /* What has no room wraps out of sight as a whole: the gates first. */
  .progress { min-width: 0; flex-wrap: wrap; justify-content: flex-end; height: 1.2em; overflow: hidden; display: flex; align-items: center; gap: calc(1.4 * var(--u)); min-width: 0; font-size: var(--small); white-space: nowrap; }
  /* The gates of a long job draw closer rather than push the count off the screen. */
  .gates { order: 1; display: flex; height: 1.2em; align-items: center; justify-content: space-between; min-width: 0; }
  .gate {
    flex: 0 1 auto;
    margin-inline: calc(0.1 * var(--u));
    width: calc(0.7 * var(--u));
    min-width: 2px;
    height: 0.62em;
    border: calc(0.2 * var(--u)) solid var(--ink);
    background: var(--ink);
  }
  .place, .count { flex: none; }
  .gate.open { background: none; border-color: var(--good); border-block-width: 0; width: calc(0.95 * var(--u)); }
  .gate.here { height: 1.05em; background: var(--hold); border-color: var(--hold); width: calc(0.9 * var(--u)); }
`;
