import { css, html, nothing, type TemplateResult } from 'lit';
import type { Caution } from '../../procedure/station.ts';
import { breaths } from '../breaths.ts';

/** A piece of a caution fits on a page by itself even from afar on a small screen. */
const MOST_LETTERS = 40;

/** The safety alert symbol of ISO 3864-2 / ANSI Z535.4: a triangle with an exclamation mark. Not for notices: nobody is hurt there. */
const alert = html`<svg viewBox="0 0 48 44" aria-hidden="true">
  <path d="M24 3 46 41H2Z" fill="none" stroke="currentColor" stroke-width="5" stroke-linejoin="round" />
  <path d="M24 15v14" stroke="currentColor" stroke-width="5.5" stroke-linecap="round" />
  <circle cx="24" cy="35.4" r="3" fill="currentColor" />
</svg>`;

/** One caution; where it takes more than one page, its signal word is on each. */
export function cautionPanel({ word, text }: Caution): TemplateResult {
  return html`<section class="caution ${word}" data-holds data-room>
    <h2>${word === 'notice' ? nothing : alert}<span>${word}</span></h2>
    <p>${breaths(text, MOST_LETTERS).map((piece) => html`<span data-block="caution">${piece} </span>`)}</p>
  </section>`;
}

/** Cautions in their signal words, the gravest first, above the instruction. */
export function cautionPanels(cautions: readonly Caution[]): TemplateResult | typeof nothing {
  if (cautions.length === 0) return nothing;
  return html`<div class="cautions" data-holds>${cautions.map(cautionPanel)}</div>`;
}

export const cautionStyle = css`
  .cautions { display: grid; gap: calc(0.8 * var(--u)); min-width: 0; grid-template-columns: minmax(0, 1fr); }
  .caution {
    display: grid;
    grid-template-columns: auto minmax(0, 1fr);
    align-items: stretch;
    border: max(calc(0.35 * var(--u)), 3px) solid var(--z);
    background: var(--paper);
    color: var(--ink);
    font-size: var(--body, var(--text));
  }
  .caution h2 {
    display: flex;
    align-items: center;
    gap: 0.3em;
    padding: 0.2em 0.5em;
    background: var(--z);
    color: var(--on-z);
    font-size: inherit;
    line-height: 1;
    letter-spacing: 0.02em;
    text-transform: uppercase;
  }
  .caution h2 svg { height: 1em; width: 1.1em; flex: none; }
  .caution p { padding: 0.2em 0.55em 0.25em; align-self: center; }
  .caution.danger { --z: var(--z-danger); --on-z: var(--on-danger); }
  .caution.warning { --z: var(--z-warning); --on-z: var(--on-warning); }
  .caution.caution:not(.danger, .warning, .notice) { --z: var(--z-caution); --on-z: var(--on-caution); }
  .caution.notice { --z: var(--z-notice); --on-z: var(--on-notice); }
  .notice h2 { font-style: italic; }
  [data-tier="bare"] .caution { grid-template-columns: minmax(0, 1fr); }
  [data-tier="bare"] .caution h2 { flex-wrap: wrap; overflow-wrap: normal; }
  @media (orientation: portrait) { .caution { grid-template-columns: minmax(0, 1fr); } }
  @media (forced-colors: active) { .caution h2 { forced-color-adjust: none; } }
`;
