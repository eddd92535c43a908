import { followUps } from '../../job/shelf.ts';
import { RECORD_FILE_END, toRemainsFile } from '../../journal/file.ts';
import { jobsOn, saveFile } from '../desk.dom.ts';
import { emptyOrder, type Order } from '../order.ts';
import { dueLine, firstLit, type ShelfItem, shelfList } from '../shelf-list.ts';
import { BookScene } from './book-scene.ts';
import { type ListContent, ListScene } from './list-scene.ts';
import type { Bench } from './scene.ts';

/** The shelf of jobs: what is open, what is due, what is finished, and where a new job begins. */
export class ShelfScene extends ListScene {
  #jobs: Awaited<ReturnType<typeof jobsOn>>;

  static async open(bench: Bench): Promise<ShelfScene> {
    return new ShelfScene(bench, await jobsOn(bench.desk));
  }

  #saved = '';

  private constructor(bench: Bench, jobs: Awaited<ReturnType<typeof jobsOn>>) {
    super(bench);
    this.#jobs = jobs;
    this.at = firstLit(this.#items());
  }

  #items() {
    const { cards, unreadable } = this.#jobs;
    return shelfList(
      cards,
      followUps(cards),
      this.bench.desk.now(),
      unreadable,
      this.bench.listening.state.on,
      this.bench.desk.office?.line ?? null,
      this.bench.desk.passkeys?.here ?? false,
    );
  }

  protected content(): ListContent {
    return {
      heading: this.bench.workshop?.name ?? 'Jobs',
      lead: this.#saved || dueLine(followUps(this.#jobs.cards), this.bench.desk.now()),
      options: this.#items().map(({ option }) => option),
    };
  }

  protected override leave(): void {}

  async news(): Promise<void> {
    this.#jobs = await jobsOn(this.bench.desk);
    // The list has changed under the foot.
    this.bench.presses?.forget();
    this.bench.redraw();
  }

  /** Whatever is still there of a journal that cannot be read, for the person who looks into it. */
  async #saveRemains(job: string): Promise<void> {
    const records = await this.bench.desk.store.remains(job);
    const name = `remains-${job.slice(0, 8)}${RECORD_FILE_END}`;
    saveFile(name, toRemainsFile(records));
    this.#saved = `${records.length} records were saved as ${name}: give the file to the supervisor.`;
    this.bench.redraw();
  }

  async #order(order: Order): Promise<void> {
    const { OrderScene } = await import('./order-scene.ts');
    this.bench.show(new OrderScene(this.bench, order));
  }

  protected async take(index: number): Promise<void> {
    const item: ShelfItem | undefined = this.#items()[index]?.item;
    const { bench } = this;
    switch (item?.kind) {
      case 'job': {
        const elsewhere = (await bench.desk.office?.elsewhere(item.job)) ?? null;
        if (elsewhere !== null) throw new Error(elsewhere);
        return bench.toJob(item.job);
      }
      case 'office': {
        const link = bench.desk.office?.link;
        if (!link) return;
        const { OfficeScene } = await import('./office-scene.ts');
        return bench.show(await OfficeScene.open(bench, link));
      }
      case 'pedal': {
        const { PedalScene } = await import('./pedal-scene.ts');
        return bench.show(new PedalScene(bench));
      }
      case 'reading': {
        const { CardScene } = await import('./reading-scene.ts');
        return bench.show(await CardScene.open(bench));
      }
      case 'book':
        return bench.show(await BookScene.open(bench));
      case 'remains':
        return this.#saveRemains(item.job);
      case 'voice': {
        const { listening, desk } = bench;
        if (listening.state.on) listening.stop();
        else await listening.start();
        await desk.settings.keepVoice(listening.state.on);
        if (listening.state.fault) throw new Error(listening.state.fault);
        return bench.redraw();
      }
      case 'bench':
        return bench.toHealth();
      case 'people': {
        const { PeopleScene } = await import('./people-scene.ts');
        return bench.show(await PeopleScene.open(bench));
      }
      case 'procedures': {
        const { ProceduresScene } = await import('./procedures-scene.ts');
        return bench.show(await ProceduresScene.open(bench));
      }
      case 'planner': {
        const { PlanMachineScene } = await import('./planner-scene.ts');
        return bench.show(new PlanMachineScene(bench));
      }
      case 'start':
        return this.#order(emptyOrder);
      case 'due': {
        const { followUp, follows, machine } = item.due;
        const procedure = bench.desk.procedures.find(({ id }) => id === followUp.procedure) ?? null;
        const card = bench.workshop?.machines.find(({ id }) => id === machine.id) ?? null;
        return this.#order({ ...emptyOrder, procedure, card, follows });
      }
    }
  }
}
