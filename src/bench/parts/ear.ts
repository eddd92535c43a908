import { css, html, nothing, svg, type TemplateResult } from 'lit';
import type { EarState } from '../ear-state.ts';

/** Quietest and loudest level of the meter, dBFS. */
const LOW = -70;
const HIGH = -10;
const place = (db: number) => `${(Math.min(1, Math.max(0, (db - LOW) / (HIGH - LOW))) * 100).toFixed(1)}%`;

/** How loud it is here, with a mark at the quiet under it. */
export const levelMeter = (level: EarState['level']): TemplateResult => html`<svg
  class="meter"
  preserveAspectRatio="none"
  aria-hidden="true"
>
  ${
    level
      ? svg`<rect width=${place(level.now)} height="100%" fill="currentColor" /><rect x=${place(level.floor)} width="2" height="100%" fill="var(--bad)" />`
      : nothing
  }
</svg>`;

/** What a bench with a call word waits for. */
const callPart = ({ call }: EarState) =>
  call === null
    ? nothing
    : html`<span class="call">${call.open ? html`<b>now say it</b>` : html`first <q>${call.word}</q>`}</span>`;

/** The strip of the ear: how loud it is here, what was heard last and how surely, and why it did not count. */
export function earStrip(ear: EarState): TemplateResult | typeof nothing {
  if (!ear.on && ear.fault === null) return nothing;
  if (ear.fault !== null)
    return html`<p class="ear bad" data-block="told"><b>Not listening</b> ${ear.fault}</p>`;
  const { level, last } = ear;
  return html`<p class="ear">
    <span class="label">Listening</span>
    ${levelMeter(level)}${callPart(ear)}
    ${ear.notice ? html`<b class="notice">${ear.notice}</b>` : nothing}
    ${
      last
        ? html`<span role="status">${last.refused ? 'almost' : 'heard'} <q>${last.text}</q> ${Math.round(last.score * 100)} %${
            last.refused ? html` · ${last.refused}` : nothing
          }</span>`
        : nothing
    }
  </p>`;
}

/** Over the station while a voice note is spoken. */
export const notePanel = ({ note, level }: EarState): TemplateResult => html`<section
  class="over"
  role="dialog"
  aria-label="Voice note"
>
  <h2>Voice note</h2>
  <div class="text">
    <p class="big">Say what is to be noted.</p>
    <p class="ear">${levelMeter(level)}<span>${note} s</span></p>
    <p>To end it, pause and say <q>end of note</q>.</p>
  </div>
  <p class="foot">any key or pedal ends it</p>
</section>`;

export const earStyle = css`
  .ear { display: flex; flex-wrap: wrap; align-items: center; gap: 0 0.7em; font-size: var(--small); color: var(--ink-2); min-width: 0; }
  .ear .label, .ear .notice, .ear .call { font-weight: 700; }
  .ear .notice, .ear .call { color: var(--ink); }
  .ear .notice { flex-basis: 100%; order: 1; }
  .ear .meter { width: 6em; height: 0.9em; border: 0.12em solid currentColor; flex: none; }
  .ear q { quotes: "“" "”"; }
  .ear.bad { color: var(--bad); }
`;
