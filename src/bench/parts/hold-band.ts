import { css, html, nothing, type TemplateResult } from 'lit';
import type { HoldView } from '../../job/view.ts';
import type { Person } from '../../procedure/context.ts';
import { HOLD_PRESS_MS } from '../../procedure/settle-hold.ts';
import { bar } from './bar.ts';

export interface PressState {
  readonly heldMs: number;
  readonly full: boolean;
}

/** Our sign for a hold: two posts and the bar across them. */
const gate = html`<svg class="sign" viewBox="0 0 60 60" aria-hidden="true">
  <path d="M14 6v48M46 6v48" stroke="currentColor" stroke-width="9" />
  <path d="M2 30h56" stroke="currentColor" stroke-width="11" />
</svg>`;

/** The band of a hold point: its sign and name, and the bar that fills while the pedal is down. On every page of it. */
export function holdBand(hold: HoldView, press: PressState | null): TemplateResult {
  const part = press ? Math.min(1, press.heldMs / HOLD_PRESS_MS) : 0;
  return html`<section class="band" aria-label="Hold point">
    <h2>${gate}<span>Hold point</span>${hold.failed > 0 ? html` <small>failed ${hold.failed}×</small>` : nothing}</h2>
    ${hold.byFigure && !hold.awaitingFor ? html`<p class="by">opens for a figure within its limits</p>` : bar(part, 'pedal held down')}
  </section>`;
}

const LEAD = html`<span class="lead">Opens for a </span>`;

/** What opens the hold: said last, after what is to be checked. */
export function holdOpens(
  hold: HoldView,
  witnesses: readonly Person[],
  witness: string | null,
  listening: boolean,
): TemplateResult | typeof nothing {
  // The band and the entry have said it.
  if (hold.byFigure && !hold.awaitingFor && !hold.witnessNeeded) return nothing;
  return html`<div class="opens" data-block="lower">${opensBy(hold, witnesses, witness, listening)}</div>`;
}

function opensBy(
  hold: HoldView,
  witnesses: readonly Person[],
  witness: string | null,
  listening: boolean,
): TemplateResult {
  if (hold.awaitingFor) {
    return html`<p>${hold.awaitingFor} has confirmed. A second person looks and confirms:
      ${witnesses.map(
        (person, index) =>
          html`<span class="witness ${(witness === null ? index === 0 : person.id === witness) ? 'lit' : ''}"><b>${index + 1}</b> ${person.name}</span>`,
      )}</p>`;
  }
  const then = hold.witnessNeeded ? ', then a witness' : '';
  if (hold.byFigure) return html`<p>Opens for a figure within its limits${then}.</p>`;
  return listening
    ? html`<p><span class="lead">Opens for </span><q>${hold.phrase}</q> or a long press${then}.</p>`
    : html`<p>${LEAD}long press when <b>${hold.phrase}</b>${then}.</p>`;
}

export const holdStyle = css`
  .band {
    display: flex;
    align-items: center;
    gap: calc(3 * var(--u));
    padding: calc(1.1 * var(--u)) calc(2 * var(--u));
    background: var(--hold-band);
    color: var(--on-hold);
    margin: calc(-0.8 * var(--edge)) calc(-1 * var(--edge)) 0;
    min-width: 0;
  }
  .station:has(> .band) > header { order: -1; }
  [data-tier="roomy"] > .band, [data-tier="lean"] > .band { margin-top: 0; }
  .band h2 { display: flex; align-items: center; gap: 0.45em; font-size: max(calc(4.6 * var(--u)), var(--reading)); line-height: 1; text-transform: uppercase; letter-spacing: 0.02em; white-space: nowrap; }
  [data-tier="bare"] .band h2 { font-size: var(--least); white-space: normal; }
  .band h2 small { font-size: max(0.5em, var(--least)); text-transform: none; }
  [data-tier="bare"] .band small { display: none; }
  .band .by { font-size: var(--small); }
  [data-tier="lean"] .by, [data-tier="bare"] .by { display: none; }
  .sign { width: 1.1em; height: 1.1em; flex: none; }
  .band .bar { flex: 1 1 0; min-width: 0; width: 100%; height: calc(4 * var(--u)); border: max(calc(0.35 * var(--u)), 3px) solid currentColor; }
  .opens { font-size: var(--body); }
  .opens b, .opens q { color: var(--hold); }
  [data-tier="bare"] .lead { display: none; }
  [data-tier="bare"] .opens p::first-letter { text-transform: uppercase; }
  .opens q { quotes: "“" "”"; font-weight: 700; }
  .witness { display: inline-block; padding: 0.05em 0.5em; margin: 0.08em 0.2em; border: max(0.1em, 2px) solid currentColor; }
  .witness.lit { background: var(--ink); color: var(--paper); }
  .witness.lit::before { content: "▸ "; }
  .opens .witness b { color: inherit; }
  @media (orientation: portrait) { .band .by { display: none; } }
  @media (forced-colors: active) {
    .band { forced-color-adjust: none; }
    .witness.lit { forced-color-adjust: none; background: Highlight; color: HighlightText; }
  }
`;
