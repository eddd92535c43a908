import type { Listed } from '../../procedures/index.ts';
import type { MachineCard, Workshop } from '../job/workshop.ts';
import type { Person } from '../procedure/context.ts';
import type { Option } from './parts/options.ts';
import type { Plan } from './plan.ts';

/** Choosing a job, one question after the other. Pure: what is asked depends only on what was answered. */
export interface Order {
  readonly procedure: Listed | null;
  readonly card: MachineCard | null;
  readonly person: Person | null;
  /** Sprockets chosen in the planner. */
  readonly plan: Plan | null;
  /** The finished job that this one follows up. */
  readonly follows: string | null;
}

export const emptyOrder: Order = { procedure: null, card: null, person: null, plan: null, follows: null };

export interface Question {
  readonly heading: string;
  readonly lead: string;
  readonly options: readonly Option[];
  /** The order after the option of this index was taken. */
  take(index: number): Order;
}

/** The next question, or null when the order is complete. */
export function nextQuestion(
  order: Order,
  workshop: Workshop,
  procedures: readonly Listed[],
): Question | null {
  if (!order.procedure) {
    return {
      heading: 'Which job?',
      lead: '',
      options: procedures.map(({ title, revision }) => ({ text: title, detail: `revision ${revision}` })),
      take: (index) => ({ ...order, procedure: procedures[index] ?? null }),
    };
  }
  if (!order.card) {
    const { machines } = workshop;
    return {
      heading: 'On which machine?',
      lead: order.procedure.title,
      options: machines.map(({ says, plate, id }) => ({ text: says, detail: `${plate} · ${id}` })),
      take: (index) => ({ ...order, card: machines[index] ?? null }),
    };
  }
  if (!order.person) {
    const { people } = workshop;
    return {
      heading: 'Who does the work?',
      lead: `${order.procedure.title} · ${order.card.says}`,
      options: people.map(({ id, name, role }) => ({
        ...(workshop.shutOut?.includes(id) ? { mark: '✕ shut out:' } : {}),
        text: name,
        detail: role,
      })),
      take: (index) => ({ ...order, person: people[index] ?? null }),
    };
  }
  return null;
}
