import { pauseDue } from '../job/return.ts';
import type { JobState } from '../job/runner.ts';
import type { Workshop } from '../job/workshop.ts';
import type { JobEvent } from '../procedure/events.ts';
import { workerOf } from './whereabouts.ts';

/** Why a person may not sign on, witness or go on with a job on this bench; null when they may. */
export type ShutOutWhy = (person: string) => string | null;

/**
 * Who was shut out by the office, from the settings that came down; `bench`: the sentence of a bench that was itself shut
 * out, which counts for everybody. Pure.
 */
export const shutOutWhy =
  (workshop: Workshop | null, bench: string | null): ShutOutWhy =>
  (person) => {
    if (bench !== null) return bench;
    if (!workshop?.shutOut?.includes(person)) return null;
    const name = workshop.people.find(({ id }) => id === person)?.name ?? person;
    return `${name} was shut out by the supervisor: nothing is lost, somebody else can sign on and go on with the job.`;
  };

/** Saying that something is wrong, pausing and stopping are open to everybody. */
const OPEN_TO_ALL: readonly JobEvent['type'][] = ['pause', 'note', 'trouble', 'stop', 'attach'];

/** Rejects with a sentence when this person may not give this event, because they, or who is to go on, were shut out. */
export async function mayGive(why: ShutOutWhy, person: string, event: JobEvent): Promise<void> {
  if (OPEN_TO_ALL.includes(event.type)) return;
  const refused = why(person) ?? (event.type === 'handOver' ? why(event.to) : null);
  if (refused !== null) throw new Error(refused);
}

/** The pause of a job whose worker was shut out: it waits for somebody else. Null when there is nothing to pause. */
export function pauseFor(state: JobState, why: ShutOutWhy): Extract<JobEvent, { type: 'pause' }> | null {
  const { outcome, context } = state.snapshot;
  if (outcome !== 'open' || context.paused) return null;
  const says = why(workerOf(state));
  return says === null ? null : { type: 'pause', says };
}

/** The pause that a bench makes by itself now: nobody has done anything for long, or the worker was shut out. */
export const pauseNow = (state: JobState, inputAt: number, now: number, why: ShutOutWhy): JobEvent | null =>
  pauseDue(state, inputAt, now) ?? pauseFor(state, why);
