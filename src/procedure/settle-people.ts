import type { JobContext, Person } from './context.ts';
import { here, openTrouble, personOf } from './context.ts';
import type { Attachment, JobEvent, Stamped } from './events.ts';
import type { Refusal } from './refusal.ts';
import { refuse } from './refusal.ts';
import { may } from './roles.ts';
import type { Settlement } from './settle.ts';
import type { Station } from './station.ts';

/** A sign-on is good for a shift, in ms. Our own choice. */
export const SHIFT_MS = 12 * 3_600_000;
/** Witnessing and deciding are acts of their own: the person signed on just before them, in ms. Our own choice. */
export const FRESH_MS = 10 * 60_000;

// Nobody has to find a badge before they may stop the work or say what they see.
const OPEN_TO_ALL: readonly JobEvent['type'][] = ['signOn', 'stop', 'pause', 'note', 'trouble', 'attach'];
const FRESH: readonly JobEvent['type'][] = ['witness', 'decide'];

function signOnWithin(context: JobContext, person: Person, at: number, good: number): Refusal | null {
  if (!person.signsOn) return null;
  const last = context.signedOn[person.id];
  if (!last) return refuse('sign-on-needed', { who: person.name });
  return at - last.at <= good ? null : refuse('sign-on-stale', { who: person.name });
}

/** May this person witness or decide at this moment (ms since 1970) without signing on anew? */
export function isFresh(context: JobContext, id: string, at: number): boolean {
  const person = context.input.people.find((one) => one.id === id);
  return person !== undefined && signOnWithin(context, person, at, FRESH_MS) === null;
}

/** Why this person must sign on first, or null. */
export function signOnRefusal(context: JobContext, person: Person, event: Stamped): Refusal | null {
  if (OPEN_TO_ALL.includes(event.type)) return null;
  return signOnWithin(context, person, event.at, FRESH.includes(event.type) ? FRESH_MS : SHIFT_MS);
}

export function settleHandOver(context: JobContext, to: string, at: number): Settlement {
  const person = personOf(context, to);
  if (!person) return { refused: refuse('person-unknown', { who: to }) };
  const refused = signOnWithin(context, person, at, FRESH_MS);
  return refused ? { refused } : { way: 'handsOver' };
}

const HEX_64 = /^[0-9a-f]{64}$/;
const MEDIA = /^(image|audio)\/[\w.+-]+$/;

export function settleAttach({ sha256, bytes, media }: Attachment): Settlement {
  const usable = HEX_64.test(sha256) && Number.isSafeInteger(bytes) && bytes > 0 && MEDIA.test(media);
  return usable ? { way: 'attaches' } : { refused: refuse('attachment-unusable') };
}

/** Who decides what about a nonconformance: rework and scrap lead back to a station, a concession opens its hold. */
export function settleDecide(
  context: JobContext,
  station: Station,
  person: Person,
  event: Stamped<Extract<JobEvent, { type: 'decide' }>>,
): Settlement {
  const trouble = openTrouble(context);
  if (!trouble) return { refused: refuse('trouble-needed') };
  if (!may(person.role, event.decision)) {
    const role = person.role === 'apprentice' ? 'An apprentice' : 'A mechanic';
    return { refused: refuse('not-authorised', { role, act: event.decision }) };
  }
  if (event.says.trim() === '') return { refused: refuse('reason-needed') };
  if (event.decision === 'concession') {
    const allowed = station.kind === 'hold' && station.concession === true;
    const inPlace = here(context)?.station === trouble.station;
    return allowed && inPlace ? { way: 'concedes' } : { refused: refuse('concession-not-allowed') };
  }
  const visited = context.visits.some((visit) => visit.station === event.station);
  return visited ? { way: 'returns' } : { refused: refuse('return-not-visited') };
}
