import { fromMoment } from '../journal/moment.ts';
import type { JournalRecord } from '../journal/record.ts';
import { here, type JobContext, passes, personOf } from '../procedure/context.ts';
import { type Definition, stationOf } from '../procedure/definition.ts';
import type { JobEvent } from '../procedure/events.ts';
import { missingItems, waitEndsAt } from '../procedure/settle-aids.ts';
import { roundProgress } from '../procedure/settle-work.ts';
import { eventInWords } from './event-words.ts';
import type { JobState } from './runner.ts';
import { evidenceInWords } from './story.ts';

/** Nothing was done for so long, ms: the bench pauses the job by itself. Longer than nearly every single act. Our own choice. */
export const AWAY_MS = 20 * 60_000;
/** After a break of so long, ms, the last hold point passed is read again before the work goes on. Our own choice. */
export const LONG_BREAK_MS = 60 * 60_000;

/** What a person is told who comes back to a job. */
export interface Return {
  /** When something was last done, ms since 1970, and how long ago that is, ms. */
  readonly since: number;
  readonly away: number;
  /** Why the bench paused the job by itself; null: a person paused it. */
  readonly byItself: string | null;
  /** The station where the work stands, as it says. */
  readonly stands: string;
  /** The last thing that a person did and that was taken. */
  readonly last: { readonly says: string; readonly at: string; readonly by: string } | null;
  /** The last hold point that was passed and still stands. */
  readonly confirmed: {
    readonly says: string;
    readonly opened: string;
    readonly by: string;
    readonly at: number;
    /** The words that open it, which acknowledge it by voice. */
    readonly phrase: string;
  } | null;
  /** What to look at before going on, one sentence each. */
  readonly look: readonly string[];
  /** After a long break: what has to be read again and acknowledged by a long press. */
  readonly readAgain: string | null;
}

/** A length of time as people say it: "45 s", "34 min", "3 h 10 min", "2 days". */
export function spell(ms: number): string {
  const minutes = Math.floor(ms / 60_000);
  if (minutes < 1) return `${Math.max(0, Math.floor(ms / 1000))} s`;
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.floor(minutes / 60);
  if (hours >= 48) return `${Math.floor(hours / 24)} days`;
  return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${minutes % 60} min`;
}

// These say nothing of the work itself.
const ASIDE: readonly string[] = ['pause', 'resume', 'note', 'signOn', 'handOver'];

const timeOf = (record: JournalRecord | undefined): number => (record && fromMoment(record.at)) ?? 0;

/** When a person last did something on this job, ms since 1970: a pause that the bench made itself does not count. */
function lastActAt(records: readonly JournalRecord[]): number {
  return timeOf(records.findLast(({ via }) => via !== 'clock' && via !== 'system'));
}

function lastWork(records: readonly JournalRecord[], context: JobContext): Return['last'] {
  const found = records.findLast(
    ({ event, outcome }) => outcome === 'accepted' && !ASIDE.includes(event.type),
  );
  if (!found) return null;
  const by = personOf(context, found.by)?.name ?? found.by;
  return { says: eventInWords(found.event), at: found.at, by };
}

function lastConfirmed(definition: Definition, context: JobContext): Return['confirmed'] {
  const entries = Object.entries(passes(context));
  const latest = entries.reduce<(typeof entries)[number] | null>(
    (best, one) => (best === null || one[1].at >= best[1].at ? one : best),
    null,
  );
  if (!latest) return null;
  const [name, pass] = latest;
  const station = stationOf(definition, name);
  return {
    says: station?.say ?? name,
    phrase: station?.kind === 'hold' ? station.phrase : '',
    opened: evidenceInWords(pass.evidence),
    by: personOf(context, pass.by)?.name ?? pass.by,
    at: pass.at,
  };
}

/** What may have been left half done at this station. */
function leftHalf(definition: Definition, context: JobContext, name: string, now: number): string[] {
  const station = stationOf(definition, name);
  switch (station?.kind) {
    case 'round': {
      const { fasteners, done } = roundProgress(context, station);
      if (fasteners === null || done === 0) return [];
      const pass = station.passes[Math.floor(done / fasteners)] ?? '';
      return [
        `${done % fasteners} of ${fasteners} were counted in this pass (${pass}): if you are not sure, go over the whole pass once more.`,
      ];
    }
    case 'kit': {
      const missing = missingItems(station, context);
      return missing.length > 0 ? [`${missing.length} items are still to be called off.`] : [];
    }
    case 'wait': {
      const ends = waitEndsAt(station, context);
      if (ends === null) return [];
      return [ends > now ? `The wait has ${spell(ends - now)} to go.` : 'The wait is over.'];
    }
    case 'hold':
      return here(context)?.awaiting
        ? ['The evidence was given and waits for its witness: both look once more.']
        : ['Nothing counts here yet: check it anew before you confirm it.'];
    case 'reading':
      return ['Measure it anew: a figure that was not given before the break does not count.'];
    default:
      return ['Was this begun before the break? See how far it came before you go on with it.'];
  }
}

/** What there is to say to the person who comes back to a paused job; null while the job goes on or is closed. */
export function returnOf(state: JobState, now: number): Return | null {
  const { machine, snapshot, records } = state;
  const { definition } = machine;
  const { context } = snapshot;
  if (!context.paused || snapshot.outcome !== 'open') return null;
  const before = records.slice(
    0,
    records.findLastIndex(({ event }) => event.type === 'pause'),
  );
  const pause = records[before.length];
  const byItself = pause?.via === 'clock' ? (context.paused.says ?? '') : null;
  const since = byItself === null ? context.paused.at : lastActAt(before);
  const away = Math.max(0, now - since);
  const confirmed = lastConfirmed(definition, context);
  const long = away >= LONG_BREAK_MS;
  return {
    since,
    away,
    byItself,
    stands: stationOf(definition, snapshot.station)?.say ?? snapshot.station,
    last: lastWork(before, context),
    confirmed,
    look: [
      ...leftHalf(definition, context, snapshot.station, now),
      ...(long ? ['Has anybody worked on this machine meanwhile? Ask, and look.'] : []),
    ],
    readAgain: long ? (confirmed?.says ?? null) : null,
  };
}

/** The note that goes into the journal with an acknowledgement, before the job is resumed. */
export const readAgainNote = ({ away, readAgain }: Return): JobEvent => ({
  type: 'note',
  says: `After a break of ${spell(away)} the last hold point was read again: ${readAgain}`,
});

/**
 * The pause that the bench makes by itself once nobody has done anything for long: the app was closed, the device slept,
 * its clock was moved, or somebody was called away. `inputAt`: last press or word, ms since 1970. A wait is no idleness.
 */
export function pauseDue(state: JobState, inputAt: number, now: number): JobEvent | null {
  const { machine, snapshot, records } = state;
  const { context } = snapshot;
  if (snapshot.outcome !== 'open' || context.paused) return null;
  const station = stationOf(machine.definition, snapshot.station);
  const waited = station?.kind === 'wait' ? (waitEndsAt(station, context) ?? 0) : 0;
  const from = Math.max(lastActAt(records), inputAt, Math.min(waited, now));
  const idle = now - from;
  return idle >= AWAY_MS ? { type: 'pause', says: `Nothing was done here for ${spell(idle)}.` } : null;
}

/** What is said aloud to a person who comes back. */
export function spokenReturn({ away, stands, confirmed, look, readAgain }: Return): string[] {
  return [
    `Paused ${spell(away)} ago.`,
    `You stand at: ${stands}`,
    ...(confirmed && readAgain === null ? [`Last confirmed: ${confirmed.says}`] : []),
    ...look,
    ...(readAgain === null
      ? []
      : [`Read again what was confirmed last: ${readAgain} Hold the pedal down to go on.`]),
  ];
}
