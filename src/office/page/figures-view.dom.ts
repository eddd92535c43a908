import { css, html, nothing, type TemplateResult, unsafeCSS } from 'lit';
import uPlot from 'uplot';
import plotStyle from 'uplot/dist/uPlot.min.css?inline';
import { pageStyle } from './page-style.dom.ts';
import { View } from './view.dom.ts';
import type { Charts, Filter } from './wire.ts';

const WEEK_S = 604_800;
const percent = (share: number): string => `${(100 * share).toFixed(0)} %`;
const minutes = (ms: number): string => (ms / 60_000).toFixed(1);

/** First-pass rates and times, as charts with their figures beside them. */
export class FiguresView extends View {
  static override styles = [
    unsafeCSS(plotStyle),
    pageStyle,
    css`.plot { height: 260px; margin: 0 0 1.5em; }`,
  ];
  #filter: Filter = {};
  #charts: Charts | null = null;
  #plots: uPlot[] = [];

  override connectedCallback(): void {
    super.connectedCallback();
    this.#look();
  }

  override disconnectedCallback(): void {
    this.#forget();
    super.disconnectedCallback();
  }

  #forget(): void {
    for (const plot of this.#plots) plot.destroy();
    this.#plots = [];
  }

  #look(): void {
    this.try(async () => {
      this.#charts = await this.link.charts(this.#filter);
    });
  }

  #asked = (event: Event): void => {
    event.preventDefault();
    const data = new FormData(event.currentTarget as HTMLFormElement);
    this.#filter = { from: String(data.get('from') ?? ''), to: String(data.get('to') ?? '') };
    this.#look();
  };

  override render(): TemplateResult {
    const charts = this.#charts;
    return html`
      <form @submit=${this.#asked}>
        <label>From <input type="date" name="from" /></label>
        <label>To <input type="date" name="to" /></label>
        <button>Look</button>
      </form>
      ${this.fault ? html`<p class="bad" role="alert">${this.fault}</p>` : nothing}
      ${charts ? this.#figures(charts) : nothing}
    `;
  }

  #figures({ firstPass, stays }: Charts): TemplateResult {
    return html`
      <h2>Hold points passed when first looked at</h2>
      <div class="plot" id="weeks" role="img" aria-label="Share of hold points passed at first, week by week"></div>
      <table>
        <caption>Jobs that closed in this time; limits are Wilson’s, 95 %</caption>
        <thead><tr><th scope="col">Hold point</th><th scope="col" class="number">Jobs</th><th scope="col" class="number">Passed at first</th><th scope="col" class="number">Limits</th><th scope="col" class="number">Conceded</th></tr></thead>
        <tbody>
          ${firstPass.map(
            (row) => html`<tr>
              <td>${row.says}<br /><small>${row.procedure}</small></td>
              <td class="number">${row.jobs}</td>
              <td class="number">${percent(row.passed / row.jobs)}</td>
              <td class="number">${percent(row.limits.low)} to ${percent(row.limits.high)}</td>
              <td class="number">${row.conceded}</td>
            </tr>`,
          )}
        </tbody>
      </table>
      <h2>Time at each station</h2>
      <div class="plot" id="stays" role="img" aria-label="Median and 80th percentile of the time at each station, minutes"></div>
      <table>
        <caption>Finished jobs, pauses left out; percentiles by linear interpolation</caption>
        <thead><tr><th scope="col">Station</th><th scope="col" class="number">Jobs</th><th scope="col" class="number">Median, min</th><th scope="col" class="number">80 % within, min</th></tr></thead>
        <tbody>
          ${stays.map(
            (row, index) => html`<tr>
              <td>${index + 1}. ${row.says}<br /><small>${row.procedure}</small></td>
              <td class="number">${row.jobs}</td>
              <td class="number">${minutes(row.median)}</td>
              <td class="number">${minutes(row.p80)}</td>
            </tr>`,
          )}
        </tbody>
      </table>
    `;
  }

  override updated(): void {
    this.#forget();
    const charts = this.#charts;
    if (!charts) return;
    const { weeks, stays } = charts;
    const shares = weeks.map(({ passed, jobs }) => (100 * passed) / jobs);
    this.#plot('#weeks', [weeks.map(({ week }) => week / 1000), shares], 'passed at first, %', true);
    const places = stays.map((_, index) => index + 1);
    const inMinutes = (of: 'median' | 'p80') => stays.map((row) => row[of] / 60_000);
    this.#plot('#stays', [places, inMinutes('median'), inMinutes('p80')], 'minutes', false);
  }

  #plot(where: string, data: uPlot.AlignedData, label: string, time: boolean): void {
    const place = this.renderRoot.querySelector<HTMLElement>(where);
    if (!place || data[0].length === 0) return;
    const token = (name: string) => getComputedStyle(this).getPropertyValue(name).trim();
    const axis = {
      stroke: token('--ink'),
      font: '14px B612, sans-serif',
      grid: { stroke: token('--rule'), width: 1 },
    };
    const points = { show: true, size: 8, fill: token('--ink') };
    this.#plots.push(
      new uPlot(
        {
          width: Math.max(320, place.clientWidth),
          height: 250,
          legend: { show: false },
          cursor: { show: false },
          scales: {
            // A week of room on both sides: one week alone would be drawn over years.
            x: time ? { time, range: (_, low, high) => [low - WEEK_S, high + WEEK_S] } : { time },
            y: { range: (_, __, high) => [0, time ? 100 : Math.max(1, high * 1.1)] },
          },
          axes: [
            {
              ...axis,
              ...(time ? {} : { label: 'station, as numbered below', labelSize: 20, labelFont: axis.font }),
            },
            { ...axis, label, labelSize: 20, labelFont: axis.font },
          ],
          series: [
            {},
            { stroke: token('--ink'), width: 3, points },
            ...(data.length > 2
              ? [{ stroke: token('--ink-2'), width: 2, dash: [7, 6], points: { show: false } }]
              : []),
          ],
        },
        data,
        place,
      ),
    );
  }
}

customElements.define('hf-office-figures', FiguresView);
