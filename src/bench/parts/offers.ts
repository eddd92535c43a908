import { css, html, nothing, type TemplateResult } from 'lit';
import type { Offer } from '../../job/words.ts';

/** What can be pressed, and said where the app is listening, right now: the exact words, the way on first and largest. */
export function offerStrip(offers: readonly Offer[], listening: boolean): TemplateResult {
  return html`<ul class="offers" aria-label="What can be done now">
    ${offers.map(
      ({ says, press, does }) => html`<li>
        <kbd>${press}</kbd>${listening && says ? html`<q>${says}</q>` : nothing}<span>${does}</span>
      </li>`,
    )}
  </ul>`;
}

export const offerStyle = css`
  .offers {
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    gap: calc(0.7 * var(--u)) calc(2.2 * var(--u));
    font-size: calc(1.9 * var(--u));
  }
  .offers li { display: flex; gap: 0.5em; align-items: baseline; white-space: nowrap; color: var(--ink-2); }
  .offers li:first-child { font-size: calc(2.9 * var(--u)); color: var(--ink); font-weight: 700; }
  .offers q { quotes: "“" "”"; font-style: italic; }
`;
