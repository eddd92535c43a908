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
  /** For the gearing planner; a card may lack it. */
  readonly drive?: DriveCard;
}

/** Everything between crankshaft and road that does not change with the sprockets. */
export interface DriveCard {
  /** Primary reduction, engine to gearbox. */
  readonly primary: number;
  /** Ratios of the gears, first gear first. */
  readonly gears: readonly number[];
  /** Distance rolled in one turn of the wheel, measured under load, mm. */
  readonly rollingCircumference: number;
  /** Highest engine speed, rpm. */
  readonly maxRpm: number;
}

/** A workshop: its machines, people and tools. */
export interface Workshop {
  readonly name: string;
  readonly machines: readonly MachineCard[];
  readonly people: readonly Person[];
  readonly tools: readonly Tool[];
  /** What the badges say when they are scanned -> person. */
  readonly badges?: Readonly<Record<string, string>>;
  /** Shown where a PIN is asked for: only the demo has one. */
  readonly hint?: string;
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
