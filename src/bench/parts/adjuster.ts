import { css, html, svg, type TemplateResult } from 'lit';
import type { AdjusterView } from '../../job/adjuster.ts';

const LEFT = 30;
const RIGHT = 370;

/** In words what the drawing shows: for the ear, and for whoever does not see it. */
export function adjusterInWords({ min, max, centre }: AdjusterView): string {
  const part = Math.round(((centre - min) / (max - min)) * 100);
  if (part < 0) return `The axle would sit ${(min - centre).toFixed(1)} mm in front of the adjuster.`;
  if (part > 100) return `The axle would sit ${(centre - max).toFixed(1)} mm behind the adjuster.`;
  return `The axle sits ${(centre - min).toFixed(1)} mm behind the front end of the adjuster, with ${(max - centre).toFixed(1)} mm left for wear.`;
}

/** The adjuster's slot seen from the side, drawn to scale: where the axle will sit, and what is left for wear. */
export function adjusterDrawing(view: AdjusterView): TemplateResult {
  const { min, max, centre } = view;
  const x = LEFT + ((centre - min) / (max - min)) * (RIGHT - LEFT);
  const at = Math.max(LEFT - 24, Math.min(RIGHT + 24, x));
  return html`<figure class="adjuster" data-block="side">
    <figcaption>Axle in the adjuster</figcaption>
    <svg viewBox="0 0 400 96" role="img" aria-label=${adjusterInWords(view)}>
      ${svg`<rect x=${LEFT - 22} y="26" width=${RIGHT - LEFT + 44} height="44" rx="22" fill="none" stroke="currentColor" stroke-width="6" />
        <rect x=${at} y="34" width=${Math.max(0, RIGHT + 14 - at)} height="28" rx="14" fill="var(--good)" />
        <circle cx=${at} cy="48" r="21" fill="currentColor" /><circle cx=${at} cy="48" r="7" fill="var(--paper)" />
        ${[0, 0.25, 0.5, 0.75, 1].map((part) => {
          const mark = LEFT + part * (RIGHT - LEFT);
          return svg`<path d=${`M${mark} 74V92`} stroke="currentColor" stroke-width=${part === 0 || part === 1 ? 6 : 3} />`;
        })}`}
    </svg>
    <p class="ends"><span>front <b>${min}</b></span><span><b>${max}</b> back</span></p>
  </figure>`;
}

export const adjusterStyle = css`
  .adjuster { display: grid; gap: calc(0.4 * var(--u)); min-width: 0; font-size: var(--small); }
  .adjuster figcaption { color: var(--ink-2); }
  .adjuster svg { width: 100%; max-height: calc(22 * var(--u)); }
  .adjuster .ends { display: flex; flex-wrap: wrap; justify-content: space-between; gap: 0.5em; white-space: nowrap; }
  .adjuster .ends span { color: var(--ink-2); }
  .adjuster .ends b { color: var(--ink); }
  [data-tier="bare"] .adjuster figcaption { display: none; }
`;
