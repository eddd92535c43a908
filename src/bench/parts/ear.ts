import { css, html, nothing, svg, type TemplateResult } from 'lit';
import type { EarState } from '../ear-state.ts';

/** Quietest and loudest level of the meter, dBFS. */
const LOW = -70;
const HIGH = -10;
const place = (db: number) => `${(Math.min(1, Math.max(0, (db - LOW) / (HIGH - LOW))) * 100).toFixed(1)}%`;

/** The strip of the ear: how loud it is here, what was heard last and how surely, and why it did not count. */
export function earStrip(ear: EarState): TemplateResult | typeof nothing {
  if (!ear.on && ear.fault === null) return nothing;
  if (ear.fault !== null)
    return html`<p class="ear bad" data-block="told"><b>Not listening</b> ${ear.fault}</p>`;
  const { level, last } = ear;
  return html`<p class="ear">
    <span class="label">Listening</span>
    <svg class="meter" preserveAspectRatio="none" aria-hidden="true">
      ${
        level
          ? svg`<rect width=${place(level.now)} height="100%" fill="currentColor" /><rect x=${place(level.floor)} width="2" height="100%" fill="var(--bad)" />`
          : nothing
      }
    </svg>
    ${
      last
        ? html`<span role="status">${last.refused ? 'almost' : 'heard'} <q>${last.text}</q> ${Math.round(last.score * 100)} %${
            last.refused ? html` · ${last.refused}` : nothing
          }</span>`
        : nothing
    }
  </p>`;
}

export const earStyle = css`
  .ear { display: flex; align-items: center; gap: 0.7em; font-size: var(--small); color: var(--ink-2); min-width: 0; }
  .ear .label { font-weight: 700; }
  .ear .meter { width: 6em; height: 0.9em; border: 0.12em solid currentColor; flex: none; }
  .ear q { quotes: "“" "”"; }
  .ear.bad { color: var(--bad); }
`;
