import { html, type TemplateResult } from 'lit';
import type { Gesture } from '../../press/gesture.ts';
import type { PedalScreen } from '../screens/pedal-screen.ts';
import '../screens/pedal-screen.ts';
import type { Bench, Scene } from './scene.ts';

/** Set-up of the pedal; its strokes go to the screen itself while it learns. */
export class PedalScene implements Scene {
  readonly #bench: Bench;

  constructor(bench: Bench) {
    this.#bench = bench;
  }

  pressed(gesture: Gesture): void {
    if (gesture.kind === 'escape') this.#leave();
    else if (gesture.kind === 'enter') this.#screen()?.more();
  }

  #screen(): PedalScreen | null {
    const host = this.#bench.host as Partial<Pick<HTMLElement, 'shadowRoot'>>;
    return host.shadowRoot?.querySelector('hf-pedal') ?? null;
  }

  #leave = (): void => this.#bench.try(this.#bench.toShelf());

  render(): TemplateResult {
    return html`<hf-pedal
      .presses=${this.#bench.presses}
      .settings=${this.#bench.desk.settings}
      @left=${this.#leave}
    ></hf-pedal>`;
  }
}
