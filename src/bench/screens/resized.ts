import type { LitElement, ReactiveController } from 'lit';

/** Calls `act` whenever the screen's own size changes, and once when it is first in the page. */
export class Resized implements ReactiveController {
  readonly #host: LitElement;
  readonly #sizes: ResizeObserver;

  constructor(host: LitElement, act: () => void) {
    this.#host = host;
    this.#sizes = new ResizeObserver(act);
    host.addController(this);
  }

  hostConnected(): void {
    this.#sizes.observe(this.#host);
  }

  hostDisconnected(): void {
    this.#sizes.disconnect();
  }
}
