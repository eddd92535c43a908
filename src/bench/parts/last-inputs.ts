import { css, html, nothing, type TemplateResult } from 'lit';
import { eventInWords } from '../../job/event-words.ts';
import type { JournalRecord } from '../../journal/record.ts';

/** The last input that was taken and, when it came after it, the last that was refused and why. */
export function lastInputs(
  accepted: JournalRecord | null,
  refused: JournalRecord | null,
  fault: string | null,
): TemplateResult {
  const refusedLast = refused !== null && refused.seq > (accepted?.seq ?? -1);
  return html`<div class="last">
    ${fault ? html`<p class="no" role="alert"><b>Fault</b> ${fault}</p>` : nothing}
    ${accepted ? html`<p class="yes"><b aria-label="accepted">✓</b> ${eventInWords(accepted.event)} <time>${accepted.at.slice(11, 19)}</time></p>` : nothing}
    ${refusedLast ? html`<p class="no" role="alert"><b>Refused</b> ${refused.reason?.sentence}</p>` : nothing}
  </div>`;
}

export const lastStyle = css`
  .last { display: flex; flex-wrap: wrap; gap: 0 calc(3 * var(--u)); font-size: calc(2.1 * var(--u)); }
  .last .yes { color: var(--ink-2); }
  .last .yes b { color: var(--good); }
  .last .no { font-weight: 700; font-size: calc(3 * var(--u)); color: var(--bad); flex-basis: 100%; }
  .last .no b { padding: 0 0.4em; margin-right: 0.4em; border: 0.12em solid currentColor; text-transform: uppercase; font-size: 0.8em; }
  .last time { font-variant-numeric: tabular-nums; padding-left: 0.5em; }
`;
