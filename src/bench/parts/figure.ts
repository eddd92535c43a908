import { css, html, nothing, type TemplateResult } from 'lit';
import type { BigFigure } from '../../job/figures.ts';

/** The figure to hit: giant numerals, its unit, and the same in the other unit beside it. */
export function figurePanel({ label, digits, unit, other, limits }: BigFigure): TemplateResult {
  return html`<section class="figure" aria-label=${`${label} ${digits} ${unit}`}>
    <h2>${label}</h2>
    <p class="digits ${digits.length > 4 ? 'long' : ''}">${digits}<span class="unit">${unit}</span></p>
    <p class="beside">
      ${other ? html`<span>${other.digits} ${other.unit}</span>` : nothing}
      ${limits ? html`<span>${limits}</span>` : nothing}
    </p>
  </section>`;
}

export const figureStyle = css`
  .figures { display: grid; gap: calc(1.6 * var(--u)); align-content: center; }
  .figure { display: grid; gap: calc(0.4 * var(--u)); }
  .figure h2 { font-size: calc(2.4 * var(--u)); font-weight: 400; color: var(--ink-2); }
  .digits {
    font-family: "B612 Mono", "B612", monospace;
    font-weight: 700;
    font-size: calc(14 * var(--u));
    line-height: 0.95;
    letter-spacing: -0.04em;
  }
  .digits.long { font-size: calc(9 * var(--u)); }
  .figures.many .digits { font-size: calc(8 * var(--u)); }
  .figures.many .digits.long { font-size: calc(6 * var(--u)); }
  .unit { font-size: 0.36em; letter-spacing: 0; padding-left: 0.3em; }
  .beside { display: flex; flex-wrap: wrap; gap: 0 1.4em; font-size: calc(2.5 * var(--u)); color: var(--ink-2); }
`;
