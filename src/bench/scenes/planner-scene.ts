import { html, type TemplateResult } from 'lit';
import { TAKES_GEARING } from '../../../procedures/index.ts';
import type { Gesture } from '../../press/gesture.ts';
import { choose } from '../chooser.ts';
import { emptyOrder } from '../order.ts';
import { PLAN_ACTS, type Plan, planFor, planStep, planView } from '../plan.ts';
import { type ListContent, ListScene } from './list-scene.ts';
import { OrderScene } from './order-scene.ts';
import type { Bench, Scene } from './scene.ts';

/** Whose gearing is planned? */
export class PlanMachineScene extends ListScene {
  protected override readonly near = true;
  protected content(): ListContent {
    const machines = this.bench.workshop?.machines ?? [];
    return {
      heading: 'Gearing for which machine?',
      lead: '',
      options: machines.map(({ says, plate }) => ({ text: says, detail: plate })),
    };
  }

  protected async take(index: number): Promise<void> {
    const card = this.bench.workshop?.machines[index];
    if (!card) return;
    await import('../screens/planner-screen.ts');
    this.bench.show(new PlannerScene(this.bench, planFor(card)));
  }
}

/** The gearing planner; what is chosen goes into a job. */
class PlannerScene implements Scene {
  readonly #bench: Bench;
  #plan: Plan;
  #at = 0;

  constructor(bench: Bench, plan: Plan) {
    this.#bench = bench;
    this.#plan = plan;
  }

  pressed(gesture: Gesture): void {
    const { at, taken, left } = choose(this.#at, PLAN_ACTS.length, gesture);
    this.#at = at;
    if (taken !== null) this.#act(taken);
    if (left) this.#bench.try(this.#bench.toShelf());
    this.#bench.redraw();
  }

  #act(index: number): void {
    const act = PLAN_ACTS[index];
    if (!act) return;
    if (act !== 'use') {
      this.#plan = planStep(this.#plan, act);
      return;
    }
    const procedure = this.#bench.desk.procedures.find(({ id }) => id === TAKES_GEARING) ?? null;
    const order = { ...emptyOrder, procedure, card: this.#plan.card, plan: this.#plan };
    this.#bench.show(new OrderScene(this.#bench, order));
  }

  #taken = (event: CustomEvent<number>): void => {
    this.#act(event.detail);
    this.#bench.redraw();
  };

  render(): TemplateResult {
    return html`<hf-planner
      .machine=${this.#plan.card.says}
      .front=${this.#plan.front}
      .rear=${this.#plan.rear}
      .view=${planView(this.#plan)}
      .at=${this.#at}
      @taken=${this.#taken}
    ></hf-planner>`;
  }
}
