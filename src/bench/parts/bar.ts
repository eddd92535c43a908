import { html, svg, type TemplateResult } from 'lit';

/** A bar that fills from 0 to 1. Drawn as SVG: the content security policy allows no style attributes. */
export function bar(part: number, says: string): TemplateResult {
  const full = Math.max(0, Math.min(1, part)) * 100;
  return html`<svg
    class="bar"
    role="progressbar"
    aria-label=${says}
    aria-valuemin="0"
    aria-valuemax="100"
    aria-valuenow=${Math.round(full)}
    preserveAspectRatio="none"
  >${svg`<rect width=${`${full.toFixed(1)}%`} height="100%" fill="currentColor" />`}</svg>`;
}
