import { html, type TemplateResult } from 'lit';
import { pinSentence } from '../../job/pins.dom.ts';
import type { Gesture } from '../../press/gesture.ts';
import type { Order } from '../order.ts';
import '../screens/sign-on-screen.ts';
import { openJob } from './order-scene.ts';
import type { Bench, Scene } from './scene.ts';

const MOST_DIGITS = 8;

/** The person who was chosen shows that it is them: a PIN, or their badge. */
export class SignOnScene implements Scene {
  readonly #bench: Bench;
  readonly #order: Order;
  #pin = '';

  constructor(bench: Bench, order: Order) {
    this.#bench = bench;
    this.#order = order;
  }

  pressed(gesture: Gesture): void {
    if (gesture.kind === 'escape') this.#bench.try(this.#bench.toShelf());
    if (gesture.kind === 'digit' && this.#pin.length < MOST_DIGITS) this.#pin += gesture.digit;
    if (gesture.kind === 'erase') this.#pin = this.#pin.slice(0, -1);
    if (gesture.kind === 'enter' && this.#pin !== '') this.#bench.try(this.#check());
    this.#bench.redraw();
  }

  typed(text: string): void {
    const { person } = this.#order;
    if (person && this.#bench.workshop?.badges?.[text] === person.id) {
      this.#bench.try(openJob(this.#bench, this.#order, 'badge'));
    } else {
      this.#bench.fail(new Error(`That is not the badge of ${person?.name ?? 'the person chosen'}.`));
    }
  }

  async #check(): Promise<void> {
    const { person } = this.#order;
    const pin = this.#pin;
    this.#pin = '';
    if (!person) return;
    const { pins, now } = this.#bench.desk;
    const fault = pinSentence(await pins.check(person.id, pin, now()));
    if (fault !== null) throw new Error(fault);
    await openJob(this.#bench, this.#order, 'pin');
  }

  render(): TemplateResult {
    return html`<hf-sign-on
      .person=${this.#order.person?.name ?? ''}
      .typed=${this.#pin.length}
      .fault=${this.#bench.fault}
      .hint=${this.#bench.workshop?.hint ?? null}
    ></hf-sign-on>`;
  }
}
