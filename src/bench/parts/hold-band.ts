import { css, html, nothing, type TemplateResult } from 'lit';
import { styleMap } from 'lit/directives/style-map.js';
import type { HoldView } from '../../job/view.ts';
import type { Person } from '../../procedure/context.ts';
import { HOLD_PRESS_MS } from '../../procedure/settle-hold.ts';

export interface PressState {
  readonly heldMs: number;
  readonly full: boolean;
}

/** The band of a hold point: its name, what opens it, and the bar that fills while the pedal is down. */
export function holdBand(
  hold: HoldView,
  press: PressState | null,
  witnesses: readonly Person[],
  at: number,
  listening: boolean,
): TemplateResult {
  const part = press ? Math.min(1, press.heldMs / HOLD_PRESS_MS) : 0;
  return html`<section class="band" aria-label="Hold point">
    <h2><span class="bars" aria-hidden="true"></span>Hold point${hold.failed > 0 ? html` <small>failed ${hold.failed}×</small>` : nothing}</h2>
    <div class="opens">
      ${opensBy(hold, witnesses, at, listening)}
      ${
        hold.byFigure && !hold.awaitingFor
          ? nothing
          : html`<div class="press" role="progressbar" aria-label="pedal held down" aria-valuemin="0" aria-valuemax="100" aria-valuenow=${Math.round(part * 100)}>
              <i style=${styleMap({ width: `${(part * 100).toFixed(1)}%` })}></i>
              <span>${press?.full ? 'let go' : 'keep the pedal down'}</span>
            </div>`
      }
    </div>
  </section>`;
}

function opensBy(
  hold: HoldView,
  witnesses: readonly Person[],
  at: number,
  listening: boolean,
): TemplateResult {
  if (hold.awaitingFor) {
    return html`<p>${hold.awaitingFor} has confirmed. A second person looks and confirms:
      ${witnesses.map(
        (person, index) =>
          html`<span class="witness ${index === at ? 'lit' : ''}"><b>${index + 1}</b> ${person.name}</span>`,
      )}</p>`;
  }
  const then = hold.witnessNeeded ? ', then a witness' : '';
  if (hold.byFigure) return html`<p>Opens for a figure within its limits${then}.</p>`;
  return listening
    ? html`<p>Opens for <q>${hold.phrase}</q> or a long press${then}.</p>`
    : html`<p>Opens for a long press when <b>${hold.phrase}</b>${then}.</p>`;
}

export const holdStyle = css`
  .band {
    display: grid;
    grid-template-columns: auto 1fr;
    align-items: center;
    gap: calc(1 * var(--u)) calc(3 * var(--u));
    padding: calc(1.4 * var(--u)) calc(2 * var(--u));
    background: var(--hold);
    color: var(--on-hold);
  }
  .band h2 { display: flex; align-items: center; gap: 0.5em; font-size: calc(4.6 * var(--u)); text-transform: uppercase; letter-spacing: 0.02em; white-space: nowrap; }
  .band h2 small { font-size: 0.5em; text-transform: none; }
  .bars { width: 0.9em; height: 1em; border-inline: 0.28em solid currentColor; }
  .opens { display: grid; gap: calc(0.8 * var(--u)); }
  .opens p { font-size: calc(2.5 * var(--u)); }
  .opens q { quotes: "“" "”"; font-weight: 700; }
  .witness { display: inline-block; padding: 0.05em 0.5em; margin: 0 0.2em; border: 0.12em solid currentColor; }
  .witness.lit { background: var(--on-hold); color: var(--hold); }
  .press { position: relative; height: calc(4.2 * var(--u)); border: calc(0.35 * var(--u)) solid currentColor; overflow: hidden; }
  .press i { position: absolute; inset: 0 auto 0 0; background: var(--on-hold); }
  .press span { position: absolute; inset: 0; display: grid; place-items: center; font-size: calc(2.3 * var(--u)); font-weight: 700; mix-blend-mode: difference; color: #fff; }
  @media (orientation: portrait) {
    .band { grid-template-columns: 1fr; }
  }
`;
