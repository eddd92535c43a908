import type { JournalRecord } from '../journal/record.ts';
import type { SealPayload } from '../journal/seal.ts';
import { known, type Person, personOf, type Trouble } from '../procedure/context.ts';
import { type Definition, stationOf } from '../procedure/definition.ts';
import type { Attachment } from '../procedure/events.ts';
import { holdsThatApply } from '../procedure/guards.ts';
import { type PartUse, partsUsed } from './parts-used.ts';
import { type Reading, readingsOf } from './readings.ts';
import { type Signature, signaturesOf } from './signatures.ts';
import { type Times, timesOf } from './stays.ts';
import { type ToolUse, toolsUsed } from './tools-used.ts';
import { type Verdict, verdictsOf } from './verdicts.ts';
import { walk } from './walk.ts';

/** An event that was refused, with the reason that was given. */
export interface Refused {
  readonly seq: number;
  readonly at: string;
  readonly by: string;
  readonly station: string;
  readonly event: JournalRecord['event']['type'];
  readonly code: string;
  readonly sentence: string;
}

/** The seal of a job, taken apart. */
export interface Sealed {
  readonly payload: SealPayload;
  /** RFC 7638 thumbprint of the key that sealed it. */
  readonly kid: string;
  /** Compact JWS. */
  readonly jws: string;
}

/** Everything that the book tells of one job, worked out from its records once. */
export interface Digest {
  readonly job: string;
  readonly records: readonly JournalRecord[];
  readonly definition: Definition;
  readonly procedureHash: string;
  readonly machine: { readonly id: string; readonly says: string };
  readonly openedBy: string;
  readonly openedAt: string;
  readonly lastAt: string;
  readonly outcome: 'open' | 'complete' | 'stopped';
  /** The people who did something on this job, in the order of their first act. */
  readonly people: readonly Person[];
  readonly times: Times;
  /** Hold points that apply by what is known at the end, and those that were met on the way. */
  readonly holds: readonly string[];
  readonly verdicts: readonly Verdict[];
  readonly readings: readonly Reading[];
  readonly refused: readonly Refused[];
  readonly tools: readonly ToolUse[];
  readonly parts: readonly PartUse[];
  readonly troubles: readonly Trouble[];
  readonly attachments: readonly Attachment[];
  readonly signatures: readonly Signature[];
  /** Facts and figures as known at the end. */
  readonly facts: Readonly<Record<string, string | boolean>>;
  readonly figures: Readonly<
    Record<string, { readonly value: number; readonly unit: string; readonly source: string }>
  >;
  readonly head: string;
  readonly app: string;
  readonly sealed: Sealed | null;
}

/** What the book tells of a job. Throws JournalError `journal-differs` when the records do not begin with its opening. */
export function digestOf(records: readonly JournalRecord[], sealed: Sealed | null = null): Digest {
  const walked = walk(records);
  const { opened, definition, steps, end } = walked;
  const first = records[0] as JournalRecord;
  const last = records[records.length - 1] ?? first;
  const verdicts = verdictsOf(walked);
  const times = timesOf(walked);
  const { facts, figures } = known(end.context);
  const applying = new Set(holdsThatApply(definition, facts));
  const met = new Set(verdicts.map(({ station }) => station));
  const ids = [
    ...new Set(records.flatMap(({ by, event }) => (event.type === 'handOver' ? [by, event.to] : [by]))),
  ];
  return {
    job: first.job,
    records,
    definition,
    procedureHash: opened.procedureHash,
    machine: opened.machine,
    openedBy: first.by,
    openedAt: first.at,
    lastAt: last.at,
    outcome: end.outcome,
    people: ids.flatMap((id) => personOf(end.context, id) ?? []),
    times,
    // As they were come to: in a record file the keys of the procedure are sorted, and their order says nothing.
    holds: [...new Set([...times.stations.keys(), ...Object.keys(definition.states)])].filter(
      (name) => applying.has(name) || met.has(name),
    ),
    verdicts,
    readings: readingsOf(walked),
    refused: steps.flatMap(({ record, before }): Refused[] => {
      const { seq, at, by, event, reason } = record;
      if (record.outcome !== 'refused') return [];
      const { code = '', sentence = '' } = reason ?? {};
      return [{ seq, at, by, station: before.station, event: event.type, code, sentence }];
    }),
    tools: toolsUsed(walked),
    parts: partsUsed(walked),
    troubles: end.context.troubles,
    attachments: steps.flatMap(({ record: { event, outcome } }): Attachment[] => {
      if (event.type !== 'attach' || outcome === 'refused') return [];
      const { kind, sha256, bytes, media } = event;
      return [{ kind, sha256, bytes, media }];
    }),
    signatures: signaturesOf(walked, first, sealed?.payload ?? null),
    facts,
    figures,
    head: last.hash,
    app: opened.app,
    sealed,
  };
}

/** What a station asks for, in its own words. */
export const sayOf = ({ definition }: Digest, station: string): string =>
  stationOf(definition, station)?.say ??
  (station === 'complete' ? 'Complete' : station === 'stopped' ? 'Stopped' : station);

/** The name of a person on the job; the id of one who is not. */
export const nameOf = ({ records }: Pick<Digest, 'records'>, id: string): string => {
  const event = records[0]?.event;
  return (event?.type === 'job.opened' && event.people.find((person) => person.id === id)?.name) || id;
};
