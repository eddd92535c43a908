import { css, html, LitElement, nothing, type TemplateResult, unsafeCSS } from 'lit';
import uPlot from 'uplot';
import plotStyle from 'uplot/dist/uPlot.min.css?inline';
import { chartColumns } from '../../trade/gearing.ts';
import { optionList, optionStyle } from '../parts/options.ts';
import type { PlanView } from '../plan.ts';
import { shared } from '../shared-style.ts';

/** The gearing planner: two set-ups side by side, what the second does to ratio, chain, axle and road speed. */
export class PlannerScreen extends LitElement {
  static override properties = {
    machine: { type: String },
    front: { type: Number },
    rear: { type: Number },
    view: { attribute: false },
    at: { type: Number },
  };
  declare machine: string;
  declare front: number;
  declare rear: number;
  declare view: PlanView;
  declare at: number;
  #plot: uPlot | null = null;

  static override styles = [
    unsafeCSS(plotStyle),
    shared,
    optionStyle,
    css`
      /* Read at arm's length: five lines to press and figures to compare are no sight from across the workshop. */
      :host { --type: max(calc(1.75 * var(--u)), var(--near)); grid-template: auto minmax(0, 1fr) auto / minmax(0, 1fr) minmax(0, 1.25fr); gap: calc(1.2 * var(--u)) calc(2.4 * var(--u)); padding: calc(0.6 * var(--edge)) var(--edge); overflow: auto; }
      header { grid-column: 1 / -1; display: flex; flex-wrap: wrap; align-items: baseline; justify-content: space-between; gap: calc(3 * var(--u)); }
      h1 { font-size: max(calc(3 * var(--u)), var(--near)); }
      .set { font-size: max(calc(5 * var(--u)), var(--near)); font-weight: 700; white-space: nowrap; }
      .set small { font-size: max(0.45em, var(--near)); font-weight: 400; color: var(--ink-2); padding-right: 0.8em; }
      .side { display: grid; gap: calc(1.4 * var(--u)); align-content: start; }
      .options { gap: calc(0.5 * var(--u)); }
      .options li { font-size: var(--type); padding: calc(0.2 * var(--u)) calc(1 * var(--u)); }
      dl { display: grid; grid-template-columns: 1fr auto; gap: calc(0.35 * var(--u)) calc(2 * var(--u)); font-size: var(--type); }
      dt { color: var(--ink-2); }
      dd { font-weight: 700; text-align: right; font-variant-numeric: tabular-nums; }
      .missing { font-size: var(--type); color: var(--bad); font-weight: 700; }
      .chart { display: grid; grid-template-rows: minmax(calc(15 * var(--u)), 1fr) auto; gap: calc(0.8 * var(--u)); min-height: 0; }
      #plot { min-width: 0; min-height: 0; overflow: hidden; }
      table { border-collapse: collapse; width: 100%; font-size: var(--type); line-height: 1; font-variant-numeric: tabular-nums; }
      caption { text-align: left; color: var(--ink-2); padding-bottom: 0.3em; }
      th, td { text-align: right; padding: 0.2em 0 0.2em 0.6em; border-bottom: 0.1em solid var(--rule); }
      th:first-child { text-align: left; padding-left: 0; }
      footer { grid-column: 1 / -1; display: flex; flex-wrap: wrap; gap: calc(2.6 * var(--u)); font-size: var(--type); color: var(--ink-2); border-top: calc(0.3 * var(--u)) solid var(--rule); padding-top: calc(1 * var(--u)); }
      @media (orientation: portrait) { h1 { font-size: var(--type); } .set { font-size: max(calc(3.6 * var(--u)), var(--near)); } header { gap: 0 calc(2 * var(--u)); } footer { gap: 0 calc(2 * var(--u)); } :host { grid-template: auto auto minmax(0, 1fr) auto / minmax(0, 1fr); } }
    `,
  ];

  constructor() {
    super();
    this.machine = '';
    this.front = 0;
    this.rear = 0;
    this.at = 0;
  }

  override render(): TemplateResult {
    const { view } = this;
    const { fitted } = view;
    const options = [
      { text: `Front ${this.front}: one tooth more` },
      { text: `Front ${this.front}: one tooth fewer` },
      { text: `Rear ${this.rear}: one tooth more` },
      { text: `Rear ${this.rear}: one tooth fewer` },
      { text: 'Start the job with these' },
    ];
    return html`<header role="none">
        <h1>Gearing, ${this.machine}</h1>
        <p class="set">
          ${fitted ? html`<small>fitted ${fitted.front} / ${fitted.rear}</small>` : nothing}${this.front} / ${this.rear}
        </p>
      </header>
      <div class="side" @click=${this.#click}>
        ${optionList(options, this.at, 'Gearing')}
        <dl>
          ${view.answers.map(({ label, value }) => html`<dt>${label}</dt><dd>${value}</dd>`)}
        </dl>
        ${view.missing.map((sentence) => html`<p class="missing">${sentence}</p>`)}
      </div>
      <div class="chart">
        <div id="plot" role="img" aria-label="Road speed against engine speed in each gear, fitted dashed, considered solid"></div>
        ${view.gears.length > 0 ? this.#table() : html`<p class="missing">The card has no gear ratios: speeds cannot be worked out.</p>`}
      </div>
      <footer role="none">
        <span><kbd>tap</kbd> next</span><span><kbd>hold down</kbd> or number: do it</span><span><kbd>Esc</kbd> back</span>
      </footer>`;
  }

  #table(): TemplateResult {
    const { gears, maxRpm } = this.view;
    const kmh = (value: number | null) => (value === null ? '–' : value.toFixed(0));
    return html`<table>
      <caption>Road speed at ${maxRpm} rpm in km/h, without slip or drag</caption>
      <thead><tr><th scope="col">Gear</th><th scope="col">fitted</th><th scope="col">considered</th><th scope="col">change</th></tr></thead>
      <tbody>
        ${gears.map(
          ({ gear, first, second, changePercent }) => html`<tr>
            <th scope="row">${gear}</th><td>${kmh(first)}</td><td>${kmh(second)}</td>
            <td>${changePercent === null ? '–' : `${changePercent > 0 ? '+' : ''}${changePercent.toFixed(1)} %`}</td>
          </tr>`,
        )}
      </tbody>
    </table>`;
  }

  #click = (event: Event) => {
    const item = event.composedPath().find((node): node is HTMLElement => node instanceof HTMLLIElement);
    if (item)
      this.dispatchEvent(
        new CustomEvent<number>('taken', { detail: Number(item.id.slice('option-'.length)) }),
      );
  };

  override updated(): void {
    this.#draw();
  }

  override disconnectedCallback(): void {
    this.#sizes.disconnect();
    this.#plot?.destroy();
    this.#plot = null;
    super.disconnectedCallback();
  }

  #draw(): void {
    const place = this.renderRoot.querySelector<HTMLElement>('#plot');
    const { chart } = this.view;
    if (!place || !chart) return;
    const data = chartColumns(chart) as uPlot.AlignedData;
    if (this.#plot) {
      this.#plot.setData(data);
      return;
    }
    const token = (name: string) => getComputedStyle(this).getPropertyValue(name).trim();
    const { width, height } = place.getBoundingClientRect();
    const type = Math.ceil(Number.parseFloat(token('--near')));
    const axis = {
      stroke: token('--ink'),
      font: `${type}px B612, sans-serif`,
      size: type * 2.2,
      gap: type * 0.2,
      // A figure of five digits and a gap: no tick runs into the next.
      space: type * 4.2,
      // The browser's forced palette reaches no canvas: the tokens stand for it.
      grid: { stroke: token('--rule'), width: 1 },
    };
    this.#plot = new uPlot(
      {
        width: Math.max(200, width),
        height: Math.max(160, height),
        legend: { show: false },
        cursor: { show: false },
        scales: { x: { time: false } },
        axes: [
          { ...axis, label: 'engine, rpm', labelSize: type * 1.3, labelFont: axis.font },
          {
            ...axis,
            label: 'road, km/h',
            labelSize: type * 1.3,
            size: type * 2.6,
            space: type * 1.6,
            labelFont: axis.font,
          },
        ],
        series: [
          {},
          ...chart.lines.map(({ setUp }) => ({
            stroke: setUp === 'fitted' ? token('--ink-2') : token('--ink'),
            width: setUp === 'fitted' ? 2 : 3.5,
            ...(setUp === 'fitted' ? { dash: [7, 6] } : {}),
            points: { show: false },
          })),
        ],
      },
      data,
      place,
    );
    this.#sizes.observe(place);
  }

  #sizes = new ResizeObserver(([entry]) => {
    if (!entry) return;
    const { width, height } = entry.contentRect;
    this.#plot?.setSize({ width: Math.floor(width), height: Math.floor(height) });
  });
}

customElements.define('hf-planner', PlannerScreen);

declare global {
  interface HTMLElementTagNameMap {
    'hf-planner': PlannerScreen;
  }
}
