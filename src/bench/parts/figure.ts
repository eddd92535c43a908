import { css, html, nothing, type TemplateResult } from 'lit';
import type { BigFigure } from '../../job/figures.ts';

/** The figure to hit: giant numerals, its unit, and the same in the other unit beside it. */
export function figurePanel({ label, digits, unit, other, limits }: BigFigure): TemplateResult {
  return html`<section class="figure" data-block="side" aria-label=${`${label} ${digits} ${unit}`}>
    <h2>${label}</h2>
    <p class="digits ${digits.length > 4 ? 'long' : ''}"><span>${digits.replace(' ', '\u2009')}</span><span class="unit">${unit}</span></p>
    <p class="beside">
      ${limits ? html`<span>${limits}</span>` : nothing}
      ${other ? html`<span>${other.digits} ${other.unit}</span>` : nothing}
    </p>
  </section>`;
}

export const figureStyle = css`
  .figures { display: grid; gap: calc(1.6 * var(--u)); min-width: 0; }
  .figure { display: grid; gap: calc(0.4 * var(--u)); min-width: 0; font-size: var(--small); }
  .figure h2 { font-size: inherit; font-weight: 400; color: var(--ink-2); }
  .digits {
    font-family: "B612", sans-serif;
    font-weight: 700;
    font-size: var(--digits);
    line-height: 0.98;
    letter-spacing: -0.01em;
    font-variant-numeric: tabular-nums;
  }
  .digits span { display: inline-block; white-space: nowrap; }
  .digits.long { font-size: max(calc(var(--digits) * 0.62), var(--reading)); }
  .figures.many .digits { font-size: max(calc(var(--digits) * 0.5), var(--reading)); }
  .unit { font-size: max(0.36em, var(--least)); letter-spacing: 0; padding-left: 0.25em; }
  .beside { display: flex; flex-wrap: wrap; gap: 0 1.2em; color: var(--ink-2); }
  [data-tier="bare"] .beside span + span, [data-tier="bare"][data-closeness="least"] .beside { display: none; }
`;
