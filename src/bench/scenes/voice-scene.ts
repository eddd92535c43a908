import { probe, speechApi } from '../../hear/browser-recogniser.dom.ts';
import { CALL_MS, CALL_WORDS } from '../../hear/call-word.ts';
import type { EngineKind } from '../../hear/recogniser.ts';
import { GOES_AWAY, type VoiceSetUp } from '../ear-state.ts';
import type { Option } from '../parts/options.ts';
import { type ListContent, ListScene } from './list-scene.ts';
import type { Bench } from './scene.ts';

/** How this bench listens: everything of it in one list. */
export class VoiceScene extends ListScene {
  readonly #setUp: VoiceSetUp;

  static async open(bench: Bench): Promise<VoiceScene> {
    return new VoiceScene(bench, await bench.desk.settings.voiceSetUp());
  }

  private constructor(bench: Bench, setUp: VoiceSetUp) {
    super(bench);
    this.#setUp = setUp;
  }

  protected content(): ListContent {
    const { engine, callWord } = this.#setUp;
    return {
      heading: 'Voice',
      lead: engine === 'server' ? GOES_AWAY : 'What is said is heard on this device and stays on it.',
      options: [
        { text: 'Teach it a voice', detail: 'three takes a word, for each person' },
        { text: 'Measure this shop', detail: 'how loud it is, and what will work by voice here' },
        {
          text: 'Call word',
          detail: callWord === null ? 'none: every word counts by itself' : `“${callWord}”`,
        },
        { text: 'Engine', detail: ENGINES[engine].text },
      ],
    };
  }

  protected async take(index: number): Promise<void> {
    const { bench } = this;
    if (index === 0) return bench.show(new TeachWhoScene(bench));
    if (index === 2) return bench.show(new CallScene(bench, this.#setUp));
    if (index === 3) return bench.show(await EngineScene.open(bench, this.#setUp));
    const { LevelsScene } = await import('./levels-scene.ts');
    bench.show(await LevelsScene.open(bench));
  }

  protected override leave(): void {
    this.bench.try(this.bench.toHealth());
  }
}

/** Whose voice? */
export class TeachWhoScene extends ListScene {
  get #people() {
    return this.bench.workshop?.people ?? [];
  }

  protected content(): ListContent {
    return {
      heading: 'Whose voice?',
      lead: 'Takes are kept under the person, on this device only.',
      options: this.#people.map(({ name, role }) => ({ text: name, detail: role })),
    };
  }

  protected async take(index: number): Promise<void> {
    const person = this.#people[index];
    if (!person) return;
    const { PersonVoiceScene } = await import('./taught-scene.ts');
    this.bench.show(await PersonVoiceScene.open(this.bench, person));
  }

  protected override leave(): void {
    this.bench.try(VoiceScene.open(this.bench).then((scene) => this.bench.show(scene)));
  }
}

/** A question of the set-up whose answer is kept, and used at once. */
abstract class SetUpScene extends ListScene {
  protected readonly setUp: VoiceSetUp;

  constructor(bench: Bench, setUp: VoiceSetUp) {
    super(bench);
    this.setUp = setUp;
  }

  protected async use(change: Partial<VoiceSetUp>): Promise<void> {
    const setUp = { ...this.setUp, ...change };
    await this.bench.desk.settings.keepVoiceSetUp(setUp);
    await this.bench.listening.use(setUp);
    this.leave();
  }

  protected override leave(): void {
    this.bench.try(VoiceScene.open(this.bench).then((scene) => this.bench.show(scene)));
  }
}

/** The word after which ordinary words count, or none. */
class CallScene extends SetUpScene {
  protected content(): ListContent {
    return {
      heading: 'Call word',
      lead: `With one, an ordinary word counts only if it begins within ${CALL_MS / 1000} s after it; one call, one word. Stopping, pausing and the phrases of hold points never need it.`,
      options: [
        { text: 'None', detail: 'every word counts by itself' },
        ...CALL_WORDS.map((text) => ({ text: `“${text}”` })),
      ].map((option, index) =>
        (CALL_WORDS[index - 1] ?? null) === this.setUp.callWord ? { ...option, mark: '✓' } : option,
      ),
    };
  }

  protected take(index: number): Promise<void> {
    return this.use({ callWord: CALL_WORDS[index - 1] ?? null });
  }
}

const ENGINES: Readonly<Record<EngineKind, { text: string; detail: string }>> = {
  own: { text: 'The engine of this app', detail: 'on this device, made for loud shops; can be taught' },
  device: { text: 'The browser’s, on this device', detail: 'the sound stays here; cannot be taught' },
  server: { text: 'The browser’s, over the network', detail: `${GOES_AWAY} It needs a network.` },
};
const KINDS: readonly EngineKind[] = ['own', 'device', 'server'];

/** Which engine listens. What the browser has is asked first; what is not there cannot be taken. */
class EngineScene extends SetUpScene {
  readonly #missing: Readonly<Partial<Record<EngineKind, string>>>;
  /** Sending the sound away is asked about once more. */
  #asksAway = false;

  static async open(bench: Bench, setUp: VoiceSetUp): Promise<EngineScene> {
    const [device, server] = await Promise.all([probe('device'), probe('server')]);
    return new EngineScene(bench, setUp, {
      ...(device.there ? {} : { device: device.says }),
      ...(server.there ? {} : { server: server.says }),
    });
  }

  private constructor(
    bench: Bench,
    setUp: VoiceSetUp,
    missing: Readonly<Partial<Record<EngineKind, string>>>,
  ) {
    super(bench, setUp);
    this.#missing = missing;
  }

  protected content(): ListContent {
    if (this.#asksAway)
      return {
        heading: 'Send the sound away?',
        lead: `${GOES_AWAY} Everything that is said at this bench goes with it, as long as it listens. It is shown all the time.`,
        options: [{ text: 'No, keep it on this device' }, { text: 'Yes, send it' }],
      };
    return {
      heading: 'Which engine listens?',
      lead: speechApi()
        ? 'A hold point opens for its exact phrase alone, whatever engine hears it. When another engine fails, the one of this app takes over.'
        : 'This browser has no engine of its own.',
      options: KINDS.map((kind): Option => {
        const missing = this.#missing[kind];
        const { text, detail } = ENGINES[kind];
        if (missing !== undefined) return { mark: '✕ not available:', text, detail: missing };
        return { text, detail, ...(kind === this.setUp.engine ? { mark: '✓' } : {}) };
      }),
    };
  }

  protected async take(index: number): Promise<void> {
    const engine = this.#asksAway ? (index === 1 ? 'server' : 'own') : KINDS[index];
    if (!engine) return;
    const missing = this.#missing[engine];
    if (missing !== undefined) throw new Error(missing);
    if (engine !== 'server' || this.#asksAway) return this.use({ engine });
    this.#asksAway = true;
    this.at = 0;
    this.bench.redraw();
  }
}
