import { html, type TemplateResult } from 'lit';
import type { Gesture } from '../../press/gesture.ts';
import { choose } from '../chooser.ts';
import type { Option } from '../parts/options.ts';
import '../screens/choose-screen.ts';
import type { Bench, Scene } from './scene.ts';

export interface ListContent {
  readonly heading: string;
  readonly lead: string;
  readonly options: readonly Option[];
}

/** A scene that is one question with numbered answers. */
export abstract class ListScene implements Scene {
  protected readonly bench: Bench;
  protected at = 0;
  /** Worked with a hand on it, so read at arm's length. */
  protected readonly near: boolean = false;

  constructor(bench: Bench) {
    this.bench = bench;
  }

  protected abstract content(): ListContent;
  protected abstract take(index: number): Promise<unknown>;
  protected leave(): void {
    this.bench.try(this.bench.toShelf());
  }

  pressed(gesture: Gesture): void {
    const { at, taken, left } = choose(this.at, this.content().options.length, gesture);
    this.at = at;
    this.bench.redraw();
    if (taken !== null) this.bench.try(this.take(taken));
    if (left) this.leave();
  }

  render(): TemplateResult {
    const { heading, lead, options } = this.content();
    return html`<hf-choose
      ?near=${this.near}
      .heading=${heading}
      .lead=${lead}
      .options=${options}
      .at=${this.at}
      .fault=${this.bench.fault}
      @taken=${(event: CustomEvent<number>) => this.bench.try(this.take(event.detail))}
    ></hf-choose>`;
  }
}
