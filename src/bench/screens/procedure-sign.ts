import { css, svg, type TemplateResult } from 'lit';

/** Our sign for a hold, drawn at a place in a larger drawing: two posts and the bar across them, 20 units wide. */
export const gateSign = (
  x: number,
  y: number,
): TemplateResult => svg`<g class="gate" transform="translate(${x} ${y})">
  <path d="M4.5 1v18M15.5 1v18" stroke-width="3.2" /><path d="M0 10h20" stroke-width="4" />
</g>`;

/** What the screens about procedures share: heading, foot, buttons. They are worked with a hand on them. */
export const procedureStyle = css`
  :host { gap: calc(1.2 * var(--u)); padding: var(--edge) calc(1.4 * var(--edge)); overflow: hidden; font-size: var(--hand); }
  header { display: flex; flex-wrap: wrap; align-items: baseline; justify-content: space-between; gap: calc(0.6 * var(--u)) calc(3 * var(--u)); }
  h1 { font-size: max(calc(3 * var(--u)), var(--hand)); }
  h2 { font-size: max(calc(2.3 * var(--u)), var(--hand)); padding-bottom: 0.3em; }
  header p { color: var(--ink-2); }
  code { font-family: "B612 Mono", monospace; font-weight: 700; }
  footer { display: flex; flex-wrap: wrap; gap: 0.5em calc(2.4 * var(--u)); color: var(--ink-2); border-top: calc(0.3 * var(--u)) solid var(--rule); padding-top: calc(1 * var(--u)); }
  [tabindex]:focus-visible, button:focus-visible { outline: max(0.2em, 3px) solid var(--accent); outline-offset: -2px; }
  .sign { display: inline-block; width: 1.1em; height: 1.1em; vertical-align: -0.15em; stroke: currentColor; fill: none; }
  .scroll { overflow: auto; min-width: 0; min-height: 0; position: relative; }
`;
