import type { FigureValue } from '../procedure/amounts.ts';
import type { Person, Tool } from '../procedure/context.ts';
import type { Facts } from '../procedure/facts.ts';

/** What the workshop knows of one machine: decides forks and gives figures. */
export interface MachineCard {
  readonly id: string;
  /** What the workshop calls it: "Riding school 4". */
  readonly says: string;
  /** Make, model and year, as on its plate. */
  readonly plate: string;
  readonly facts: Facts;
  readonly figures: Readonly<Record<string, Pick<FigureValue, 'value' | 'unit'>>>;
}

/** A workshop: its machines, people and tools. */
export interface Workshop {
  readonly name: string;
  readonly machines: readonly MachineCard[];
  readonly people: readonly Person[];
  readonly tools: readonly Tool[];
}

/** The card's figures as a job takes them: each with its origin. */
export function figuresOf(card: MachineCard): Record<string, FigureValue> {
  return Object.fromEntries(
    Object.entries(card.figures).map(([name, { value, unit }]) => [
      name,
      { value, unit, source: 'card' as const },
    ]),
  );
}
