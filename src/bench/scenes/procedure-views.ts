import { html, type TemplateResult } from 'lit';
import { shortCode } from '../../job/story.ts';
import type { Gesture } from '../../press/gesture.ts';
import type { Definition } from '../../procedure/definition.ts';
import { revisionHash } from '../../procedure/proof/certificate.ts';
import { type Chart, chartOf } from '../../procedure/publish/chart.ts';
import type { Difference } from '../../procedure/publish/difference.ts';
import type { Revision } from '../../procedure/publish/published.ts';
import '../screens/procedure-certificate-screen.ts';
import type { ProcedureChangesScreen } from '../screens/procedure-changes-screen.ts';
import '../screens/procedure-changes-screen.ts';
import '../screens/procedure-chart-screen.ts';
import type { Bench, Scene } from './scene.ts';

/** A tap steps on or back, a long press further; Enter turns to another view; Escape leaves. Null: nothing is meant. */
function stepOf(gesture: Gesture): 'on' | 'back' | 'far' | 'turn' | 'leave' | null {
  if (gesture.kind === 'escape') return 'leave';
  if (gesture.kind === 'tap' && gesture.key === 'go') return 'on';
  if (gesture.kind === 'tap' && gesture.key === 'back') return 'back';
  if (gesture.kind === 'enter') return 'turn';
  return gesture.kind === 'long' && gesture.key === 'go' ? 'far' : null;
}

/** The certificate of a revision. */
export class CertificateScene implements Scene {
  readonly #bench: Bench;
  readonly #revision: Revision;
  readonly #back: () => void;
  #at = 0;

  constructor(bench: Bench, revision: Revision, back: () => void) {
    this.#bench = bench;
    this.#revision = revision;
    this.#back = back;
  }

  pressed(gesture: Gesture): void {
    const count = this.#revision.certificate.rows.length;
    const step = stepOf(gesture);
    if (step === 'leave') this.#back();
    if (step === 'on') this.#at = (this.#at + 1) % count;
    if (step === 'back') this.#at = (this.#at - 1 + count) % count;
    this.#bench.redraw();
  }

  #picked = (event: CustomEvent<number>): void => {
    this.#at = event.detail;
    this.#bench.redraw();
  };

  render(): TemplateResult {
    const { certificate, definition } = this.#revision;
    const states = Object.entries(definition.states);
    return html`<hf-procedure-certificate
      .certificate=${certificate}
      .says=${Object.fromEntries(states.map(([name, { meta }]) => [name, meta?.say ?? name]))}
      .facts=${Object.fromEntries(Object.entries(definition.meta.facts).map(([name, { says }]) => [name, says]))}
      .at=${this.#at}
      @picked=${this.#picked}
    ></hf-procedure-certificate>`;
  }
}

/** The chart of a procedure with its outline. */
export class ChartScene implements Scene {
  readonly #bench: Bench;
  readonly #definition: Definition;
  readonly #chart: Chart;
  readonly #hash: string;
  readonly #back: () => void;
  #at: string;
  #whole = false;

  constructor(bench: Bench, definition: Definition, back: () => void) {
    this.#bench = bench;
    this.#definition = definition;
    this.#chart = chartOf(definition);
    this.#hash = revisionHash(definition);
    this.#at = this.#chart.start;
    this.#back = back;
  }

  pressed(gesture: Gesture): void {
    const { nodes } = this.#chart;
    const at = nodes.findIndex(({ name }) => name === this.#at);
    const step = stepOf(gesture);
    if (step === 'leave') this.#back();
    if (step === 'on') this.#go(at + 1);
    if (step === 'back') this.#go(at - 1 + nodes.length);
    if (step === 'turn') {
      this.#whole = !this.#whole;
      this.#bench.redraw();
    }
    if (step === 'far') {
      const turned = [...nodes.slice(at + 1), ...nodes.slice(0, at + 1)];
      this.#go(
        at +
          1 +
          Math.max(
            0,
            turned.findIndex(({ kind }) => kind === 'hold'),
          ),
      );
    }
  }

  #go(index: number): void {
    const { nodes } = this.#chart;
    this.#at = nodes[index % nodes.length]?.name ?? this.#at;
    this.#bench.redraw();
  }

  #picked = (event: CustomEvent<string>): void => {
    this.#at = event.detail;
    this.#bench.redraw();
  };

  render(): TemplateResult {
    const { title, revision } = this.#definition.meta;
    return html`<hf-procedure-chart
      .heading=${title}
      .lead=${`revision ${revision} · ${shortCode(this.#hash)}`}
      .chart=${this.#chart}
      .at=${this.#at}
      .whole=${this.#whole}
      @picked=${this.#picked}
    ></hf-procedure-chart>`;
  }
}

export interface Changes {
  readonly heading: string;
  readonly lead: string;
  readonly found: readonly Difference[];
}

/** What changed between two revisions. */
export class ChangesScene implements Scene {
  readonly #bench: Bench;
  readonly #changes: Changes;
  readonly #back: () => void;

  constructor(bench: Bench, changes: Changes, back: () => void) {
    this.#bench = bench;
    this.#changes = changes;
    this.#back = back;
  }

  pressed(gesture: Gesture): void {
    const step = stepOf(gesture);
    if (step === 'leave') this.#back();
    if (step === 'on' || step === 'back') this.#screen()?.turn(step === 'on' ? 1 : -1);
  }

  #screen(): ProcedureChangesScreen | null {
    const host = this.#bench.host as Partial<Pick<HTMLElement, 'shadowRoot'>>;
    return host.shadowRoot?.querySelector('hf-procedure-changes') ?? null;
  }

  render(): TemplateResult {
    const { heading, lead, found } = this.#changes;
    return html`<hf-procedure-changes .heading=${heading} .lead=${lead} .found=${found}></hf-procedure-changes>`;
  }
}
