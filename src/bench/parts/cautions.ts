import { css, html, nothing, type TemplateResult } from 'lit';
import type { Caution } from '../../procedure/station.ts';

/** The safety alert symbol of ISO 3864-2 / ANSI Z535.4: a triangle with an exclamation mark. Not for notices: nobody is hurt there. */
const alert = html`<svg viewBox="0 0 48 44" aria-hidden="true">
  <path d="M24 3 46 41H2Z" fill="none" stroke="currentColor" stroke-width="5" stroke-linejoin="round" />
  <path d="M24 15v14" stroke="currentColor" stroke-width="5.5" stroke-linecap="round" />
  <circle cx="24" cy="35.4" r="3" fill="currentColor" />
</svg>`;

/** Cautions in their signal words, the gravest first, above the instruction. */
export function cautionPanels(cautions: readonly Caution[]): TemplateResult | typeof nothing {
  if (cautions.length === 0) return nothing;
  return html`<div class="cautions">
    ${cautions.map(
      ({ word, text }) => html`<section class="caution ${word}">
        <h2>${word === 'notice' ? nothing : alert}<span>${word}</span></h2>
        <p>${text}</p>
      </section>`,
    )}
  </div>`;
}

export const cautionStyle = css`
  .cautions { display: grid; gap: calc(0.8 * var(--u)); }
  .caution {
    display: grid;
    grid-template-columns: auto 1fr;
    align-items: stretch;
    border: calc(0.35 * var(--u)) solid var(--z);
    background: var(--paper);
    color: var(--ink);
  }
  .caution h2 {
    display: flex;
    align-items: center;
    gap: 0.35em;
    padding: 0.3em 0.6em;
    background: var(--z);
    color: var(--on-z);
    font-size: calc(2.6 * var(--u));
    letter-spacing: 0.03em;
    text-transform: uppercase;
  }
  .caution h2 svg { height: 1.1em; width: 1.2em; }
  .caution p { padding: 0.35em 0.7em; font-size: calc(2.7 * var(--u)); align-self: center; }
  .caution.caution { --z: var(--z-caution); --on-z: #000; }
  .caution.danger { --z: var(--z-danger); --on-z: #fff; }
  .caution.warning { --z: var(--z-warning); --on-z: #000; }
  .caution.notice { --z: var(--z-notice); --on-z: #fff; }
  .notice h2 { font-style: italic; }
`;
