import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { TAKES_GEARING } from '../../procedures/index.ts';
import { openingRecord } from '../job/open-job.ts';
import { pinSentence } from '../job/pins.dom.ts';
import { type Due, followUps, type JobCard } from '../job/shelf.ts';
import { holdEvidence, shortCode } from '../job/story.ts';
import type { Workshop } from '../job/workshop.ts';
import { jobNews } from '../job/writer.dom.ts';
import { RECORD_FILE_END, toRecordFile } from '../journal/file.ts';
import type { Pressed } from '../press/input.ts';
import { defaultLayout, withPedals } from '../press/layout.ts';
import { type Presses, presses } from '../press/presses.dom.ts';
import { choose } from './chooser.ts';
import { type Desk, jobsOn, saveFile, sealOf } from './desk.dom.ts';
import { JobDesk } from './job-desk.ts';
import { emptyOrder, nextQuestion, type Order } from './order.ts';
import { loadDrawings } from './parts/drawing.ts';
import type { Option } from './parts/options.ts';
import { PLAN_ACTS, type Plan, planFor, planForJob, planStep, planView } from './plan.ts';
import { type ShelfItem, shelfList } from './shelf-list.ts';
import './screens/choose-screen.ts';
import './screens/finish-screen.ts';
import './screens/job-screen.ts';
import './screens/pedal-screen.ts';
import './screens/sign-on-screen.ts';

type Screen =
  | 'opening'
  | 'welcome'
  | 'shelf'
  | 'order'
  | 'job'
  | 'pedal'
  | 'planMachine'
  | 'planner'
  | 'signOn';

/** The bench: which screen is shown, and where each gesture goes. */
export class App extends LitElement {
  static override properties = { desk: { attribute: false } };
  declare desk: Desk;

  static override styles = css`
    :host { display: block; height: 100%; }
    hf-choose, hf-job, hf-finish, hf-pedal, hf-planner, hf-sign-on { height: 100%; }
  `;

  #screen: Screen = 'opening';
  #at = 0;
  #workshop: Workshop | null = null;
  #cards: JobCard[] = [];
  #order: Order = emptyOrder;
  #follows: Due | null = null;
  #plan: Plan | null = null;
  #job: JobDesk | null = null;
  #seal: string | null = null;
  #pin = '';
  #saved: string | null = null;
  #fault: string | null = null;
  #presses: Presses | null = null;
  #news = jobNews((job) => {
    if (this.#job?.state.job === job) void this.#job.news();
    else if (this.#screen === 'shelf') void this.#toShelf();
  });

  override connectedCallback(): void {
    super.connectedCallback();
    void this.#begin();
  }

  override disconnectedCallback(): void {
    this.#presses?.stop();
    this.#news.close();
    super.disconnectedCallback();
  }

  /** Resolves when everything that was pressed so far has been written down. */
  get idle(): Promise<unknown> {
    return this.#job?.idle ?? Promise.resolve();
  }

  async #begin(): Promise<void> {
    try {
      const { settings } = this.desk;
      this.#workshop = (await settings.workshop()) ?? null;
      this.#presses = presses(withPedals(defaultLayout, await settings.pedals()), (pressed) =>
        this.#pressed(pressed),
      );
      const job = /^#job=([0-9a-f-]{36})$/.exec(location.hash)?.[1];
      if (!this.#workshop) this.#show('welcome');
      else if (job) await this.#toJob(job);
      else await this.#toShelf();
    } catch (error) {
      this.#say(error);
    }
  }

  #show(screen: Screen): void {
    this.#screen = screen;
    this.#at = 0;
    this.requestUpdate();
  }

  #say(error: unknown): void {
    this.#fault = error instanceof Error ? error.message : String(error);
    this.desk.speaker.tone('refused');
    this.requestUpdate();
  }

  #try(work: Promise<unknown>): void {
    work.catch((error: unknown) => this.#say(error));
  }

  async #toShelf(): Promise<void> {
    this.#job?.close();
    this.#job = null;
    history.replaceState(null, '', location.pathname);
    this.#cards = await jobsOn(this.desk, (error) => this.#say(error));
    this.#order = emptyOrder;
    this.#follows = null;
    this.#show('shelf');
  }

  async #toJob(job: string): Promise<void> {
    this.#job?.close();
    this.#job = await JobDesk.open(this, this.desk, job, (changed) => this.#news.tell(changed));
    this.#seal = null;
    this.#saved = null;
    this.#fault = null;
    history.replaceState(null, '', `#job=${job}`);
    // Before the job is shown and not during it: a tab left open over an update would not find them any more.
    await loadDrawings().catch((error: unknown) => this.#say(error));
    this.#show('job');
    if (this.#job.view.outcome === 'open') this.#job.announce();
  }

  async #openJob({ procedure, card, person, plan }: Order): Promise<void> {
    if (!procedure || !card || !person || !this.#workshop) return;
    const follows = this.#follows ? { follows: this.#follows.follows } : {};
    const order = {
      definition: await procedure.load(),
      card,
      workshop: this.#workshop,
      ...follows,
      ...(plan ? planForJob(plan) : {}),
    };
    const stamp = { at: this.desk.now(), by: person.id, via: 'keys' as const };
    const record = openingRecord(this.desk.newId(), order, stamp, this.desk.app);
    await this.desk.store.append(record);
    this.#news.tell(record.job);
    await this.#toJob(record.job);
    if (person.signsOn) await this.#job?.signedOn(person.id);
  }

  #pressed(pressed: Pressed): void {
    if (pressed.kind === 'typed') return;
    switch (this.#screen) {
      case 'job':
        this.#inJob(pressed);
        return;
      case 'welcome':
        this.#take(choose(this.#at, 1, pressed), () => this.#loadDemo());
        return;
      case 'shelf':
        this.#take(choose(this.#at, this.#shelf().length, pressed), (index) => this.#fromShelf(index));
        return;
      case 'order':
        this.#inOrder(pressed);
        return;
      case 'signOn':
        this.#inSignOn(pressed);
        return;
      case 'planMachine':
        this.#take(
          choose(this.#at, this.#workshop?.machines.length ?? 0, pressed),
          (index) => this.#planMachine(index),
          () => this.#try(this.#toShelf()),
        );
        return;
      case 'planner':
        this.#take(
          choose(this.#at, PLAN_ACTS.length, pressed),
          (index) => this.#planAct(index),
          () => this.#try(this.#toShelf()),
        );
        return;
      default:
        if (pressed.kind === 'escape') this.#try(this.#toShelf());
        else if (pressed.kind === 'enter') this.renderRoot.querySelector('hf-pedal')?.more();
    }
  }

  #take(
    { at, taken, left }: ReturnType<typeof choose>,
    then: (index: number) => Promise<unknown>,
    onLeft?: () => void,
  ): void {
    this.#at = at;
    this.requestUpdate();
    if (taken !== null) this.#try(then(taken));
    if (left) onLeft?.();
  }

  #inJob(pressed: Exclude<Pressed, { kind: 'typed' }>): void {
    const desk = this.#job;
    if (!desk) return;
    const closed = desk.view.outcome !== 'open';
    if (closed && (pressed.kind === 'tap' || pressed.kind === 'enter')) this.#try(this.#saveRecord(desk));
    if (closed && pressed.kind !== 'escape') return;
    if (desk.gesture(pressed)) this.#try(desk.idle.then(() => this.#toShelf()));
  }

  async #saveRecord(desk: JobDesk): Promise<void> {
    const { records } = desk.state;
    const seal = await sealOf(this.desk, records);
    const opened = records[0];
    const machine = opened?.event.type === 'job.opened' ? opened.event.machine.id : 'machine';
    const name = `${machine}-${opened?.at.slice(0, 10)}-${opened?.job.slice(0, 8)}${RECORD_FILE_END}`;
    saveFile(name, toRecordFile(records, seal));
    this.#saved = name;
    this.requestUpdate();
  }

  async #loadDemo(): Promise<void> {
    const { demoWorkshop, demoJobs, demoPins } = await import('../../seeds/demo.ts');
    const definitions = await Promise.all(this.desk.procedures.map((listed) => listed.load()));
    for (const records of demoJobs(definitions, this.desk.now(), this.desk.app)) {
      for (const record of records) await this.desk.store.append(record);
      if (records.at(-1)?.station === 'complete') await sealOf(this.desk, records);
    }
    for (const [person, pin] of Object.entries(demoPins)) await this.desk.pins.enrol(person, pin);
    await this.desk.settings.keepWorkshop(demoWorkshop);
    this.#workshop = demoWorkshop;
    await navigator.storage?.persist?.().catch(() => false);
    await this.#toShelf();
  }

  #shelf(): ReturnType<typeof shelfList> {
    return shelfList(this.#cards, followUps(this.#cards), this.desk.now());
  }

  async #fromShelf(index: number): Promise<void> {
    const item: ShelfItem | undefined = this.#shelf()[index]?.item;
    if (!item) return;
    if (item.kind === 'job') return this.#toJob(item.job);
    if (item.kind === 'pedal') return this.#show('pedal');
    if (item.kind === 'planner') return this.#show('planMachine');
    if (item.kind === 'due') {
      const { due } = item;
      this.#follows = due;
      const procedure = this.desk.procedures.find(({ id }) => id === due.followUp.procedure) ?? null;
      const card = this.#workshop?.machines.find(({ id }) => id === due.machine.id) ?? null;
      this.#order = { ...emptyOrder, procedure, card };
    }
    this.#show('order');
  }

  #inOrder(pressed: Exclude<Pressed, { kind: 'typed' }>): void {
    const question = this.#question();
    if (!question) return;
    const turn = choose(this.#at, question.options.length, pressed);
    this.#take(
      turn,
      (index) => this.#answer(index),
      () => this.#try(this.#toShelf()),
    );
  }

  async #answer(index: number): Promise<void> {
    this.#order = this.#question()?.take(index) ?? this.#order;
    this.#at = 0;
    this.requestUpdate();
    if (this.#question()) return;
    if (!this.#order.person?.signsOn) return this.#openJob(this.#order);
    this.#pin = '';
    this.#fault = null;
    this.#show('signOn');
  }

  #inSignOn(pressed: Exclude<Pressed, { kind: 'typed' }>): void {
    if (pressed.kind === 'escape') this.#try(this.#toShelf());
    if (pressed.kind === 'digit' && this.#pin.length < 8) this.#pin += pressed.digit;
    if (pressed.kind === 'erase') this.#pin = this.#pin.slice(0, -1);
    if (pressed.kind === 'enter' && this.#pin !== '') this.#try(this.#checkPin());
    this.requestUpdate();
  }

  async #checkPin(): Promise<void> {
    const { person } = this.#order;
    const pin = this.#pin;
    this.#pin = '';
    if (!person) return;
    const fault = pinSentence(await this.desk.pins.check(person.id, pin, this.desk.now()));
    if (fault !== null) throw new Error(fault);
    this.#fault = null;
    await this.#openJob(this.#order);
  }

  async #planMachine(index: number): Promise<void> {
    const card = this.#workshop?.machines[index];
    if (!card) return;
    await import('./screens/planner-screen.ts');
    this.#plan = planFor(card);
    this.#show('planner');
  }

  async #planAct(index: number): Promise<void> {
    const act = PLAN_ACTS[index];
    if (!this.#plan || !act) return;
    if (act !== 'use') {
      this.#plan = planStep(this.#plan, act);
      this.requestUpdate();
      return;
    }
    const procedure = this.desk.procedures.find(({ id }) => id === TAKES_GEARING) ?? null;
    this.#order = { ...emptyOrder, procedure, card: this.#plan.card, plan: this.#plan };
    this.#show('order');
  }

  #question() {
    return this.#workshop ? nextQuestion(this.#order, this.#workshop, this.desk.procedures) : null;
  }

  override render(): TemplateResult | typeof nothing {
    switch (this.#screen) {
      case 'opening':
        return this.#fault ? html`<p role="alert">${this.#fault}</p>` : nothing;
      case 'welcome':
        return this.#list(
          'Holdfast',
          'A checklist runner for the workshop bench. This bench has no workshop yet. It does not replace the service manual, local rules or a licensed inspection.',
          [
            {
              text: 'Load the demo workshop',
              detail: 'an invented riding school, its machines, people and tools',
            },
          ],
          () => this.#loadDemo(),
        );
      case 'shelf':
        return this.#list(
          this.#workshop?.name ?? 'Jobs',
          '',
          this.#shelf().map(({ option }) => option),
          (index) => this.#fromShelf(index),
        );
      case 'order': {
        const question = this.#question();
        return question
          ? this.#list(question.heading, question.lead, question.options, (index) => this.#answer(index))
          : nothing;
      }
      case 'signOn':
        return html`<hf-sign-on
          .person=${this.#order.person?.name ?? ''}
          .typed=${this.#pin.length}
          .fault=${this.#fault}
          .hint=${this.#workshop?.hint ?? null}
        ></hf-sign-on>`;
      case 'planMachine':
        return this.#list(
          'Gearing for which machine?',
          '',
          (this.#workshop?.machines ?? []).map(({ says, plate }) => ({ text: says, detail: plate })),
          (index) => this.#planMachine(index),
        );
      case 'planner':
        return this.#plan
          ? html`<hf-planner
              .machine=${this.#plan.card.says}
              .front=${this.#plan.front}
              .rear=${this.#plan.rear}
              .view=${planView(this.#plan)}
              .at=${this.#at}
              @taken=${(event: CustomEvent<number>) => this.#try(this.#planAct(event.detail))}
            ></hf-planner>`
          : nothing;
      case 'pedal':
        return html`<hf-pedal
          .presses=${this.#presses}
          .settings=${this.desk.settings}
          @left=${() => this.#try(this.#toShelf())}
        ></hf-pedal>`;
      case 'job':
        return this.#job ? this.#jobScreen(this.#job) : nothing;
    }
  }

  #list(
    heading: string,
    lead: string,
    options: readonly Option[],
    take: (index: number) => Promise<unknown>,
  ) {
    return html`<hf-choose
      .heading=${heading}
      .lead=${lead}
      .options=${options}
      .at=${this.#at}
      .fault=${this.#fault}
      @taken=${(event: CustomEvent<number>) => this.#try(take(event.detail))}
    ></hf-choose>`;
  }

  #jobScreen(job: JobDesk): TemplateResult {
    if (job.view.outcome === 'open') {
      return html`<hf-job
        .view=${job.view}
        .console=${job.console}
        .witnesses=${job.witnesses}
        .placeBefore=${job.placeBefore}
        .voided=${job.voided}
        .now=${this.desk.now()}
        .talk=${job.talk}
        .hint=${this.#workshop?.hint ?? null}
        .readOnly=${job.readOnly}
        .fault=${job.fault}
        @note=${(event: CustomEvent<string>) => job.note(event.detail)}
        @take-over=${() => this.#try(job.takeOver())}
      ></hf-job>`;
    }
    if (this.#seal === null) {
      this.#try(
        sealOf(this.desk, job.state.records).then((seal) => {
          this.#seal = seal;
          this.requestUpdate();
        }),
      );
    }
    const last = job.state.records.at(-1);
    const { followUp } = job.state.machine.definition.meta;
    return html`<hf-finish
      .outcome=${job.view.outcome}
      .machine=${job.view.machine}
      .jobTitle=${job.view.title}
      .holds=${holdEvidence(job.state)}
      .records=${job.state.records.length}
      .code=${this.#seal && last ? shortCode(last.hash) : null}
      .saved=${this.#saved}
      .fault=${this.#fault}
      .later=${job.view.outcome === 'complete' && followUp ? followUp.says : null}
    ></hf-finish>`;
  }
}

customElements.define('hf-app', App);
