import { css, html, nothing, type TemplateResult } from 'lit';
import type { Offer } from '../../job/words.ts';

/** What can be pressed, and said where the app is listening, right now: the exact words, the way on first and largest. */
export function offerStrip(offers: readonly Offer[], listening: boolean): TemplateResult {
  return html`<ul class="offers" aria-label="What can be done now">
      ${offers.map(
        ({ says, press, does, plain }) => html`<li>
          <kbd>${press}</kbd>${listening && says ? html`<q>${says}</q>` : nothing}${listening && plain ? nothing : html`<span>${does}</span>`}
        </li>`,
      )}
    </ul>
    <ul class="offers more" aria-label="What can be done now" hidden>
      <li><kbd>tap</kbd><span>read on</span><span class="page-place"></span></li>
    </ul>`;
}

export const offerStyle = css`
  .offers {
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    gap: calc(0.6 * var(--u)) calc(2 * var(--u));
    font-size: var(--small);
    min-width: 0;
  }
  .offers li { display: flex; gap: 0.45em; align-items: baseline; white-space: nowrap; color: var(--ink-2); }
  .offers li:first-child { color: var(--ink); font-weight: 700; }
  [data-tier="roomy"] .offers li:first-child { font-size: max(calc(2.9 * var(--u)), var(--least)); }
  .offers.short li:first-child { flex-wrap: wrap; white-space: normal; }
  .offers.short li:first-child span:not(.page-place) { display: none; }
  .offers.short kbd { white-space: normal; }
  .offers q { quotes: "“" "”"; font-style: italic; }
`;
