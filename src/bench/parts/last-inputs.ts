import { css, html, nothing, type TemplateResult } from 'lit';
import { eventInWords } from '../../job/event-words.ts';
import type { JournalRecord } from '../../journal/record.ts';

/** The last input that was taken: quiet, at the foot. */
export function lastAccepted(accepted: JournalRecord | null): TemplateResult | typeof nothing {
  if (!accepted) return nothing;
  return html`<p class="last yes"><b aria-label="accepted">✓</b> ${eventInWords(accepted.event)} <time>${accepted.at.slice(11, 19)}</time></p>`;
}

/** What was refused since, and a fault of the app: loud, above the work, and the first page where there are several. */
export function refusal(
  accepted: JournalRecord | null,
  refused: JournalRecord | null,
  fault: string | null,
): TemplateResult | typeof nothing {
  const refusedLast = refused !== null && refused.seq > (accepted?.seq ?? -1);
  if (!fault && !refusedLast) return nothing;
  return html`<div class="last refusals" data-holds>
    ${fault ? html`<p class="no" role="alert" data-block="told" data-room><b>Fault</b> ${fault}</p>` : nothing}
    ${refusedLast ? html`<p class="no" role="alert" data-block="told" data-room><b>Refused</b> ${refused.reason?.sentence}</p>` : nothing}
  </div>`;
}

export const lastStyle = css`
  .last.yes { font-size: var(--small); color: var(--ink-2); height: 1.2em; overflow: hidden; overflow-wrap: normal; }
  .last.yes b { color: var(--good); }
  .last time { font-variant-numeric: tabular-nums; padding-left: 0.5em; }
  .refusals { display: grid; gap: calc(0.8 * var(--u)); min-width: 0; grid-template-columns: minmax(0, 1fr); }
  .no { font-weight: 700; font-size: var(--body); color: var(--bad); border-left: max(calc(1 * var(--u)), 8px) solid var(--bad); padding: 0.1em 0 0.1em 0.5em; }
  .no b { padding: 0 0.35em; margin-right: 0.3em; background: var(--bad); color: var(--paper); text-transform: uppercase; }
  @media (forced-colors: active) { .no b { forced-color-adjust: none; } }
`;
