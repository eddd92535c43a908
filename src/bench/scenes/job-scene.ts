import { html, type TemplateResult } from 'lit';
import type { Heard } from '../../hear/ear.ts';
import { holdEvidence, shortCode } from '../../job/story.ts';
import { RECORD_FILE_END, toRecordFile } from '../../journal/file.ts';
import type { Gesture } from '../../press/gesture.ts';
import type { SignOnWay } from '../../procedure/events.ts';
import { recordVoice } from '../capture.dom.ts';
import { saveFile, sealOf } from '../desk.dom.ts';
import { JobDesk } from '../job-desk.ts';
import { loadDrawings } from '../parts/drawing.ts';
import type { Pages } from '../read-on.ts';
import { type LogSaid, loadLog, logAtSealing } from '../sealing.dom.ts';
import type { LivePhrase } from '../voice.ts';
import '../screens/finish-screen.ts';
import '../screens/job-screen.ts';
import type { Bench, Scene } from './scene.ts';

/** While a note is spoken nothing else is heard. */
const NOTE_ENDS: readonly LivePhrase[] = [{ text: 'end of note', kind: 'word' }];

/** One job, from where it stands to its sealed record. */
export class JobScene implements Scene {
  readonly #bench: Bench;
  readonly #job: JobDesk;
  #seal: string | null = null;
  #sealing: Promise<void> | null = null;
  #log: LogSaid | null = null;
  #saved: string | null = null;
  /** How often the list of hold points was turned on, at the end. */
  #page = 0;

  static async open(bench: Bench, job: string): Promise<JobScene> {
    const desk = await JobDesk.open(
      bench.host,
      bench.desk,
      job,
      (changed) => bench.tell(changed),
      () => bench.presses?.forget(),
    );
    // Before the job is shown and not during it: a tab left open over an update would not find them any more.
    bench.try(bench.desk.passkeys?.look() ?? Promise.resolve());
    // What cannot be fetched of the log is said when the record is sealed.
    await Promise.all([
      loadDrawings().catch((error: unknown) => bench.fail(error)),
      loadLog().catch(() => undefined),
    ]);
    history.replaceState(null, '', `#job=${job}`);
    return new JobScene(bench, desk);
  }

  private constructor(bench: Bench, job: JobDesk) {
    this.#bench = bench;
    this.#job = job;
    job.recordVoice = async () => {
      bench.desk.speaker.tone('accepted');
      return (await bench.listening.note()) ?? recordVoice();
    };
    if (job.view.outcome === 'open') job.announce();
  }

  get idle(): Promise<unknown> {
    return this.#job.idle;
  }

  /** The worker showed who they are just before the job was opened: the journal says so. */
  signedOn(person: string, how: SignOnWay): Promise<unknown> {
    return this.#job.signedOn(person, how);
  }

  pressed(gesture: Gesture): void {
    if (this.#bench.listening.state.note !== null) {
      // Any press ends the note, and means nothing else.
      if (gesture.kind !== 'holding') this.#bench.listening.endNote();
      return;
    }
    const closed = this.#job.view.outcome !== 'open';
    if (closed && gesture.kind === 'tap' && gesture.key === 'back') {
      this.#page += 1;
      this.#bench.redraw();
      return;
    }
    if (closed && (gesture.kind === 'tap' || gesture.kind === 'enter')) this.#bench.try(this.#save());
    if (closed && gesture.kind !== 'escape') return;
    if (this.#job.gesture(gesture)) this.#bench.try(this.#job.idle.then(() => this.#bench.toShelf()));
  }

  heard(heard: Heard): void {
    if (this.#bench.listening.state.note !== null) this.#bench.listening.endNote();
    else if (this.#job.heard(heard, this.#bench.listening.state.speechToNoise)) {
      this.#bench.try(this.#job.idle.then(() => this.#bench.toShelf()));
    }
  }

  get phrases(): readonly LivePhrase[] {
    return this.#bench.listening.state.note === null ? this.#job.phrases : NOTE_ENDS;
  }

  /** Who speaks: the witness where one has been named, or else the worker. */
  get person(): string {
    const { view, console, worker } = this.#job;
    return (view.hold?.awaitingFor ? console.witness : null) ?? worker;
  }

  typed(text: string): void {
    this.#job.typed(text, this.#bench.workshop?.badges ?? {});
  }

  news(job: string): void {
    if (job === this.#job.state.job) this.#bench.try(this.#job.news());
  }

  close(): void {
    this.#job.close();
  }

  async #save(): Promise<void> {
    const { records } = this.#job.state;
    // A log that could not be written is tried again with the seal.
    if (!this.#log?.code) this.#bench.try(this.#again());
    const seal = await sealOf(this.#bench.desk, records);
    const opened = records[0];
    const machine = opened?.event.type === 'job.opened' ? opened.event.machine.id : 'machine';
    const name = `${machine}-${opened?.at.slice(0, 10)}-${opened?.job.slice(0, 8)}${RECORD_FILE_END}`;
    saveFile(name, toRecordFile(records, seal));
    this.#saved = name;
    this.#bench.redraw();
  }

  /** Tries again what failed; one try at a time. */
  async #again(): Promise<void> {
    await this.#sealing?.catch(() => undefined);
    if (this.#log?.code) return;
    this.#sealing = this.#closeRecord();
    await this.#sealing;
  }

  /** Seals the record and, in the same go, takes the seal into the log. Each is shown as soon as it stands. */
  async #closeRecord(): Promise<void> {
    const { desk } = this.#bench;
    this.#seal = await sealOf(desk, this.#job.state.records);
    this.#bench.redraw();
    this.#log = await logAtSealing(desk.store);
    this.#bench.redraw();
  }

  render(): TemplateResult {
    return this.#job.view.outcome === 'open' ? this.#station() : this.#finish();
  }

  #station(): TemplateResult {
    const job = this.#job;
    return html`<hf-job
      .view=${job.view}
      .console=${job.console}
      .witnesses=${job.witnesses}
      .placeBefore=${job.placeBefore}
      .voided=${job.voided}
      .now=${job.now}
      .talk=${job.talk}
      .back=${job.back}
      .hint=${this.#bench.workshop?.hint ?? null}
      .readOnly=${job.readOnly}
      .ear=${this.#bench.listening.state}
      .dark=${['lost', 'refused'].includes(this.#bench.desk.device.wake.state)}
      .fault=${job.fault ?? this.#bench.fault}
      @pages=${(event: CustomEvent<Pages>) => {
        job.pages = event.detail;
      }}
      @note=${(event: CustomEvent<string>) => job.note(event.detail)}
    ></hf-job>`;
  }

  #finish(): TemplateResult {
    const { state, view } = this.#job;
    if (!this.#sealing) {
      this.#sealing = this.#closeRecord();
      this.#bench.try(this.#sealing);
    }
    const last = state.records.at(-1);
    const { followUp } = state.machine.definition.meta;
    return html`<hf-finish
      .page=${this.#page}
      .outcome=${view.outcome}
      .machine=${view.machine}
      .jobTitle=${view.title}
      .holds=${holdEvidence(state)}
      .records=${state.records.length}
      .code=${this.#seal && last ? shortCode(last.hash) : null}
      .log=${this.#log}
      .saved=${this.#saved}
      .fault=${this.#bench.fault}
      .later=${view.outcome === 'complete' && followUp ? followUp.says : null}
    ></hf-finish>`;
  }
}
