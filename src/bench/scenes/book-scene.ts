import { html, type TemplateResult } from 'lit';
import type { Bench, Scene } from './scene.ts';

/** The record book, read at a desk: it is fetched when it is opened, and the keys are its own. */
export class BookScene implements Scene {
  readonly #bench: Bench;

  static async open(bench: Bench): Promise<BookScene> {
    await import('../../book/screens/book-screen.dom.ts');
    return new BookScene(bench);
  }

  private constructor(bench: Bench) {
    this.#bench = bench;
    // Arrows and page keys scroll here, whatever pedal they are otherwise.
    bench.presses?.divert(() => false);
  }

  pressed(): void {}

  close(): void {
    this.#bench.presses?.divert(null);
  }

  #leave = (): void => this.#bench.try(this.#bench.toShelf());

  render(): TemplateResult {
    return html`<hf-book .desk=${this.#bench.desk} @left=${this.#leave}></hf-book>`;
  }
}
