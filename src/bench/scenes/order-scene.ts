import { openingRecord } from '../../job/open-job.ts';
import type { SignOnWay } from '../../procedure/events.ts';
import { nextQuestion, type Order } from '../order.ts';
import { planForJob } from '../plan.ts';
import { JobScene } from './job-scene.ts';
import { type ListContent, ListScene } from './list-scene.ts';
import type { Bench } from './scene.ts';
import { SignOnScene } from './sign-on-scene.ts';

/** Opens the job that was ordered and shows it. `how`: the way its worker just signed on; null where none is needed. */
export async function openJob(bench: Bench, order: Order, how: SignOnWay | null): Promise<void> {
  const { procedure, card, person, plan, follows } = order;
  const { desk, workshop } = bench;
  if (!procedure || !card || !person || !workshop) return;
  const why = desk.shutOut?.(person.id) ?? null;
  if (why !== null) throw new Error(why);
  const wanted = {
    definition: await procedure.load(),
    card,
    workshop,
    ...(follows === null ? {} : { follows }),
    ...(plan ? planForJob(plan) : {}),
  };
  const record = openingRecord(
    desk.newId(),
    wanted,
    { at: desk.now(), by: person.id, via: 'keys' },
    desk.app,
  );
  await desk.store.append(record);
  bench.tell(record.job);
  const scene = await JobScene.open(bench, record.job);
  if (how !== null) await scene.signedOn(person.id, how);
  bench.show(scene);
}

const TEACH = { text: 'Teach it a voice', detail: 'three takes a word; they stay on this device' };

/** Choosing a job: which, on which machine, by whom. */
export class OrderScene extends ListScene {
  #order: Order;

  constructor(bench: Bench, order: Order) {
    super(bench);
    this.#order = order;
  }

  #question() {
    const { workshop, desk } = this.bench;
    return workshop && nextQuestion(this.#order, workshop, desk.procedures);
  }

  protected content(): ListContent {
    const asked = this.#question() ?? { heading: '', lead: '', options: [] };
    return this.#asksWho ? { ...asked, options: [...asked.options, TEACH] } : asked;
  }

  /** Where people are, their voices are too. */
  get #asksWho(): boolean {
    const { procedure, card, person } = this.#order;
    return procedure !== null && card !== null && person === null;
  }

  protected async take(index: number): Promise<void> {
    if (this.#asksWho && index === this.#question()?.options.length) {
      const { TeachWhoScene } = await import('./voice-scene.ts');
      return this.bench.show(new TeachWhoScene(this.bench));
    }
    const next = this.#question()?.take(index) ?? this.#order;
    const why = next.person ? (this.bench.desk.shutOut?.(next.person.id) ?? null) : null;
    if (why !== null) throw new Error(why);
    this.#order = next;
    this.at = 0;
    this.bench.redraw();
    if (this.#question()) return;
    if (this.#order.person?.signsOn) return this.bench.show(new SignOnScene(this.bench, this.#order));
    await openJob(this.bench, this.#order, null);
  }

  /** A badge answers the question who works, and signs on. */
  typed(text: string): void {
    const { workshop } = this.bench;
    const person = workshop?.people.find(({ id }) => id === workshop.badges?.[text]);
    if (!person || !this.#order.card) {
      this.bench.fail(new Error(`"${text}" is no badge that is asked for here.`));
      return;
    }
    this.bench.try(openJob(this.bench, { ...this.#order, person }, 'badge'));
  }
}
