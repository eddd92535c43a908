import { css, html, LitElement, nothing, type PropertyValues, svg, type TemplateResult } from 'lit';
import { type Chart, type ChartNode, leadsInWords, nodeKindInWords } from '../../procedure/publish/chart.ts';
import { shared } from '../shared-style.ts';
import { type Box, type Drawing, type Line, laidOut, TYPE } from './procedure-layout.ts';
import { gateSign, procedureStyle } from './procedure-sign.ts';

/** Smaller than this not even the shape of the work can be made out. */
const SMALLEST = 0.45;

/** A procedure drawn as a chart, and beside it the same as an outline that can be read aloud. */
export class ProcedureChartScreen extends LitElement {
  static override properties = {
    heading: { type: String },
    lead: { type: String },
    chart: { attribute: false },
    at: { type: String },
    whole: { type: Boolean },
  };
  declare heading: string;
  declare lead: string;
  declare chart: Chart;
  /** Name of the station that is lit. */
  declare at: string;
  /** The whole width is shown, small, instead of the lit station in type that can be read. */
  declare whole: boolean;
  #drawing: Drawing | null = null;

  static override styles = [
    shared,
    procedureStyle,
    css`
      :host { grid-template: auto minmax(0, 1fr) auto / minmax(0, 1.5fr) minmax(0, 1fr); }
      header, footer { grid-column: 1 / -1; }
      .drawing { border: max(calc(0.2 * var(--u)), 2px) solid var(--rule); background: var(--paper); }
      .drawing svg { display: block; font-family: inherit; fill: var(--ink); margin: 0 auto; }
      .box rect { fill: var(--paper); stroke: var(--ink); stroke-width: 1.6; }
      .rework rect { stroke-dasharray: 7 5; }
      .hold rect.outer { stroke-width: 7; fill: var(--ink); stroke: var(--ink); }
      .hold rect.inner { fill: none; stroke: var(--paper); stroke-width: 2; }
      .hold text { fill: var(--paper); }
      .hold .gate { stroke: var(--paper); }
      .end rect { stroke-width: 3; }
      .end .inner { fill: none; stroke-width: 1.6; }
      .head { font-weight: 700; }
      .detail { font-style: italic; }
      .line { fill: none; stroke: var(--ink); stroke-width: 1.8; }
      .dashed .line { stroke-dasharray: 8 6; stroke: var(--ink-2); }
      .tip { fill: var(--ink); }
      .label { paint-order: stroke; stroke: var(--paper); stroke-width: 6; stroke-linejoin: round; }
      .pointer { fill: var(--accent); stroke: var(--paper); stroke-width: 1.5; }
      .lit rect { stroke: var(--accent); stroke-width: 5; }
      .lit.hold rect.outer { stroke-width: 9; }
      ol { display: grid; gap: calc(0.5 * var(--u)); align-content: start; padding-right: calc(0.6 * var(--u)); }
      button { font: inherit; color: inherit; background: none; border: max(calc(0.2 * var(--u)), 2px) solid var(--rule); width: 100%; text-align: left; padding: 0.35em 0.6em; cursor: pointer; display: block; }
      li.hold button { border-width: max(calc(0.7 * var(--u)), 5px); border-color: var(--ink); font-weight: 700; }
      li.rework button { border-style: dashed; border-color: var(--ink-2); margin-left: 1.2em; width: calc(100% - 1.2em); }
      button[aria-current] { background: var(--ink); color: var(--paper); border-color: var(--ink); }
      button[aria-current]::before { content: "▸ "; }
      button small { display: block; font-size: 1em; font-weight: 400; }
      .legend { display: flex; gap: 1.4em; flex-wrap: wrap; }
      @media (orientation: portrait) {
        :host { grid-template: auto minmax(0, 1.3fr) minmax(0, 1fr) auto / minmax(0, 1fr); }
      }
    `,
  ];

  constructor() {
    super();
    this.heading = '';
    this.lead = '';
    this.at = '';
    this.whole = false;
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('chart')) this.#drawing = laidOut(this.chart);
  }

  override render(): TemplateResult {
    const holds = this.chart.nodes.filter(({ kind }) => kind === 'hold').length;
    return html`<header role="none">
        <h1>${this.heading}</h1>
        <p>${this.lead}</p>
        <p class="legend">
          <span><svg class="sign" viewBox="0 0 20 20" aria-hidden="true">${gateSign(0, 0)}</svg> thick: hold point (${holds})</span>
          <span>dashed: put right, and back</span>
        </p>
      </header>
      <div class="drawing scroll" tabindex="0" role="group" aria-label="Chart, to be scrolled; the outline says the same">
        ${this.#drawing ? this.#svg(this.#drawing) : nothing}
      </div>
      <nav class="scroll" aria-label="Outline">
        <ol>${this.chart.nodes.map((node) => this.#entry(node))}</ol>
      </nav>
      <footer role="none">
        <span><kbd>tap</kbd> next station</span><span><kbd>back</kbd> the one before</span
        ><span><kbd>hold down</kbd> next hold point</span><span><kbd>Enter</kbd> ${this.whole ? 'read it' : 'see the whole'}</span><span><kbd>Esc</kbd> back</span>
      </footer>`;
  }

  #entry(node: ChartNode): TemplateResult {
    const numbered = ({ place, says }: ChartNode) => (place === 0 ? 'the end' : `${place} “${says}”`);
    const leads = leadsInWords(this.chart, node.name)
      .map(({ says, to }) => `${says}: ${numbered(to)}`)
      .join('; ');
    return html`<li class="${node.kind} ${node.rework ? 'rework' : ''}">
      <button
        type="button"
        aria-current=${node.name === this.at ? 'true' : nothing}
        @click=${() => this.dispatchEvent(new CustomEvent('picked', { detail: node.name }))}
      >
        ${node.kind === 'hold' ? html`<svg class="sign" viewBox="0 0 20 20" aria-hidden="true">${gateSign(0, 0)}</svg>` : nothing}
        ${node.place === 0 ? '' : `${node.place} `}${nodeKindInWords(node)}: ${node.says}
        ${node.detail ? html`<small>${node.detail}</small>` : nothing}
        ${node.name === this.at && leads ? html`<small>${leads}</small>` : nothing}
      </button>
    </li>`;
  }

  /** So large that its type can be read at this bench; of the whole, so small that it is as wide as its place, within reason. */
  #scale(width: number): number {
    const near = Number.parseFloat(getComputedStyle(this).getPropertyValue('--near'));
    const readable = Math.max(1, near / TYPE);
    const place = this.renderRoot.querySelector('.drawing')?.clientWidth ?? 0;
    return this.whole && place > 0 ? Math.min(readable, Math.max(SMALLEST, place / width)) : readable;
  }

  #svg({ width, height, boxes, lines }: Drawing): TemplateResult {
    const scale = this.#scale(width);
    return html`<svg
      width=${Math.ceil(width * scale)}
      height=${Math.ceil(height * scale)}
      viewBox="0 0 ${Math.ceil(width)} ${Math.ceil(height)}"
      font-size=${TYPE}
      role="img"
      aria-label="Chart of ${this.chart.nodes.length - 1} stations; the outline beside it says the same in words"
    >
      <defs>
        <marker id="tip" viewBox="0 0 10 10" refX="9" refY="5" markerWidth="11" markerHeight="11" markerUnits="userSpaceOnUse" orient="auto">
          <path class="tip" d="M0 0L10 5L0 10z" />
        </marker>
      </defs>
      ${boxes.map((box) => this.#box(box))} ${lines.map((line) => this.#line(line))}
      ${lines.map(({ label, way }) =>
        label
          ? svg`<text class="label" x=${label.x} y=${label.y + 5} text-anchor="middle">${way.says}</text>`
          : nothing,
      )}
    </svg>`;
  }

  #line({ path, way }: Line): TemplateResult {
    return svg`<g class=${way.dashed ? 'dashed' : ''}><path class="line" d=${path} marker-end="url(#tip)" /></g>`;
  }

  #box({ node, x, y, width, height, head, lines }: Box): TemplateResult {
    const hold = node.kind === 'hold';
    const doubled = hold || node.kind === 'end';
    const lit = node.name === this.at;
    const detailFrom = node.detail === null ? lines.length : lines.length - detailLines(node, lines);
    return svg`<g class="box ${node.kind} ${node.rework ? 'rework' : ''} ${lit ? 'lit' : ''}" data-station=${node.name}>
      <rect class="outer" x=${x} y=${y} width=${width} height=${height} />
      ${doubled ? svg`<rect class="inner" x=${x + 5} y=${y + 5} width=${width - 10} height=${height - 10} />` : nothing}
      ${hold ? gateSign(x + width - 36, y + 12) : nothing}
      <text class="head" x=${x + 14} y=${y + 14 + TYPE}>${head}</text>
      ${lines.map((text, at) => svg`<text class=${at >= detailFrom ? 'detail' : ''} x=${x + 14} y=${y + 14 + TYPE + 19 * (at + 1)}>${text}</text>`)}
      ${lit ? svg`<path class="pointer" d="M${x - 22} ${y + height / 2 - 12}l18 12l-18 12z" />` : nothing}
    </g>`;
  }

  override updated(changed: PropertyValues<this>): void {
    if (!changed.has('at') && !changed.has('chart') && !changed.has('whole')) return;
    this.renderRoot.querySelector('button[aria-current]')?.scrollIntoView({ block: 'nearest' });
    const place = this.renderRoot.querySelector<HTMLElement>('.drawing');
    const box = this.#drawing?.boxes.find(({ node }) => node.name === this.at);
    if (!place || !box) return;
    const scale = this.#scale(this.#drawing?.width ?? 1);
    place.scrollTo({
      left: (box.x + box.width / 2) * scale - place.clientWidth / 2,
      top: (box.y + box.height / 2) * scale - place.clientHeight / 2,
    });
  }
}

/** How many of a box's lines, at its end, say what the station is held to. */
function detailLines(node: ChartNode, lines: readonly string[]): number {
  const start = node.detail?.slice(0, 6) ?? '';
  const at = lines.findLastIndex((line) => line.startsWith(start));
  return at < 0 ? 0 : lines.length - at;
}

customElements.define('hf-procedure-chart', ProcedureChartScreen);

declare global {
  interface HTMLElementTagNameMap {
    'hf-procedure-chart': ProcedureChartScreen;
  }
}
