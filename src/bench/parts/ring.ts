import { css, html, svg, type TemplateResult } from 'lit';
import type { RoundView } from '../../job/view.ts';

/** The ring of fasteners: place 1 at twelve o'clock and on clockwise, the one to do now lit, those done ticked. */
export function ringDrawing(round: RoundView): TemplateResult {
  const { order, doneInPass, now } = round;
  const done = new Set(order.slice(0, doneInPass));
  const places = order.length;
  const spot = (place: number) => {
    const angle = ((place - 1) / places) * 2 * Math.PI - Math.PI / 2;
    return { x: 150 + 108 * Math.cos(angle), y: 150 + 108 * Math.sin(angle) };
  };
  const path = order.slice(Math.max(0, doneInPass - 1), doneInPass + 1).map(spot);
  const [from, to] = path;
  return html`<figure class="ring">
    <svg viewBox="0 0 300 300" role="img" aria-label=${`${round.fastener} ${now} of ${places} is next`}>
      <circle cx="150" cy="150" r="108" fill="none" stroke="var(--rule)" stroke-width="6" />
      ${
        from && to
          ? svg`<line x1=${from.x} y1=${from.y} x2=${to.x} y2=${to.y} stroke="currentColor" stroke-width="4" stroke-dasharray="4 9" stroke-linecap="round" />`
          : ''
      }
      ${Array.from({ length: places }, (_, index) => index + 1).map((place) => {
        const { x, y } = spot(place);
        const state = place === now ? 'now' : done.has(place) ? 'done' : '';
        return svg`<g class="spot ${state}"><circle cx=${x} cy=${y} r=${place === now ? 34 : 24} />
          <text x=${x} y=${y} dy="0.36em" text-anchor="middle" font-size=${place === now ? 38 : 26}>${
            state === 'done' ? '✓' : place
          }</text></g>`;
      })}
    </svg>
    <figcaption>
      pass ${round.passNumber} of ${round.passes}: ${round.pass}
    </figcaption>
  </figure>`;
}

export const ringStyle = css`
  .ring { display: grid; grid-template-rows: minmax(0, 1fr) auto; justify-items: center; gap: calc(0.6 * var(--u)); margin: 0; min-height: 0; height: 100%; }
  .ring svg { height: 100%; max-width: 100%; min-height: 0; }
  .ring figcaption { font-size: calc(2.6 * var(--u)); }
  .spot circle { fill: var(--paper); stroke: var(--ink); stroke-width: 5; }
  .spot text { fill: var(--ink); font-weight: 700; }
  .spot.done circle { fill: var(--paper-2); stroke: var(--ink-2); }
  .spot.now circle { fill: var(--ink); }
  .spot.now text { fill: var(--paper); }
`;
