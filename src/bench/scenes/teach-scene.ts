import { html, type TemplateResult } from 'lit';
import type { Take } from '../../hear/taker.ts';
import { isOwnWord, soundFault, TAKES, type TakeFault, takeFault, waysOf } from '../../hear/teach.ts';
import type { Gesture } from '../../press/gesture.ts';
import type { Person } from '../../procedure/context.ts';
import type { Teachable } from '../teachable.ts';
import type { KeptTake, Voices } from '../voices.dom.ts';
import '../screens/teach-screen.ts';
import type { Bench, Scene } from './scene.ts';

/** One person says the words of a list, three times each, and the bench goes on by itself. */
export class TeachScene implements Scene {
  readonly #bench: Bench;
  readonly #person: Person;
  readonly #list: readonly Teachable[];
  readonly #voices: Voices;
  readonly #done: () => Promise<void>;
  #takes: ReadonlyMap<string, readonly KeptTake[]>;
  #at: number;
  #told: { good: boolean; says: string } | null = null;
  /** A take unlike those before: when the next one is like it, it was those before that were wrong. */
  #odd: Take | null = null;
  #busy: Promise<void> = Promise.resolve();

  /** @throws Error with a sentence when the microphone does not listen */
  static async open(
    bench: Bench,
    person: Person,
    list: readonly Teachable[],
    done: () => Promise<void>,
    from?: number,
  ): Promise<TeachScene> {
    await bench.listening.teach(true);
    const voices = await bench.listening.voices();
    const takes = await voices.takes(person.id);
    return new TeachScene(bench, person, list, voices, takes, done, from);
  }

  private constructor(
    bench: Bench,
    person: Person,
    list: readonly Teachable[],
    voices: Voices,
    takes: ReadonlyMap<string, readonly KeptTake[]>,
    done: () => Promise<void>,
    from?: number,
  ) {
    this.#bench = bench;
    this.#person = person;
    this.#list = list;
    this.#voices = voices;
    this.#takes = takes;
    this.#done = done;
    const first = list.findIndex(({ text }) => (takes.get(text)?.length ?? 0) < TAKES);
    this.#at = from ?? Math.max(0, first);
    bench.listening.onTake = (take) => {
      // One after the other: the second of two takes is judged with the first one kept.
      this.#busy = this.#busy.then(() => this.#take(take)).catch((error: unknown) => bench.fail(error));
    };
    this.#ask();
  }

  get idle(): Promise<unknown> {
    return this.#busy;
  }

  get #phrase(): Teachable {
    return this.#list[this.#at] ?? { text: '', kind: 'word' };
  }

  get #kept(): readonly KeptTake[] {
    return this.#takes.get(this.#phrase.text) ?? [];
  }

  #ask(): void {
    this.#bench.desk.speaker.say([this.#phrase.text]);
    this.#bench.redraw();
  }

  async #take(take: Take): Promise<void> {
    const phrase = this.#phrase;
    if (this.#kept.length >= TAKES) return;
    const before = this.#kept.map(({ phones }) => phones);
    const fault = soundFault(take) ?? takeFault(phrase, take.phones, before, this.#voices.words);
    if (fault) return this.#refused(fault, take);
    this.#odd = null;
    await this.#keep(phrase, take);
  }

  async #keep(phrase: Teachable, take: Take): Promise<void> {
    const { desk } = this.#bench;
    const kept = await this.#voices.keep(this.#person.id, phrase, take, desk.now());
    this.#takes = new Map([...this.#takes, [phrase.text, kept]]);
    const rest = TAKES - kept.length;
    if (rest > 0) this.#say(true, rest === 1 ? 'Good. Once more.' : `Good. ${rest} more.`);
    else this.#next(true);
  }

  async #refused(fault: TakeFault, take: Take): Promise<void> {
    const odd = this.#odd;
    this.#odd = null;
    if (fault.code === 'unlike-others') {
      const phrase = this.#phrase;
      const again = odd && takeFault(phrase, take.phones, [odd.phones], this.#voices.words) === null;
      if (again) {
        await this.#forget(phrase.text);
        await this.#keep(phrase, odd);
        return this.#keep(phrase, take);
      }
      this.#odd = take;
    }
    this.#bench.desk.speaker.tone('refused');
    this.#say(false, fault.says);
  }

  async #forget(text: string): Promise<void> {
    await this.#voices.drop(this.#person.id, text);
    this.#takes = new Map([...this.#takes].filter(([one]) => one !== text));
  }

  #say(good: boolean, says: string): void {
    this.#told = { good, says };
    this.#bench.redraw();
  }

  #next(sounds: boolean): void {
    if (sounds) this.#bench.desk.speaker.tone('full');
    if (this.#at + 1 < this.#list.length) this.#go(1);
    else this.#bench.try(this.#done());
  }

  #go(by: number): void {
    this.#at = Math.max(0, Math.min(this.#list.length - 1, this.#at + by));
    this.#odd = null;
    this.#told = null;
    this.#ask();
  }

  pressed(gesture: Gesture): void {
    this.#bench.fault = null;
    if (gesture.kind !== 'holding') this.#bench.desk.speaker.hush();
    if (gesture.kind === 'escape') this.#bench.try(this.#done());
    else if (gesture.kind === 'enter' || (gesture.kind === 'tap' && gesture.key === 'go')) this.#next(false);
    else if (gesture.kind === 'tap' && gesture.key === 'back') this.#go(-1);
    else if (gesture.kind === 'long' && gesture.key === 'go')
      this.#bench.try(this.#forget(this.#phrase.text).then(() => this.#go(0)));
  }

  close(): void {
    const { listening } = this.#bench;
    listening.onTake = () => undefined;
    listening.teach(false).catch(() => undefined);
  }

  render(): TemplateResult {
    const { text, kind } = this.#phrase;
    const phones = this.#kept.map((take) => take.phones);
    const ways = waysOf({ text, kind }, phones, this.#voices.words);
    return html`<hf-teach
      .heading=${this.#person.name}
      .word=${text}
      .place=${`word ${this.#at + 1} of ${this.#list.length}`}
      .takes=${this.#kept.length}
      .own=${isOwnWord(text, ways, this.#voices.words)}
      .told=${this.#told ?? (this.#kept.length >= TAKES ? { good: true, says: 'This word is taught.' } : null)}
      .ear=${this.#bench.listening.state}
      .fault=${this.#bench.fault ?? this.#bench.listening.state.fault}
    ></hf-teach>`;
  }
}
