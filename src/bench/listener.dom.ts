import weightsUrl from '../../assets/voice/ear.bin?url';
import wordsUrl from '../../assets/voice/words.json?url';
import type { Heard, Nearly, Phrase } from '../hear/ear.ts';
import type { Mic, MicParts } from '../hear/mic.dom.ts';
import type { EngineKind, Recogniser, RecogniserEvents } from '../hear/recogniser.ts';
import type { Take } from '../hear/taker.ts';
import type { Way } from '../hear/teach.ts';
import { AS_DELIVERED, type EarState, GOES_AWAY, SILENT, sureness, type VoiceSetUp } from './ear-state.ts';
import type { LivePhrase } from './voice.ts';
import type { VoiceNote } from './voice-note.dom.ts';
import type { Voices } from './voices.dom.ts';

/** Least sureness with which something nearly heard is shown. Our own choice. */
const LEAST_SHOWN = 0.15;

/** How long it is shown that another engine took over, ms: it is said as well. Our own choice. */
const NOTICE_MS = 20_000;

type Calls = typeof import('../hear/call-word.ts');

/** What the listener shows and tells, and to whom. */
export interface ListenerHost {
  state: EarState;
  onHeard(heard: Heard): void;
  onChange(): void;
  onFault(says: string): void;
  onTake(take: Take): void;
}

/** The listening bench itself, fetched when it is first wanted: engines, people's ways, call word, voice notes. */
export class Listener {
  readonly #host: ListenerHost;
  #own: Mic | null = null;
  #ear: Recogniser | null = null;
  #live: readonly LivePhrase[] = [];
  #person: string | null = null;
  #ways: ReadonlyMap<string, readonly Way[]> = new Map();
  #voices: Voices | null = null;
  #opening: Promise<void> | null = null;
  #setUp: VoiceSetUp = AS_DELIVERED;
  #calls: Calls | null = null;
  #calledUntil = Number.NEGATIVE_INFINITY;
  #callTimer = 0;
  #note: VoiceNote | null = null;
  /** While somebody teaches: what listened before. */
  #taught: { readonly was: EngineKind | null } | null = null;

  constructor(host: ListenerHost) {
    this.#host = host;
  }

  get state(): EarState {
    return this.#host.state;
  }

  set state(state: EarState) {
    this.#host.state = state;
  }

  /** Opens the microphone; the engine is fetched on first use. A fault is in the state. */
  start(): Promise<void> {
    this.#opening ??= this.#start().finally(() => {
      this.#opening = null;
    });
    return this.#opening;
  }

  async #start(): Promise<void> {
    if (this.#ear) return;
    try {
      if (this.#setUp.callWord !== null) this.#calls = await import('../hear/call-word.ts');
      const { engine } = this.#setUp;
      if (engine !== 'own' && (await this.#startBrowsers(engine))) return;
      await this.#startOwn();
    } catch {
      this.#lost(
        'The listening engine could not be loaded: load the page again, or go on with pedal and keys.',
      );
    }
  }

  async #startOwn(): Promise<void> {
    const [{ openMic }, parts] = await Promise.all([import('../hear/mic.dom.ts'), this.#parts()]);
    const mic = await openMic(parts, {
      ...this.#events((says) => this.#lost(says)),
      take: (take) => this.#host.onTake(take),
    });
    if ('code' in mic) return this.#lost(mic.says);
    this.#own = mic;
    this.#opened(mic, 'own');
    this.#meet();
  }

  async #parts(): Promise<MicParts> {
    const [weights, table] = await Promise.all([
      fetch(weightsUrl).then((response) => response.arrayBuffer()),
      fetch(wordsUrl).then((response) => response.json() as Promise<Record<string, string>>),
    ]);
    if (!this.#voices) {
      const { Voices, modelName } = await import('./voices.dom.ts');
      this.#voices = new Voices(table, await modelName(weights));
    }
    return { weights, table };
  }

  /** The browser's engine, where a person chose it; when it fails, ours takes over and that is said. */
  async #startBrowsers(engine: Exclude<EngineKind, 'own'>): Promise<boolean> {
    const { openBrowserRecogniser } = await import('../hear/browser-recogniser.dom.ts');
    const ours = (says: string) => {
      this.#ear = null;
      const notice = `${says} The engine of this app listens instead.`;
      this.#say({ notice });
      window.setTimeout(() => {
        if (this.state.notice === notice) this.#change({ notice: null });
      }, NOTICE_MS);
    };
    const opened = await openBrowserRecogniser(
      engine,
      this.#events((says) => {
        ours(says);
        void this.#startOwn().catch(() => this.#lost(says));
      }),
    );
    if ('code' in opened) {
      ours(opened.says);
      return false;
    }
    this.#opened(opened, engine);
    return true;
  }

  #opened(ear: Recogniser, engine: EngineKind): void {
    this.#ear = ear;
    const { callWord } = this.#setUp;
    const notice = engine === 'server' ? GOES_AWAY : this.state.notice;
    const call = callWord === null ? null : { word: callWord, open: false };
    this.#change({ on: true, fault: null, engine, notice, call });
    this.#tell();
  }

  #events(lost: (says: string) => void): RecogniserEvents {
    return {
      heard: (heard, speechToNoise) => this.#heard(heard, speechToNoise),
      nearly: (nearly) => this.#nearly(nearly),
      level: (now, floor, speechToNoise) => this.#change({ level: { now, floor }, speechToNoise }),
      lost: ({ says }) => lost(says),
    };
  }

  stop(): void {
    navigator.mediaDevices?.removeEventListener('devicechange', this.#again);
    this.#note?.end();
    this.#ear?.close();
    this.#ear = null;
    this.#own = null;
    this.state = SILENT;
    this.#host.onChange();
  }

  /** How this bench listens. What listens already is opened anew. */
  async use(setUp: VoiceSetUp): Promise<void> {
    this.#setUp = setUp;
    if (!this.#ear) return;
    this.stop();
    await this.start();
  }

  /** What may be said now, and who is likely to. The same again changes nothing: a word that is being spoken is not cut. */
  listen(phrases: readonly LivePhrase[], person: string | null = null): void {
    const met = person === this.#person;
    const same =
      phrases.length === this.#live.length &&
      phrases.every(({ text, kind }, at) => this.#live[at]?.text === text && this.#live[at]?.kind === kind);
    if (same && met) return;
    this.#live = phrases;
    this.#person = person;
    if (!met) this.#meet();
    this.#tell();
  }

  #tell(): void {
    const live = this.#live.map((phrase): Phrase => {
      const ways = this.#ways.get(phrase.text);
      return ways && ways.length > 0 ? { ...phrase, ways } : phrase;
    });
    this.#ear?.listen(this.#calls?.withCall(this.#setUp.callWord, live) ?? live);
  }

  /** Fetches how this person says things; until then the app's own words count, as they do after. */
  #meet(): void {
    const person = this.#person;
    const mic = this.#own;
    this.#ways = new Map();
    if (person === null || !this.#voices || !mic) return;
    this.#voices
      .ways(person, (samples) => mic.transcribe(samples))
      .then(
        (ways) => {
          if (person !== this.#person || ways.size === 0) return;
          this.#ways = ways;
          this.#tell();
        },
        () => undefined,
      );
  }

  /** People's takes; nothing is opened for it. */
  async voices(): Promise<Voices> {
    if (!this.#voices) await this.#parts();
    if (!this.#voices) throw new Error('The takes could not be read: load the page again.');
    return this.#voices;
  }

  /** Reads the phones of a kept take anew; null while our own ear is shut. */
  get reader(): ((samples: Float32Array) => Promise<readonly number[]>) | null {
    const mic = this.#own;
    return mic && ((samples) => mic.transcribe(samples));
  }

  /**
   * Begins or ends teaching: meanwhile no phrase is heard. A microphone that was opened for it is shut again, and another
   * engine listens again. @throws Error with a sentence when our own ear cannot listen
   */
  async teach(on: boolean): Promise<void> {
    if (!on) {
      if (!this.#taught) return;
      const { was } = this.#taught;
      this.#taught = null;
      this.#own?.teach(false);
      if (was === 'own') return this.#meet();
      this.stop();
      return was === null ? undefined : this.start();
    }
    if (this.#taught) return;
    const was = this.#ear ? this.state.engine : null;
    if (!this.#own) {
      this.#ear?.close();
      this.#ear = null;
      await this.#startOwn();
    }
    if (!this.#own)
      throw new Error(this.state.fault ?? 'The microphone does not listen: look at “This bench”.');
    this.#taught = { was };
    this.#own.teach(true);
  }

  /** The app speaks or sounds: nothing that begins meanwhile counts. */
  deaf(deaf: boolean): void {
    this.#ear?.deaf(deaf);
  }

  /** Records a voice note; its end phrase, a press or its limit ends it. Null where nothing listens here. */
  async note(): Promise<Blob | null> {
    const ear = this.#ear;
    if (!ear || this.#note || !(ear.stream instanceof MediaStream)) return null;
    const { voiceNote } = await import('./voice-note.dom.ts');
    this.#note = voiceNote(ear.stream, (seconds) => this.#change({ note: seconds }));
    this.#change({ note: 0, last: null });
    const file = await this.#note.done;
    this.#note = null;
    this.#change({ note: null });
    if (file.size === 0) throw new Error('Nothing was recorded: look at the microphone, then try again.');
    return file;
  }

  endNote(): void {
    this.#note?.end();
  }

  #change(change: Partial<EarState>): void {
    this.state = { ...this.state, ...change };
    this.#host.onChange();
  }

  #say(change: Partial<EarState> & { readonly notice: string }): void {
    this.#change(change);
    this.#host.onFault(change.notice);
  }

  #heard(heard: Heard, speechToNoise: number | null): void {
    const kind = this.#live.find(({ text, kind }) => text === heard.phrase && kind !== 'figure')?.kind;
    // Nothing but its end phrase is live while a note is spoken: it needs no call.
    const word = this.state.note === null ? this.#setUp.callWord : null;
    const called = this.#calls?.called(word, this.#calledUntil, heard, kind ?? 'figure');
    const refused = called?.kind === 'uncalled' ? called.says : null;
    const last = { text: heard.phrase, score: sureness(heard.score), refused };
    this.#change({ last, speechToNoise });
    if (called?.kind === 'call') this.#call(called.openUntil);
    else if (refused === null) {
      if (kind === 'word' || kind === undefined) this.#call(Number.NEGATIVE_INFINITY);
      this.#host.onHeard(heard);
    }
  }

  /** Opens the time in which a word counts, or ends it. */
  #call(until: number): void {
    const { call } = this.state;
    if (!call || !this.#calls) return;
    window.clearTimeout(this.#callTimer);
    this.#calledUntil = until;
    const open = Number.isFinite(until);
    this.#change({ call: { ...call, open } });
    if (open)
      this.#callTimer = window.setTimeout(() => this.#call(Number.NEGATIVE_INFINITY), this.#calls.CALL_MS);
  }

  #nearly({ heard, refusal }: Nearly): void {
    const score = sureness(heard.score);
    // What sounds like nothing that may be said comes close to some phrase all the time: that helps nobody.
    if (score < LEAST_SHOWN) return;
    this.#change({ last: { text: heard.phrase, score, refused: refusal.says } });
  }

  #lost(says: string): void {
    this.#ear = null;
    this.#own = null;
    this.#note?.end();
    this.state = { ...SILENT, fault: says };
    this.#host.onChange();
    this.#host.onFault(says);
    navigator.mediaDevices?.addEventListener('devicechange', this.#again);
  }

  /** Something was plugged in or out: perhaps the microphone is back. */
  #again = (): void => {
    navigator.mediaDevices.removeEventListener('devicechange', this.#again);
    void this.start();
  };
}
