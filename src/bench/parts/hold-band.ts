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

/** The band of a hold point: its name, what opens it, and the bar that fills while the pedal is down. */
export function holdBand(
  hold: HoldView,
  press: PressState | null,
  witnesses: readonly Person[],
  witness: string | null,
  listening: boolean,
): TemplateResult {
  const part = press ? Math.min(1, press.heldMs / HOLD_PRESS_MS) : 0;
  return html`<section class="band" aria-label="Hold point">
    <h2>${gate}Hold point${hold.failed > 0 ? html` <small>failed ${hold.failed}×</small>` : nothing}</h2>
    <div class="opens">
      ${opensBy(hold, witnesses, witness, listening)}
      ${hold.byFigure && !hold.awaitingFor ? nothing : bar(part, 'pedal held down')}
    </div>
  </section>`;
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
  .sign { width: 1.1em; height: 1.1em; }
  .opens { display: grid; gap: calc(0.8 * var(--u)); }
  .opens p { font-size: calc(2.5 * var(--u)); }
  .opens q { quotes: "“" "”"; font-weight: 700; }
  .witness { display: inline-block; padding: 0.05em 0.5em; margin: 0 0.2em; border: 0.12em solid currentColor; }
  .witness.lit { background: var(--on-hold); color: var(--hold); }
  .opens .bar { width: 100%; height: calc(3 * var(--u)); border: calc(0.35 * var(--u)) solid currentColor; }
  @media (orientation: portrait) {
    .band { grid-template-columns: 1fr; }
  }
`;
