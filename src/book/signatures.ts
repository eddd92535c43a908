import type { JournalRecord } from '../journal/record.ts';
import type { SealPayload } from '../journal/seal.ts';
import { type Person, personOf } from '../procedure/context.ts';
import { stationOf } from '../procedure/definition.ts';
import type { Step, Walk } from './walk.ts';

/** An act that somebody answers for, as a signature shows it: printed name, date and time, meaning. */
export interface Signature {
  /** Record of the act; null for the seal, which stands after the records. */
  readonly seq: number | null;
  readonly person: Person;
  /** RFC 3339, UTC. */
  readonly at: string;
  readonly meaning: string;
  /** How the person showed who they are, and when. */
  readonly identified: string;
}

const WAYS = { pin: 'PIN', badge: 'badge', passkey: 'passkey' } as const;

const nobody = (id: string): Person => ({ id, name: id, role: 'mechanic' });

function acts({ definition }: Walk, { record, before }: Step): { by: string; meaning: string } | null {
  const { event, by } = record;
  const says = () => stationOf(definition, before.station)?.say ?? before.station;
  switch (event.type) {
    case 'handOver':
      return { by: event.to, meaning: 'Responsibility: took the work over' };
    case 'witness':
      return { by, meaning: `Verification: witnessed the hold point “${says()}”` };
    case 'decide':
      return {
        by,
        meaning:
          event.decision === 'concession'
            ? `Approval: CONCEDED the hold point “${says()}”, because: ${event.says}`
            : `Approval: decided ${event.decision}, because: ${event.says}`,
      };
    case 'stop':
      return { by, meaning: `Responsibility: stopped the job, because: ${event.says}` };
    default:
      return null;
  }
}

const OWN_ACTS_FIRST = (by: string) => (step: Step) => step.record.by === by;

/** How a person had signed on when the act was done. */
function identification(walked: Walk, by: string, act: JournalRecord | null): string {
  const given = (step: Step | undefined): string | null =>
    step?.record.event.type === 'signOn'
      ? `${WAYS[step.record.event.how]}, ${step.record.at.slice(0, 19).replace('T', ' ')}`
      : null;
  const mine = walked.steps.filter(
    ({ record }) => record.by === by && record.event.type === 'signOn' && record.outcome === 'accepted',
  );
  // Whoever opens a job signs on in its first records, there being no journal before it.
  if (act?.seq === 0) return given(walked.steps.find(OWN_ACTS_FIRST(by))) ?? 'name chosen, no sign-on';
  const before = mine.filter(({ record }) => act === null || record.seq < act.seq);
  return given(before[before.length - 1]) ?? 'name chosen, no sign-on';
}

/**
 * The acts of a job that somebody signs for: opening it, taking it over, witnessing, deciding, stopping, sealing. Each is
 * part of the record, so it cannot be cut out and put elsewhere without breaking the chain.
 */
export function signaturesOf(
  walked: Walk,
  first: JournalRecord,
  seal: Pick<SealPayload, 'sealedAt' | 'sealedBy'> | null,
): Signature[] {
  const person = (id: string) => personOf(walked.end.context, id) ?? nobody(id);
  const opening: Signature = {
    seq: 0,
    person: person(first.by),
    at: first.at,
    meaning: 'Responsibility: opened the job and did the work',
    identified: identification(walked, first.by, first),
  };
  const during = walked.steps.flatMap((step): Signature[] => {
    const act = step.record.outcome === 'accepted' ? acts(walked, step) : null;
    if (!act) return [];
    const { seq, at } = step.record;
    const identified = identification(walked, act.by, step.record);
    return [{ seq, person: person(act.by), at, meaning: act.meaning, identified }];
  });
  if (!seal) return [opening, ...during];
  const closing: Signature = {
    seq: null,
    person: person(seal.sealedBy),
    at: seal.sealedAt,
    meaning: 'Authorship: closed the record, which the key of the bench then sealed',
    identified: identification(walked, seal.sealedBy, null),
  };
  return [opening, ...during, closing];
}
