import { makeRecord } from '../journal/chain.ts';
import { hashOf } from '../journal/hash.ts';
import { toMoment } from '../journal/moment.ts';
import type { JournalRecord, OpenedEvent } from '../journal/record.ts';
import { inputOf } from '../journal/replay.ts';
import type { FigureValue } from '../procedure/amounts.ts';
import type { Definition } from '../procedure/definition.ts';
import type { Via } from '../procedure/events.ts';
import type { Facts } from '../procedure/facts.ts';
import { machineFor } from '../procedure/machine.ts';
import type { MachineCard, Workshop } from './workshop.ts';
import { figuresOf, partsFor } from './workshop.ts';

/** What is chosen before a job begins. */
export interface JobOrder {
  readonly definition: Definition;
  readonly card: MachineCard;
  readonly workshop: Workshop;
  /** Facts of this job, over the card's. */
  readonly facts?: Facts;
  /** Figures of this job, over the card's: a gearing that was planned, say. */
  readonly figures?: Readonly<Record<string, FigureValue>>;
  readonly follows?: string;
}

/** Who does something, when (ms since 1970, UTC) and by which way. */
export interface Stamp {
  readonly at: number;
  readonly by: string;
  readonly via: Via;
}

/** Keeps of the card only what the procedure declares: a record carries what its job can use. */
function declared<T>(
  values: Readonly<Record<string, T>>,
  names: Readonly<Record<string, unknown>>,
): Record<string, T> {
  return Object.fromEntries(Object.entries(values).filter(([name]) => name in names));
}

/** The first record of a job: it carries everything that the job starts from. */
export function openingRecord(job: string, order: JobOrder, stamp: Stamp, app: string): JournalRecord {
  const { definition, card, workshop } = order;
  const event: OpenedEvent = {
    type: 'job.opened',
    procedure: definition,
    procedureHash: hashOf(definition),
    machine: { id: card.id, says: card.says },
    facts: declared({ ...card.facts, ...order.facts }, definition.meta.facts),
    figures: declared({ ...figuresOf(card), ...order.figures }, definition.meta.figures),
    people: workshop.people,
    tools: workshop.tools.filter((tool) => tool.kind in definition.meta.tools),
    ...(workshop.parts ? { parts: partsFor(workshop.parts, definition.id, card.id) } : {}),
    app,
    ...(order.follows === undefined ? {} : { follows: order.follows }),
  };
  const snapshot = machineFor(definition).start(inputOf(event, stamp.at));
  return makeRecord(null, {
    job,
    at: toMoment(stamp.at),
    by: stamp.by,
    via: stamp.via,
    event,
    outcome: 'accepted',
    station: snapshot.station,
  });
}
