import weightsUrl from '../../assets/voice/ear.bin?url';
import wordsUrl from '../../assets/voice/words.json?url';
import type { Heard, Nearly } from '../hear/ear.ts';
import type { Mic } from '../hear/mic.dom.ts';
import { type EarState, SILENT, sureness } from './ear-state.ts';
import type { LivePhrase } from './voice.ts';

/** Least sureness with which something nearly heard is shown. Our own choice. */
const LEAST_SHOWN = 0.15;

/** The ear as the bench uses it: switched on and off, told what may be said now, deaf while the app itself sounds. */
export class Listening {
  state: EarState = SILENT;
  /** Called for every phrase that was heard and counts. */
  onHeard: (heard: Heard) => void = () => undefined;
  /** Called when there is something new to show. */
  onChange: () => void = () => undefined;
  #mic: Mic | null = null;
  #live: readonly LivePhrase[] = [];
  #opening = false;

  /** Opens the microphone; the engine is fetched on first use. A fault is in the state. */
  async start(): Promise<void> {
    if (this.#mic || this.#opening) return;
    this.#opening = true;
    try {
      const [{ openMic }, weights, table] = await Promise.all([
        import('../hear/mic.dom.ts'),
        fetch(weightsUrl).then((response) => response.arrayBuffer()),
        fetch(wordsUrl).then((response) => response.json() as Promise<Record<string, string>>),
      ]);
      const mic = await openMic(
        { weights, table },
        {
          heard: (heard, speechToNoise) => this.#heard(heard, speechToNoise),
          nearly: (nearly) => this.#nearly(nearly),
          level: (now, floor, speechToNoise) => this.#change({ level: { now, floor }, speechToNoise }),
          lost: ({ says }) => this.#lost(says),
        },
      );
      if ('code' in mic) return this.#lost(mic.says);
      this.#mic = mic;
      mic.listen(this.#live);
      this.#change({ on: true, fault: null });
    } catch {
      this.#lost(
        'The listening engine could not be loaded: load the page again, or go on with pedal and keys.',
      );
    } finally {
      this.#opening = false;
    }
  }

  stop(): void {
    this.#mic?.close();
    this.#mic = null;
    this.state = SILENT;
    this.onChange();
  }

  /** What may be said now. The same list again changes nothing: a word that is being spoken is not cut. */
  listen(phrases: readonly LivePhrase[]): void {
    const same =
      phrases.length === this.#live.length &&
      phrases.every(({ text, kind }, at) => this.#live[at]?.text === text && this.#live[at]?.kind === kind);
    if (same) return;
    this.#live = phrases;
    this.#mic?.listen(phrases);
  }

  /** The app speaks or sounds: nothing that begins meanwhile counts. */
  deaf(deaf: boolean): void {
    this.#mic?.deaf(deaf);
  }

  #change(change: Partial<EarState>): void {
    this.state = { ...this.state, ...change };
    this.onChange();
  }

  #heard(heard: Heard, speechToNoise: number | null): void {
    const last = { text: heard.phrase, score: sureness(heard.score), refused: null };
    this.#change({ last, speechToNoise });
    this.onHeard(heard);
  }

  #nearly({ heard, refusal }: Nearly): void {
    const score = sureness(heard.score);
    // What sounds like nothing that may be said comes close to some phrase all the time: that helps nobody.
    if (score < LEAST_SHOWN) return;
    this.#change({ last: { text: heard.phrase, score, refused: refusal.says } });
  }

  #lost(says: string): void {
    this.#mic = null;
    this.state = { ...SILENT, fault: says };
    this.onChange();
  }
}
