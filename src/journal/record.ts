import type { FigureValue } from '../procedure/amounts.ts';
import type { Part, Person, Tool } from '../procedure/context.ts';
import type { Definition } from '../procedure/definition.ts';
import type { JobEvent, Via } from '../procedure/events.ts';
import type { Facts } from '../procedure/facts.ts';

/** The first event of every journal: everything that the job starts from, so that a record can be replayed alone. */
export interface OpenedEvent {
  readonly type: 'job.opened';
  /** The whole procedure, and the SHA-256 of its RFC 8785 form in lower-case hex. */
  readonly procedure: Definition;
  readonly procedureHash: string;
  readonly machine: { readonly id: string; readonly says: string };
  readonly facts: Facts;
  readonly figures: Readonly<Record<string, FigureValue>>;
  readonly people: readonly Person[];
  readonly tools: readonly Tool[];
  /** Parts that the workshop knows by their labels, with what each is right for in this job. */
  readonly parts?: readonly Part[];
  /** Version of the app that opened the job. */
  readonly app: string;
  /** The finished job that this one follows up, if any. */
  readonly follows?: string;
}

/** One line of a job's journal. `hash` is the SHA-256 of the RFC 8785 form of the record without `hash`. */
export interface JournalRecord {
  /** UUID of the job. */
  readonly job: string;
  /** From 0, without gaps. */
  readonly seq: number;
  /** RFC 3339, UTC, milliseconds. */
  readonly at: string;
  /** Id of the person. */
  readonly by: string;
  readonly via: Via;
  readonly event: OpenedEvent | JobEvent;
  readonly outcome: 'accepted' | 'refused';
  /** Why the event was refused. */
  readonly reason?: { readonly code: string; readonly sentence: string };
  /** The station after the event. */
  readonly station: string;
  /** `hash` of the record before; 64 zeros for the first. */
  readonly prev: string;
  readonly hash: string;
}

export type UnhashedRecord = Omit<JournalRecord, 'hash'>;

export const FIRST_PREV = '0'.repeat(64);
