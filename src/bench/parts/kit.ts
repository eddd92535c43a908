import { css, html, nothing, type TemplateResult } from 'lit';
import type { FitView, KitView } from '../../job/view.ts';

/** What must be at hand: the item to call off now is large, the others stand in a list and are ticked. */
export function kitList({ items, next }: KitView): TemplateResult {
  const called = items.filter((item) => item.called).length;
  return html`<div class="kit" data-block="lower">
    <p class="next" aria-live="polite">${next ? next.calls : 'Everything is at hand.'}</p>
    ${next?.scans ? html`<p class="scans">Scan its label · L types it · or go on without</p>` : nothing}
    <ul data-window aria-label=${`${called} of ${items.length} called off`}>
      ${items.map(
        ({
          key,
          calls,
          tool,
          label,
          called: done,
        }) => html`<li class="${done ? 'done' : ''} ${key === next?.key ? 'now' : ''}">
          <span aria-hidden="true">${done ? '✓' : key === next?.key ? '▸' : '·'}</span> ${calls}${(tool ?? label) ? html` <b>${tool ?? label}</b>` : ''}
        </li>`,
      )}
    </ul>
  </div>`;
}

/** The part that is fitted here: its label can be scanned, and what was scanned for it is shown. */
export const fitPanel = ({ calls, label, here }: FitView): TemplateResult =>
  html`<p class="scans" data-block="lower">${
    label === null
      ? html`${calls}: scan its label · L types it · or go on without`
      : html`<span aria-hidden="true">✓</span> ${calls}: <b>${label}</b>${here ? nothing : ' (when laid out)'}`
  }</p>`;

export const kitStyle = css`
  .kit { display: grid; gap: calc(1 * var(--u)); min-width: 0; grid-template-columns: minmax(0, 1fr); }
  /* Less leading than this and the letters reach out of their box: then nothing would ever fit. */
  .kit .next { font-size: max(calc(5.6 * var(--u)), var(--reading)); font-weight: 700; line-height: 1.2; color: var(--accent); }
  .scans { font-size: var(--small); color: var(--ink-2); overflow-wrap: anywhere; }
  [data-closeness="least"] .kit .next { font-size: var(--least); }
  .kit ul { columns: 2; column-gap: calc(3 * var(--u)); font-size: var(--small); color: var(--ink-2); }
  .kit li { break-inside: avoid; padding: 0.08em 0; }
  .kit li.now { color: var(--ink); font-weight: 700; }
  /* Without room for the list the item that is called off now is what counts. */
  [data-tier="lean"] .kit ul, [data-tier="bare"] .kit ul { display: none; }
`;
