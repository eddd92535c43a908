import { css, html, svg, type TemplateResult } from 'lit';
import type { RoundView } from '../../job/view.ts';

const CENTRE = 150;
const RADIUS = 116;

/** In words what the ring shows. */
export function ringInWords({
  fastener,
  order,
  now,
  doneInPass,
  passNumber,
  passes,
  pass,
}: RoundView): string {
  const done = doneInPass === 0 ? '' : ` ${doneInPass} of ${order.length} done.`;
  return `Pass ${passNumber} of ${passes}, ${pass}. Next is ${fastener} ${now}, counted clockwise from twelve o'clock.${done}`;
}

/**
 * The ring of fasteners: place 1 at twelve o'clock and on clockwise. The one to do now is lit and named in the middle,
 * where it can be read from afar; a dashed line comes to it from the one before; those done are ticked.
 */
export function ringDrawing(round: RoundView): TemplateResult {
  const { order, doneInPass, now } = round;
  const done = new Set(order.slice(0, doneInPass));
  const places = order.length;
  const radius = Math.min(27, (Math.PI * RADIUS) / places - 4);
  const spot = (place: number) => {
    const angle = ((place - 1) / places) * 2 * Math.PI - Math.PI / 2;
    return { x: CENTRE + RADIUS * Math.cos(angle), y: CENTRE + RADIUS * Math.sin(angle) };
  };
  const [from, to] = order.slice(Math.max(0, doneInPass - 1), doneInPass + 1).map(spot);
  return html`<figure class="ring picture" data-block="side" data-room>
    <svg viewBox="0 0 300 300" role="img" aria-label=${ringInWords(round)}>
      <circle cx=${CENTRE} cy=${CENTRE} r=${RADIUS} fill="none" stroke="var(--rule)" stroke-width="5" />
      ${
        from && to
          ? svg`<line x1=${from.x} y1=${from.y} x2=${to.x} y2=${to.y} stroke="var(--ink-2)" stroke-width="4" stroke-dasharray="2 9" stroke-linecap="round" />`
          : ''
      }
      <circle cx=${CENTRE} cy=${CENTRE} r="52" fill="var(--paper)" />
      <text class="next" x=${CENTRE} y=${CENTRE} dy="0.37em" text-anchor="middle" font-size="112">${now}</text>
      ${Array.from({ length: places }, (_, index) => index + 1).map((place) => {
        const { x, y } = spot(place);
        const state = place === now ? 'now' : done.has(place) ? 'done' : '';
        return svg`<g class="spot ${state}"><circle cx=${x} cy=${y} r=${place === now ? radius + 5 : radius} />${
          state === 'done'
            ? svg`<path d=${`M${x - radius * 0.45} ${y + 1}l${radius * 0.3} ${radius * 0.36}l${radius * 0.6} ${-radius * 0.72}`} />`
            : svg`<text x=${x} y=${y} dy="0.37em" text-anchor="middle" font-size=${radius * 1.25}>${place}</text>`
        }</g>`;
      })}
    </svg>
    <figcaption><span>pass ${round.passNumber} of ${round.passes}: </span>${round.pass}</figcaption>
  </figure>`;
}

export const ringStyle = css`
  .ring { display: grid; grid-template: minmax(0, 1fr) auto / minmax(0, 1fr); justify-items: center; gap: calc(0.6 * var(--u)); margin: 0; min-height: 0; height: 100%; }
  .ring svg { height: 100%; width: 100%; min-height: calc(2.7 * var(--least)); }
  .ring figcaption { font-size: var(--small); text-align: center; }
  .ring .next { fill: var(--ink); font-weight: 700; }
  .spot circle { fill: var(--paper); stroke: var(--ink); stroke-width: 5; }
  .spot text { fill: var(--ink); font-weight: 700; }
  .spot.done circle { fill: var(--paper-2); stroke: var(--ink-2); stroke-width: 3; }
  .spot.done path { fill: none; stroke: var(--good); stroke-width: 6; stroke-linecap: round; stroke-linejoin: round; }
  .spot.now circle { fill: var(--ink); }
  .spot.now text { fill: var(--paper); }
  [data-tier="bare"] .ring figcaption span { display: none; }
`;
