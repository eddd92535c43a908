import { html, type TemplateResult } from 'lit';
import { shopVerdict } from '../../hear/shop.ts';
import type { Take } from '../../hear/taker.ts';
import { soundFault } from '../../hear/teach.ts';
import type { Gesture } from '../../press/gesture.ts';
import '../screens/levels-screen.ts';
import type { Bench, Scene } from './scene.ts';

/** How long the shop is listened to, ms. Our own choice. */
const QUIET_MS = 3000;

/** One guided measurement: nobody speaks, then one sentence; then what will work by voice here. */
export class LevelsScene implements Scene {
  readonly #bench: Bench;
  #step: 'quiet' | 'speak' | 'told' = 'quiet';
  #floor: number | null = null;
  #ratio: number | null = null;
  #told: string | null = null;
  #timer = 0;

  /** @throws Error with a sentence when the microphone does not listen */
  static async open(bench: Bench): Promise<LevelsScene> {
    await bench.listening.teach(true);
    return new LevelsScene(bench);
  }

  private constructor(bench: Bench) {
    this.#bench = bench;
    bench.listening.onTake = (take) => this.#take(take);
    this.#begin();
  }

  #begin(): void {
    window.clearTimeout(this.#timer);
    this.#step = 'quiet';
    this.#told = null;
    this.#timer = window.setTimeout(() => {
      this.#floor = this.#bench.listening.state.level?.floor ?? null;
      this.#step = 'speak';
      this.#bench.desk.speaker.tone('full');
      this.#bench.redraw();
    }, QUIET_MS);
    this.#bench.redraw();
  }

  #take(take: Take): void {
    if (this.#step === 'quiet') this.#told = 'Somebody spoke: nobody speaks now.';
    if (this.#step === 'speak') this.#measure(take);
    this.#bench.redraw();
  }

  #measure(take: Take): void {
    const fault = soundFault({ ...take, speechToNoise: null, ms: 0 });
    if (fault || take.speechToNoise === null) this.#told = fault?.says ?? 'Say it once more.';
    else {
      this.#ratio = take.speechToNoise;
      this.#step = 'told';
      const { says, remedy } = shopVerdict(take.speechToNoise);
      this.#bench.desk.speaker.say(remedy ? [says, remedy] : [says]);
    }
  }

  pressed(gesture: Gesture): void {
    this.#bench.desk.speaker.hush();
    if (gesture.kind === 'escape') this.#bench.try(this.#leave());
    else if (gesture.kind === 'enter' || (gesture.kind === 'tap' && gesture.key === 'go')) this.#begin();
  }

  async #leave(): Promise<void> {
    const { VoiceScene } = await import('./voice-scene.ts');
    this.#bench.show(await VoiceScene.open(this.#bench));
  }

  close(): void {
    window.clearTimeout(this.#timer);
    const { listening } = this.#bench;
    listening.onTake = () => undefined;
    listening.teach(false).catch(() => undefined);
  }

  render(): TemplateResult {
    const { state } = this.#bench.listening;
    return html`<hf-levels
      .step=${this.#step}
      .floor=${this.#floor}
      .ratio=${this.#ratio}
      .told=${this.#told}
      .ear=${state}
      .fault=${this.#bench.fault ?? state.fault}
    ></hf-levels>`;
  }
}
