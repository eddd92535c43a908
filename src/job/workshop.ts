import type { FigureValue } from '../procedure/amounts.ts';
import type { Part, Person, Tool } from '../procedure/context.ts';
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

/** A part with a label, and where it is right. */
export interface WorkshopPart {
  /** Its GTIN, or the maker's or workshop's own code. */
  readonly code: string;
  readonly says: string;
  /** Kit items that it is right for, by procedure. */
  readonly fits: readonly { readonly procedure: string; readonly item: string }[];
  /** Machines that it is right for; absent: all. */
  readonly machines?: readonly string[];
  /** Figures of the job that it is right for, by name: a sprocket its teeth. */
  readonly figures?: Readonly<Record<string, number>>;
}

/** The parts as a job of this procedure on this machine takes them: all, so that a wrong one is known for what it is. */
export function partsFor(parts: readonly WorkshopPart[], procedure: string, machine: string): Part[] {
  return parts.map(({ code, says, fits, machines, figures }) => {
    const right = machines === undefined || machines.includes(machine);
    const item = right ? fits.find((fit) => fit.procedure === procedure)?.item : undefined;
    return { code, says, ...(item === undefined ? {} : { item, ...(figures ? { figures } : {}) }) };
  });
}

/** A PIN on its way to a bench: never the PIN, only a slow salted hash of it. */
export interface SentPin {
  /** 16 bytes, lower-case hex. */
  readonly salt: string;
  /** PBKDF2 with HMAC-SHA-256, 32 bytes, lower-case hex. */
  readonly hash: string;
  readonly rounds: number;
}

/** A workshop: its machines, people and tools. */
export interface Workshop {
  readonly name: string;
  readonly machines: readonly MachineCard[];
  readonly people: readonly Person[];
  readonly tools: readonly Tool[];
  /** Parts on the shelf that have labels; without the list no label is asked for. */
  readonly parts?: readonly WorkshopPart[];
  /** What the badges say when they are scanned -> person. */
  readonly badges?: Readonly<Record<string, string>>;
  /** Ids of people whom the office shut out: they sign on, witness and go on with jobs no more. */
  readonly shutOut?: readonly string[];
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
