import type { Stamped } from './events.ts';
import { holdsNotPassed } from './guards.ts';
import type { Machine, Snapshot } from './machine.ts';
import type { Refusal } from './refusal.ts';
import { refuse } from './refusal.ts';
import { settle } from './settle.ts';

export type Decision =
  | { readonly outcome: 'accepted'; readonly snapshot: Snapshot }
  | { readonly outcome: 'refused'; readonly snapshot: Snapshot; readonly reason: Refusal };

/**
 * What an event does to a job: the next snapshot, or the same snapshot with the reason for the refusal. Pure, so that
 * replaying a journal decides the same on any machine.
 */
export function decide(machine: Machine, snapshot: Snapshot, event: Stamped): Decision {
  if (snapshot.outcome !== 'open') return { outcome: 'refused', snapshot, reason: refuse('job-closed') };
  const next = machine.next(snapshot, event);
  if (next) return { outcome: 'accepted', snapshot: next };
  const settled = settle(machine.definition, snapshot.context, snapshot.station, event);
  return { outcome: 'refused', snapshot, reason: settled.refused ?? reasonBehindGuard(machine, snapshot) };
}

/** The station would let the event through, yet no transition opened: a hold point upstream is not passed. */
function reasonBehindGuard(machine: Machine, snapshot: Snapshot): Refusal {
  const [missing] = holdsNotPassed(machine.definition, snapshot.context);
  return missing
    ? refuse('hold-not-passed', { hold: missing })
    : refuse('not-here', { what: 'the procedure gives no way on from here' });
}
