import { html, type TemplateResult } from 'lit';
import { passkeyFault } from '../../job/passkey/door.ts';
import { pinSentence } from '../../job/pins.dom.ts';
import type { Gesture } from '../../press/gesture.ts';
import type { Order } from '../order.ts';
import '../screens/sign-on-screen.ts';
import { openJob } from './order-scene.ts';
import { PinEntry } from './pin-entry.ts';
import type { Bench, Scene } from './scene.ts';

/** The person who was chosen shows that it is them: a PIN, a passkey, or their badge. */
export class SignOnScene implements Scene {
  readonly #bench: Bench;
  readonly #order: Order;
  readonly #entry = new PinEntry();

  constructor(bench: Bench, order: Order) {
    this.#bench = bench;
    this.#order = order;
    bench.try(this.#look());
  }

  get #hasPasskey(): boolean {
    return this.#bench.desk.passkeys?.known.has(this.#order.person?.id ?? '') ?? false;
  }

  async #look(): Promise<void> {
    await this.#bench.desk.passkeys?.look();
    this.#bench.redraw();
  }

  pressed(gesture: Gesture): void {
    const wants = this.#entry.pressed(gesture, this.#hasPasskey);
    if (wants === 'leave') this.#bench.try(this.#bench.toShelf());
    if (wants === 'pin') this.#bench.try(this.#check(this.#entry.take()));
    if (wants === 'passkey') this.#bench.try(this.#check(null));
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

  /** `pin` null: by passkey. */
  async #check(pin: string | null): Promise<void> {
    const { person } = this.#order;
    if (!person) return;
    const { pins, passkeys, now } = this.#bench.desk;
    const fault =
      pin === null
        ? await passkeyFault(passkeys, person.id, now())
        : pinSentence(await pins.check(person.id, pin, now()));
    if (fault !== null) throw new Error(fault);
    await openJob(this.#bench, this.#order, pin === null ? 'passkey' : 'pin');
  }

  render(): TemplateResult {
    return html`<hf-sign-on
      .person=${this.#order.person?.name ?? ''}
      .typed=${this.#entry.typed}
      .fault=${this.#bench.fault}
      .hint=${this.#bench.workshop?.hint ?? null}
      .passkey=${this.#hasPasskey}
    ></hf-sign-on>`;
  }
}
