import { followUps, type JobCard } from '../../job/shelf.ts';
import { jobsOn } from '../desk.dom.ts';
import { emptyOrder } from '../order.ts';
import { type ShelfItem, shelfList } from '../shelf-list.ts';
import { BookScene } from './book-scene.ts';
import { type ListContent, ListScene } from './list-scene.ts';
import { OrderScene } from './order-scene.ts';
import { PedalScene } from './pedal-scene.ts';
import { PlanMachineScene } from './planner-scene.ts';
import type { Bench } from './scene.ts';

/** The shelf of jobs: what is open, what is due, what is finished, and where a new job begins. */
export class ShelfScene extends ListScene {
  #cards: readonly JobCard[];

  static async open(bench: Bench): Promise<ShelfScene> {
    return new ShelfScene(bench, await jobsOn(bench.desk, (error) => bench.fail(error)));
  }

  private constructor(bench: Bench, cards: readonly JobCard[]) {
    super(bench);
    this.#cards = cards;
  }

  #items() {
    return shelfList(this.#cards, followUps(this.#cards), this.bench.desk.now());
  }

  protected content(): ListContent {
    return {
      heading: this.bench.workshop?.name ?? 'Jobs',
      lead: '',
      options: this.#items().map(({ option }) => option),
    };
  }

  protected override leave(): void {}

  async news(): Promise<void> {
    this.#cards = await jobsOn(this.bench.desk, (error) => this.bench.fail(error));
    // The list has changed under the foot.
    this.bench.presses?.forget();
    this.bench.redraw();
  }

  protected async take(index: number): Promise<void> {
    const item: ShelfItem | undefined = this.#items()[index]?.item;
    const { bench } = this;
    switch (item?.kind) {
      case 'job':
        return bench.toJob(item.job);
      case 'pedal':
        return bench.show(new PedalScene(bench));
      case 'book':
        return bench.show(await BookScene.open(bench));
      case 'bench':
        return bench.toHealth();
      case 'planner':
        return bench.show(new PlanMachineScene(bench));
      case 'start':
        return bench.show(new OrderScene(bench, emptyOrder));
      case 'due': {
        const { followUp, follows, machine } = item.due;
        const procedure = bench.desk.procedures.find(({ id }) => id === followUp.procedure) ?? null;
        const card = bench.workshop?.machines.find(({ id }) => id === machine.id) ?? null;
        return bench.show(new OrderScene(bench, { ...emptyOrder, procedure, card, follows }));
      }
    }
  }
}
