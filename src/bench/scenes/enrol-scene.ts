import { html, type TemplateResult } from 'lit';
import { passkeyFault } from '../../job/passkey/door.ts';
import { pinSentence } from '../../job/pins.dom.ts';
import { type Author, keyCode } from '../../journal/published.ts';
import type { Gesture } from '../../press/gesture.ts';
import type { Person } from '../../procedure/context.ts';
import '../screens/sign-on-screen.ts';
import { type ListContent, ListScene } from './list-scene.ts';
import { PinEntry } from './pin-entry.ts';
import { ProceduresScene } from './procedures-scene.ts';
import type { Bench } from './scene.ts';

interface Asks {
  readonly heading: string;
  readonly lead: string;
  readonly yes: string;
  readonly no: string;
  /** Done when a supervisor has said yes and signed on. */
  readonly done: (supervisor: Person) => Promise<void>;
}

/** Whose procedures this bench takes is for a supervisor to say: the question, then who answers it, then their PIN. */
export class EnrolScene extends ListScene {
  readonly #asks: Asks;
  #step: 'ask' | 'who' | 'pin' = 'ask';
  #person: Person | null = null;
  readonly #entry = new PinEntry();

  /** Enrols an author by the code of their key, then goes on with what waited for it. */
  static enrol(bench: Bench, author: Author, then: () => Promise<void>): EnrolScene {
    const { published, now } = bench.desk;
    return new EnrolScene(bench, {
      heading: keyCode(author.kid),
      lead: `This is the code of the key that sealed the file; the name in it is “${author.name}”. Ask that person for the code of their key. Only when it is the same are they the author.`,
      yes: `The code is the same: take procedures of ${author.name}`,
      no: 'It is another, or I cannot ask: take nothing',
      done: async ({ id }) => {
        await published.enrol({ ...author, enrolledAt: now(), enrolledBy: id });
        await then();
      },
    });
  }

  static withdraw(bench: Bench, author: Author): EnrolScene {
    return new EnrolScene(bench, {
      heading: `Take nothing more from ${author.name}?`,
      lead: `The key ${keyCode(author.kid)} will not count on this bench any more. What was taken stays: jobs carry their procedure.`,
      yes: 'Take nothing more',
      no: 'Leave it as it is',
      done: async () => {
        await bench.desk.published.withdraw(author.kid);
        bench.show(await ProceduresScene.open(bench, `Nothing more is taken from ${author.name}.`));
      },
    });
  }

  private constructor(bench: Bench, asks: Asks) {
    super(bench);
    this.#asks = asks;
    bench.try(bench.desk.passkeys?.look() ?? Promise.resolve());
  }

  #supervisors(): readonly Person[] {
    const { workshop, desk } = this.bench;
    return (workshop?.people ?? []).filter(
      ({ id, role }) => role === 'supervisor' && (desk.shutOut?.(id) ?? null) === null,
    );
  }

  protected content(): ListContent {
    if (this.#step === 'who') {
      return {
        heading: 'Which supervisor says so?',
        lead: '',
        options: this.#supervisors().map(({ name }) => ({ text: name })),
      };
    }
    const { heading, lead, yes, no } = this.#asks;
    return { heading, lead, options: [{ text: no }, { text: yes }] };
  }

  protected async take(index: number): Promise<void> {
    const supervisors = this.#supervisors();
    this.at = 0;
    if (this.#step === 'ask' && index === 0) return this.leave();
    if (this.#step === 'ask') {
      if (supervisors.length === 0)
        throw new Error('This workshop has no supervisor: nobody can enrol an author.');
      this.#step = supervisors.length === 1 ? 'pin' : 'who';
      this.#person = supervisors.length === 1 ? (supervisors[0] ?? null) : null;
    } else {
      this.#person = supervisors[index] ?? null;
      this.#step = this.#person ? 'pin' : 'who';
    }
    this.bench.redraw();
  }

  protected override leave(): void {
    this.bench.try(ProceduresScene.open(this.bench).then((scene) => this.bench.show(scene)));
  }

  override pressed(gesture: Gesture): void {
    if (this.#step !== 'pin') {
      super.pressed(gesture);
      return;
    }
    const wants = this.#entry.pressed(gesture, this.#hasPasskey);
    if (wants === 'leave') {
      this.leave();
      return;
    }
    if (wants === 'pin') this.bench.try(this.#check(this.#entry.take()));
    if (wants === 'passkey') this.bench.try(this.#check(null));
    this.bench.redraw();
  }

  /** A badge shows who the supervisor is as well as a PIN does. */
  typed(text: string): void {
    const { people = [], badges = {} } = this.bench.workshop ?? {};
    const person = people.find(({ id }) => id === badges[text]);
    if (this.#step !== 'ask' && person && this.#supervisors().includes(person))
      this.bench.try(this.#asks.done(person));
    else this.bench.fail(new Error(`"${text}" is no badge of a supervisor that is asked for here.`));
  }

  get #hasPasskey(): boolean {
    return this.bench.desk.passkeys?.known.has(this.#person?.id ?? '') ?? false;
  }

  /** `pin` null: by passkey. */
  async #check(pin: string | null): Promise<void> {
    const person = this.#person;
    if (!person) return;
    const { pins, passkeys, now } = this.bench.desk;
    const fault =
      pin === null
        ? await passkeyFault(passkeys, person.id, now())
        : pinSentence(await pins.check(person.id, pin, now()));
    if (fault !== null) throw new Error(fault);
    await this.#asks.done(person);
  }

  override render(): TemplateResult {
    if (this.#step !== 'pin') return super.render();
    return html`<hf-sign-on
      .person=${this.#person?.name ?? ''}
      .typed=${this.#entry.typed}
      .fault=${this.bench.fault}
      .hint=${this.bench.workshop?.hint ?? null}
      .passkey=${this.#hasPasskey}
    ></hf-sign-on>`;
  }
}
