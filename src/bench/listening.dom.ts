import type { Heard } from '../hear/ear.ts';
import type { Take } from '../hear/taker.ts';
import { AS_DELIVERED, type EarState, SILENT, type VoiceSetUp } from './ear-state.ts';
import type { Listener, ListenerHost } from './listener.dom.ts';
import type { LivePhrase } from './voice.ts';
import type { Voices } from './voices.dom.ts';

/** The ear as the bench uses it: switched on and off, told what may be said now, deaf while the app itself sounds. */
export class Listening implements ListenerHost {
  state: EarState = SILENT;
  /** Called for every phrase that was heard and counts. */
  onHeard: (heard: Heard) => void = () => undefined;
  /** Called when there is something new to show. */
  onChange: () => void = () => undefined;
  /** Called with every sentence about a fault: it is said as well as shown. */
  onFault: (says: string) => void = () => undefined;
  /** While somebody teaches: every take. */
  onTake: (take: Take) => void = () => undefined;
  #listener: Listener | null = null;
  #live: readonly LivePhrase[] = [];
  #person: string | null = null;
  #setUp: VoiceSetUp = AS_DELIVERED;

  async #load(): Promise<Listener> {
    const { Listener } = await import('./listener.dom.ts');
    if (!this.#listener) {
      this.#listener = new Listener(this);
      await this.#listener.use(this.#setUp);
      this.#listener.listen(this.#live, this.#person);
    }
    return this.#listener;
  }

  /** Opens the microphone; the engine is fetched on first use. A fault is in the state. */
  async start(): Promise<void> {
    const listener = await this.#load().catch(() => null);
    if (listener) return listener.start();
    const fault =
      'The listening engine could not be loaded: load the page again, or go on with pedal and keys.';
    this.state = { ...SILENT, fault };
    this.onChange();
  }

  stop(): void {
    this.#listener?.stop();
  }

  /** How this bench listens. What listens already is opened anew. */
  async use(setUp: VoiceSetUp): Promise<void> {
    this.#setUp = setUp;
    await this.#listener?.use(setUp);
  }

  /** What may be said now, and who is likely to say it. */
  listen(phrases: readonly LivePhrase[], person: string | null = null): void {
    this.#live = phrases;
    this.#person = person;
    this.#listener?.listen(phrases, person);
  }

  /** The app speaks or sounds: nothing that begins meanwhile counts. */
  deaf(deaf: boolean): void {
    this.#listener?.deaf(deaf);
  }

  /** Records a voice note; its end phrase, a press or its limit ends it. Null where nothing listens here. */
  note(): Promise<Blob | null> {
    return this.#listener?.note() ?? Promise.resolve(null);
  }

  endNote(): void {
    this.#listener?.endNote();
  }

  /** People's takes; nothing is opened for it. */
  async voices(): Promise<Voices> {
    return (await this.#load()).voices();
  }

  /** Reads the phones of a kept take anew; null while our own ear is shut. */
  get reader(): Listener['reader'] {
    return this.#listener?.reader ?? null;
  }

  /** Begins or ends teaching: meanwhile no phrase is heard. @throws Error with a sentence when our own ear cannot listen */
  async teach(on: boolean): Promise<void> {
    if (on) await (await this.#load()).teach(true);
    else await this.#listener?.teach(false);
  }
}
