import { html, type TemplateResult } from 'lit';
import type { KeptPasskey } from '../../job/passkey/store.dom.ts';
import { pinSentence } from '../../job/pins.dom.ts';
import { toMoment } from '../../journal/moment.ts';
import type { Gesture } from '../../press/gesture.ts';
import type { Person } from '../../procedure/context.ts';
import '../screens/sign-on-screen.ts';
import { type ListContent, ListScene } from './list-scene.ts';
import { PinEntry } from './pin-entry.ts';
import type { Bench } from './scene.ts';

type Wish = { readonly kind: 'enrol' } | { readonly kind: 'remove'; readonly passkey: KeptPasskey };

/**
 * The people of this bench and their passkeys. Whoever enrols one, or takes one away, gives their own PIN first: a passkey
 * is worth no more than the act by which it was enrolled.
 */
export class PeopleScene extends ListScene {
  #person: Person | null = null;
  #passkeys: readonly KeptPasskey[] = [];
  #counts: ReadonlyMap<string, number> = new Map();
  /** What is done once the PIN was right; null while a list is shown. */
  #wish: Wish | null = null;
  #told = '';
  readonly #entry = new PinEntry();

  static async open(bench: Bench): Promise<PeopleScene> {
    const scene = new PeopleScene(bench);
    await scene.#look();
    return scene;
  }

  get #people(): readonly Person[] {
    return this.bench.workshop?.people ?? [];
  }

  async #look(): Promise<void> {
    const { passkeys } = this.bench.desk;
    if (!passkeys) return;
    await passkeys.look();
    const opened = await passkeys.open();
    const counted = this.#people.map(async ({ id }) => [id, (await opened.of(id)).length] as const);
    this.#counts = new Map(await Promise.all(counted));
    this.#passkeys = this.#person ? await opened.of(this.#person.id) : [];
  }

  protected content(): ListContent {
    return this.#person ? this.#ofPerson(this.#person) : this.#all();
  }

  #all(): ListContent {
    const inWords = (count: number) =>
      count === 0 ? 'no passkey' : count === 1 ? '1 passkey' : `${count} passkeys`;
    return {
      heading: 'People',
      lead: 'Whose passkeys? A passkey signs on like a PIN: at the start of a job, as a witness, to decide and to take over.',
      options: this.#people.map(({ id, name, role }) => ({
        text: name,
        detail: `${role} · ${inWords(this.#counts.get(id) ?? 0)}`,
      })),
    };
  }

  #ofPerson({ name }: Person): ListContent {
    return {
      heading: name,
      lead: this.#told,
      options: [
        { text: 'Enrol a passkey', detail: 'on this device, or on a key that is plugged in or held to it' },
        ...this.#passkeys.map(({ id, enrolledAt, copied }) => ({
          ...(copied ? { mark: '✕ may be a copy:' } : {}),
          text: `Take away the passkey of ${toMoment(enrolledAt).slice(0, 10)}`,
          detail: `its id begins ${id.slice(0, 6)}`,
        })),
      ],
    };
  }

  protected async take(index: number): Promise<void> {
    this.bench.fault = null;
    if (!this.#person) {
      this.#person = this.#people[index] ?? null;
      this.#told = '';
      this.at = 0;
      await this.#look();
    } else {
      const passkey = this.#passkeys[index - 1];
      this.#wish = passkey ? { kind: 'remove', passkey } : { kind: 'enrol' };
    }
    this.bench.redraw();
  }

  protected override leave(): void {
    this.bench.fault = null;
    if (this.#wish) this.#wish = null;
    else if (this.#person) this.#person = null;
    else super.leave();
    this.#entry.take();
    this.at = 0;
    this.bench.redraw();
  }

  override pressed(gesture: Gesture): void {
    if (!this.#wish) {
      super.pressed(gesture);
      return;
    }
    const wants = this.#entry.pressed(gesture, false);
    if (wants === 'leave') this.leave();
    if (wants === 'pin') this.bench.try(this.#check(this.#wish, this.#entry.take()));
    this.bench.redraw();
  }

  async #check(wish: Wish, pin: string): Promise<void> {
    const person = this.#person;
    const { pins, passkeys, now, shutOut } = this.bench.desk;
    if (!person || !passkeys) return;
    const fault = shutOut?.(person.id) ?? pinSentence(await pins.check(person.id, pin, now()));
    if (fault !== null) throw new Error(fault);
    this.#wish = null;
    this.#told = '';
    this.at = 0;
    this.bench.fault = null;
    this.bench.redraw();
    const opened = await passkeys.open();
    if (wish.kind === 'enrol') await opened.enrol(person, Math.trunc(now()));
    else await opened.remove(wish.passkey.id);
    this.#told =
      wish.kind === 'enrol'
        ? 'The passkey is enrolled: where a PIN is asked for, a tap asks for it.'
        : 'The passkey was taken away: it counts for nothing here any more.';
    await this.#look();
    this.bench.redraw();
  }

  override render(): TemplateResult {
    if (!this.#wish) return super.render();
    return html`<hf-sign-on
      .person=${this.#person?.name ?? ''}
      .typed=${this.#entry.typed}
      .fault=${this.bench.fault}
      .hint=${this.bench.workshop?.hint ?? null}
    ></hf-sign-on>`;
  }
}
