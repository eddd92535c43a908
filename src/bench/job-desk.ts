import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { Heard } from '../hear/ear.ts';
import { needsPress } from '../hear/judge.ts';
import { type SteadyClock, steadyClock } from '../job/clock.ts';
import { pinSentence } from '../job/pins.dom.ts';
import { AWAY_MS, type Return, returnOf, spokenReturn } from '../job/return.ts';
import { type JobState, jobFrom, Runner } from '../job/runner.ts';
import { spokenAt } from '../job/spoken.ts';
import { type StationView, viewOf } from '../job/view.ts';
import { type Writer, writerFor } from '../job/writer.dom.ts';
import { fromMoment } from '../journal/moment.ts';
import type { Gesture } from '../press/gesture.ts';
import { type Person, passes, personOf } from '../procedure/context.ts';
import type { Decision } from '../procedure/decide.ts';
import { stationOf } from '../procedure/definition.ts';
import type { JobEvent, SignOnWay, Via } from '../procedure/events.ts';
import { stationBefore } from '../procedure/machine.ts';
import { isFresh } from '../procedure/settle-people.ts';
import { answerTo } from './answers.ts';
import { recordVoice, takePhoto } from './capture.dom.ts';
import {
  type Around,
  type Ask,
  asksDecision,
  type Console,
  carryOn,
  type Effect,
  freshConsole,
  gestureAt,
  movesOn,
  startTalk,
  type Turn,
} from './console.ts';
import type { Desk } from './desk.dom.ts';
import { sureness } from './ear-state.ts';
import { passkeyFault } from './passkeys.dom.ts';
import { ONE_PAGE, type Pages, readOn } from './read-on.ts';
import { mayGive, pauseNow } from './shut-out.ts';
import { askedAfter, type Capture, nextInTalk, type TalkNext } from './talk.ts';
import { meaningOf } from './typed.ts';
import { heardAt, type LivePhrase, livePhrases, READ_ON, TAP, TOO_LOUD } from './voice.ts';
import { visitedStations, workerOf } from './whereabouts.ts';

/**
 * One job on the bench: takes gestures, dispatches events, says and shows what came of them. Holds the right to write,
 * and lets it go with its element.
 */
export class JobDesk implements ReactiveController {
  readonly #host: ReactiveControllerHost;
  readonly #desk: Desk;
  readonly #runner: Runner;
  readonly #tell: (job: string) => void;
  readonly #forget: () => void;
  readonly #clock: SteadyClock;
  /** When a person last pressed or said something, ms since 1970. */
  #inputAt = 0;
  /** When the bench last tried to pause the job by itself, ms since 1970. */
  #triedAt = 0;
  #writer: Writer | null = null;
  #timer = 0;
  console: Console = freshConsole;
  /** How many pages the screen needs: it says so after each layout. */
  pages: Pages = ONE_PAGE;
  fault: string | null = null;
  view: StationView;
  worker: string;
  /** How a voice note is recorded here. */
  recordVoice: () => Promise<Blob> = recordVoice;
  /** Resolves when every gesture given so far has been written down or refused. */
  idle: Promise<unknown> = Promise.resolve();

  static async open(
    host: ReactiveControllerHost,
    desk: Desk,
    job: string,
    tell: (job: string) => void,
    forget: () => void,
  ): Promise<JobDesk> {
    const records = await desk.store.read(job);
    const opened = new JobDesk(host, desk, jobFrom(records), tell, forget);
    await opened.#claim(false);
    await opened.#pauseIfLeft();
    return opened;
  }

  private constructor(
    host: ReactiveControllerHost,
    desk: Desk,
    state: JobState,
    tell: (job: string) => void,
    forget: () => void,
  ) {
    this.#host = host;
    this.#desk = desk;
    this.#tell = tell;
    this.#forget = forget;
    // Time goes on from the last record, whatever was done to the device's clock meanwhile.
    const last = state.records[state.records.length - 1];
    this.#clock = steadyClock(desk.clocks, (last && fromMoment(last.at)) ?? 0);
    this.#runner = new Runner(state, { store: desk.store, now: () => this.#clock.now() });
    this.worker = workerOf(state);
    this.view = viewOf(state, this.worker);
    this.#runner.listen((next, decision) => this.#published(next, decision));
    host.addController(this);
  }

  get state(): JobState {
    return this.#runner.state;
  }

  /** Time of this job, ms since 1970: by it records are stamped and waits end. */
  get now(): number {
    return this.#clock.now();
  }

  /** What a person is told who comes back to this job; null while it is not paused. */
  get back(): Return | null {
    return returnOf(this.state, this.now);
  }

  get readOnly(): boolean {
    return this.#writer?.writes !== true;
  }

  /** The question that is asked over the station now. */
  get talk(): TalkNext | null {
    const talk = this.console.talk ?? (asksDecision(this.view) ? { about: 'decide' as const } : null);
    return talk && nextInTalk(talk, this.#around());
  }

  /** Where "back" leads, in the words of that station. */
  get placeBefore(): string | null {
    const before = this.#before();
    return before === null ? null : (stationOf(this.state.machine.definition, before)?.say ?? before);
  }

  get voided(): number {
    return this.#around().voided;
  }

  /** Everybody who could confirm as a second person: not the one whose evidence waits. */
  get witnesses(): readonly Person[] {
    return this.#around().witnesses;
  }

  hostConnected(): void {
    this.#timer = window.setInterval(() => this.#tick(), 500);
  }

  hostDisconnected(): void {
    this.close();
  }

  close(): void {
    window.clearInterval(this.#timer);
    this.#writer?.release();
    this.#host.removeController(this);
  }

  /** Another window wrote to this job. */
  async news(): Promise<void> {
    if (this.readOnly) await this.#runner.reload();
  }

  /** Takes the right to write from a window that froze or was left open. */
  async takeOver(): Promise<void> {
    await this.#claim(true);
    await this.#runner.reload();
    this.#host.requestUpdate();
  }

  /** The person showed who they are before the job was opened: the journal says so. */
  signedOn(person: string, how: SignOnWay): Promise<unknown> {
    return this.give({ type: 'signOn', how }, person, how === 'badge' ? 'scanner' : 'keys');
  }

  /** Gives an event as it stands, in place of a gesture: for a practice that plays a job through. */
  give(event: JobEvent, by: string, via: Via = 'keys'): Promise<unknown> {
    this.#inputAt = this.now;
    return this.#runner.dispatch(event, { by, via });
  }

  announce(): void {
    const { back } = this;
    this.#desk.speaker.say(back ? spokenReturn(back) : spokenAt(this.view));
  }

  /** The pause that the bench makes by itself: nobody has done anything here for long, or the worker was shut out. */
  get #pauseDue() {
    return this.readOnly ? null : pauseNow(this.state, this.#inputAt, this.now, this.#shutOut);
  }

  async #pauseIfLeft(): Promise<void> {
    const pause = this.#pauseDue;
    if (pause) await this.#runner.dispatch(pause, { by: this.worker, via: 'clock' });
  }

  /** True when the job was left for long: what was pressed or said just now was not meant for what stood there then. */
  #wasLeft(): boolean {
    if (!this.#pauseDue) return false;
    this.idle = this.#pauseIfLeft().catch((error: unknown) => this.#failed(error));
    return true;
  }

  /** The same without a press. A pause that could not be written is tried again after as long, not at every tick. */
  #tick(): void {
    if (this.view.waitEndsAt !== null) this.#host.requestUpdate();
    if (this.now - this.#triedAt < AWAY_MS) return;
    if (this.#wasLeft()) this.#triedAt = this.now;
  }

  /** Was this PIN, or without one the passkey, right? Then the person is signed on and the conversation goes on. */
  async #signOn(person: string, pin: string | null): Promise<void> {
    const { pins, passkeys } = this.#desk;
    const now = this.#desk.now();
    const fault =
      pin === null
        ? await passkeyFault(passkeys, person, now)
        : pinSentence(await pins.check(person, pin, now));
    if (fault !== null) {
      this.#desk.speaker.tone('refused');
      this.#desk.speaker.say([fault]);
      this.console = { ...this.console, pinFault: fault };
      this.#host.requestUpdate();
      return;
    }
    await this.#showed(person, pin === null ? 'passkey' : 'pin');
  }

  /** A person showed who they are: the journal says so, and a conversation that waited for it goes on. */
  async #showed(person: string, how: SignOnWay): Promise<void> {
    const why = this.#shutOut(person);
    if (why !== null) throw new Error(why);
    const talk = this.console.talk && { ...this.console.talk, person };
    await this.signedOn(person, how);
    if (this.view.hold?.awaitingFor) this.console = { ...this.console, witness: person };
    if (!talk) return;
    const { console, effects } = carryOn({ ...this.console, over: 'talk', talk }, talk, this.#around());
    this.console = console;
    this.#host.requestUpdate();
    for (const effect of effects) this.#effect(effect, 'keys');
  }

  /** A photo or voice note for the trouble that is open: kept on the device, its hash in the journal. */
  async #capture(what: Capture, via: Via): Promise<void> {
    this.#desk.speaker.hush();
    const file = what === 'photo' ? await takePhoto() : await this.recordVoice();
    const kept = await this.#desk.files.keep(file);
    this.#dispatch({ kind: 'event', event: { type: 'attach', kind: what, ...kept } }, via);
  }

  /** One gesture of the hand or foot. Returns true when the person wants to leave the job. */
  gesture(gesture: Gesture): boolean {
    if (this.#wasLeft()) return false;
    this.#inputAt = this.now;
    if (gesture.kind !== 'holding') this.#desk.speaker.hush();
    if (this.readOnly) return this.#whileReading(gesture);
    if (gesture.kind === 'holding' && gesture.full && !this.console.press?.full)
      this.#desk.speaker.tone('full');
    const via: Via = 'via' in gesture ? gesture.via : 'keys';
    return this.#take(gesture, gestureAt(this.console, gesture, this.#around()), via);
  }

  /** What a gesture or phrase means, once the station has been read to its end. Returns true when the job is left. */
  #take(gesture: Gesture | null, meant: Turn, via: Via): boolean {
    const { console, effects } = readOn(this.console, gesture, meant, this.view, this.pages);
    this.console = console;
    this.#host.requestUpdate();
    return effects.map((effect) => this.#effect(effect, via)).some((leaves) => leaves);
  }

  /** What may be said now. */
  get phrases(): readonly LivePhrase[] {
    return this.readOnly ? [] : livePhrases(this.console, this.#around(), this.pages);
  }

  /** A phrase that was heard, `speechToNoise` dB over the noise. Returns true when the person wants to leave the job. */
  heard(heard: Heard, speechToNoise: number | null): boolean {
    if (this.readOnly || this.#wasLeft()) return false;
    const live = this.phrases.find(({ text, kind }) => text === heard.phrase && kind !== 'figure');
    const kind = live?.kind ?? (this.view.asked ? 'figure' : null);
    if (kind === null) return false;
    if (kind === 'hold' && needsPress(speechToNoise)) {
      this.#failed(new Error(TOO_LOUD));
      return false;
    }
    this.#inputAt = this.now;
    this.#desk.speaker.hush();
    const { phrase: text, score, runnerUp, runnerUpScore } = heard;
    const said = { text, kind, score: sureness(score), runnerUp, runnerUpScore: sureness(runnerUpScore) };
    const tap = text === READ_ON ? TAP : null;
    return this.#take(tap, heardAt(this.console, said, this.#around()), 'voice');
  }

  /** A job that another window writes to: it can be read, left, or deliberately taken over. */
  #whileReading(gesture: Gesture): boolean {
    if (gesture.kind === 'long' && gesture.key === 'go') {
      this.takeOver().catch((error: unknown) => this.#failed(error));
    } else if (gesture.kind !== 'holding' && gesture.kind !== 'escape') {
      this.#desk.speaker.tone('refused');
    }
    return gesture.kind === 'escape';
  }

  #shutOut = (person: string): string | null => this.#desk.shutOut?.(person) ?? null;

  #failed(error: unknown): void {
    this.fault = error instanceof Error ? error.message : String(error);
    this.#desk.speaker.tone('refused');
    this.#host.requestUpdate();
  }

  /** A text that a gauge or scanner typed. */
  typed(text: string, badges: Readonly<Record<string, string>>, via: Via = 'scanner'): void {
    if (this.readOnly) return;
    const meaning = meaningOf(text, this.view, badges, this.state.snapshot.context);
    switch (meaning.kind) {
      case 'figure':
        this.console = { ...this.console, entry: meaning.entry, readBack: true };
        this.#desk.speaker.say(this.#spoken('readBack'));
        break;
      case 'event':
        this.#take(null, { console: this.console, effects: [meaning] }, via);
        break;
      case 'badge':
        this.idle = this.#showed(meaning.person, 'badge').catch((error: unknown) => this.#failed(error));
        break;
      case 'nothing':
        this.#failed(new Error(meaning.sentence));
    }
    this.#host.requestUpdate();
  }

  /** A note, or a part's label, that was typed; an empty one is left. */
  note(says: string): void {
    const isLabel = this.console.over === 'label';
    this.console = { ...this.console, over: 'none' };
    this.#host.requestUpdate();
    if (says.trim() === '') return;
    if (isLabel) this.typed(says.trim(), {}, 'keys');
    else this.#dispatch({ kind: 'event', event: { type: 'note', says } }, 'keys');
  }

  #effect(effect: Effect, via: Via): boolean {
    switch (effect.kind) {
      case 'event':
        this.#dispatch(effect, via);
        return false;
      case 'speak':
        this.#desk.speaker.say(this.#spoken(effect.what));
        return false;
      case 'signOn':
        this.idle = this.#signOn(effect.person, effect.pin).catch((error: unknown) => this.#failed(error));
        return false;
      case 'passkey':
        this.idle = this.#signOn(effect.person, null).catch((error: unknown) => this.#failed(error));
        return false;
      case 'capture':
        this.#capture(effect.what, via).catch((error: unknown) => this.#failed(error));
        return false;
      case 'hush':
        return false;
      case 'leave':
        return true;
    }
  }

  #dispatch(effect: Extract<Effect, { kind: 'event' }>, via: Via): void {
    const who = { by: effect.by ?? this.worker, via };
    const { first, event } = effect;
    const allowed = mayGive(this.#shutOut, who.by, event);
    const before = allowed.then(() => first && this.#runner.dispatch(first, who));
    this.idle = before
      .then(() => this.#runner.dispatch(event, who))
      .then(
        () => {
          this.fault = null;
        },
        (error: unknown) => this.#failed(error),
      );
  }

  #published(state: JobState, decision: Decision | null): void {
    const moved = movesOn(this.view, state.snapshot);
    const awaited = this.view.hold?.awaitingFor ?? null;
    this.worker = workerOf(state);
    this.view = viewOf(state, this.worker);
    // What is down now was meant for the screen before, unless a press brought this one.
    const via = state.records[state.records.length - 1]?.via;
    if (decision === null || (via !== 'pedal' && via !== 'keys')) this.#forget();
    if (decision) this.#tell(state.job);
    if (decision?.outcome === 'refused') {
      // The refusal is the first page; what was read out stays read out.
      this.console = { ...this.console, page: 0 };
      const asked = askedAfter(state.records[state.records.length - 1]);
      if (asked) this.console = startTalk(this.console, asked).console;
      this.#desk.speaker.tone('refused');
      this.#desk.speaker.say([decision.reason.sentence]);
    } else {
      if (moved) this.console = freshConsole;
      // Another person confirms now, and reads it all for themselves.
      if (awaited !== (this.view.hold?.awaitingFor ?? null))
        this.console = { ...this.console, page: 0, readOut: false };
      this.#desk.speaker.tone(this.view.hold ? 'hold' : 'accepted');
      this.announce();
    }
    this.#host.requestUpdate();
  }

  #spoken(what: Ask): string[] {
    return answerTo(what, this.view, this.console, this.back, () =>
      livePhrases(freshConsole, this.#around()),
    );
  }

  #before(): string | null {
    return stationBefore(this.state.machine.definition, this.state.snapshot);
  }

  #around(): Around {
    const { context } = this.state.snapshot;
    const before = this.#before();
    const visits = context.visits.findIndex((visit) => visit.station === before);
    const voided =
      visits < 0 ? 0 : Object.keys(passes({ ...context, visits: context.visits.slice(visits) })).length;
    const awaiting = context.visits[context.visits.length - 1]?.awaiting;
    const worker = personOf(context, awaiting?.by ?? this.worker);
    return {
      view: this.view,
      before,
      voided,
      people: context.input.people,
      worker: this.worker,
      visited: visitedStations(this.state),
      holders: this.#desk.passkeys?.known ?? new Set(),
      fresh: (id) => isFresh(context, id, this.now),
      back: this.back,
      witnesses: context.input.people.filter(({ id, role }) => id !== worker?.id && role !== 'apprentice'),
    };
  }

  async #claim(steal: boolean): Promise<void> {
    this.#writer?.release();
    this.#writer = await writerFor(this.state.job, steal);
    this.#writer.onLost = () => {
      this.#writer = null;
      this.#host.requestUpdate();
    };
  }
}
