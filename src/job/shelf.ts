import { fromMoment, toMoment } from '../journal/moment.ts';
import type { JournalRecord } from '../journal/record.ts';
import type { FollowUp } from '../procedure/definition.ts';
import type { Progress } from './road.ts';
import { progressOf } from './road.ts';
import { jobFrom } from './runner.ts';

/** A job as it stands on the shelf. */
export interface JobCard {
  readonly job: string;
  readonly title: string;
  readonly procedure: string;
  readonly machine: { readonly id: string; readonly says: string };
  readonly by: string;
  readonly openedAt: string;
  readonly lastAt: string;
  readonly outcome: 'open' | 'complete' | 'stopped';
  readonly progress: Progress;
  readonly records: number;
  readonly follows: string | null;
  readonly followUp: FollowUp | null;
}

export function jobCard(records: readonly JournalRecord[]): JobCard | null {
  const [first] = records;
  const latest = records[records.length - 1];
  if (!first || !latest || first.event.type !== 'job.opened') return null;
  const { machine, snapshot } = jobFrom(records);
  const { definition } = machine;
  return {
    job: first.job,
    title: definition.meta.title,
    procedure: definition.id,
    machine: first.event.machine,
    by: first.by,
    openedAt: first.at,
    lastAt: latest.at,
    outcome: snapshot.outcome,
    progress: progressOf(definition, snapshot.context, snapshot.station),
    records: records.length,
    follows: first.event.follows ?? null,
    followUp: definition.meta.followUp ?? null,
  };
}

/** A re-check that a finished job asks for. */
export interface Due {
  readonly follows: string;
  readonly followUp: FollowUp;
  readonly machine: JobCard['machine'];
  /** RFC 3339; the job may be done earlier. */
  readonly dueAt: string;
}

/** The follow-up jobs that are still to be opened, the earliest first. */
export function followUps(cards: readonly JobCard[]): Due[] {
  const followed = new Set(cards.filter((card) => card.outcome !== 'stopped').map((card) => card.follows));
  return cards
    .filter((card) => card.outcome === 'complete' && card.followUp && !followed.has(card.job))
    .flatMap((card) => {
      if (!card.followUp) return [];
      const due = (fromMoment(card.lastAt) ?? 0) + card.followUp.afterHours * 3_600_000;
      return [{ follows: card.job, followUp: card.followUp, machine: card.machine, dueAt: toMoment(due) }];
    })
    .sort((a, b) => a.dueAt.localeCompare(b.dueAt));
}
