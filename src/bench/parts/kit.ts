import { css, html, type TemplateResult } from 'lit';
import type { KitView } from '../../job/view.ts';

/** What must be at hand: the item to call off now is large, the others stand in a list and are ticked. */
export function kitList({ items, next }: KitView): TemplateResult {
  const called = items.filter((item) => item.called).length;
  return html`<div class="kit">
    <p class="next" aria-live="polite">${next ? next.calls : 'Everything is at hand.'}</p>
    <ul aria-label=${`${called} of ${items.length} called off`}>
      ${items.map(
        ({
          key,
          calls,
          tool,
          called: done,
        }) => html`<li class="${done ? 'done' : ''} ${key === next?.key ? 'now' : ''}">
          <span aria-hidden="true">${done ? '✓' : key === next?.key ? '▸' : '·'}</span> ${calls}${tool ? html` <b>${tool}</b>` : ''}
        </li>`,
      )}
    </ul>
  </div>`;
}

export const kitStyle = css`
  .kit { display: grid; gap: calc(1.6 * var(--u)); }
  .kit .next { font-size: calc(6.4 * var(--u)); font-weight: 700; line-height: 1.05; color: var(--accent); }
  .kit ul { columns: 2; column-gap: calc(3 * var(--u)); font-size: calc(2 * var(--u)); color: var(--ink-2); }
  .kit li { break-inside: avoid; padding: 0.12em 0; }
  .kit li.now { color: var(--ink); font-weight: 700; }
`;
