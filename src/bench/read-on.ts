import type { StationView } from '../job/view.ts';
import type { Gesture } from '../press/gesture.ts';
import type { JobEvent } from '../procedure/events.ts';
import type { Console, Turn } from './console.ts';

/**
 * What counts at a station only when all of it has been on the screen. Stopping, pausing, noting, trouble, going back and
 * "it is not right" are always free.
 */
const AFTER_READING: ReadonlySet<JobEvent['type']> = new Set([
  'accept',
  'advance',
  'callOff',
  'cannot',
  'choose',
  'confirm',
  'lookUp',
  'reading',
  'witness',
]);

const countsHere = (turn: Turn): boolean =>
  turn.effects.some((effect) => effect.kind === 'event' && AFTER_READING.has(effect.event.type));

/** How many pages the station takes on this screen, and how many what lies over it. */
export interface Pages {
  readonly station: number;
  readonly over: number;
}

export const ONE_PAGE: Pages = { station: 1, over: 1 };

const taps = (gesture: Gesture | null): boolean =>
  gesture?.kind === 'enter' || (gesture?.kind === 'tap' && gesture.key === 'go');
const goesBack = (gesture: Gesture | null): boolean => gesture?.kind === 'tap' && gesture.key === 'back';
const types = (gesture: Gesture | null): boolean =>
  gesture?.kind === 'digit' || gesture?.kind === 'decimal' || gesture?.kind === 'erase';

/**
 * Where a station takes more than one page: a tap shows the next page and means its usual thing on the last one, back
 * shows the page before, and nothing that moves the job counts until the last page was shown. It can only keep events
 * back, never make one, so a hold point asks for its own evidence as ever. `gesture` is null for a heard phrase.
 */
export function readOn(
  before: Console,
  gesture: Gesture | null,
  meant: Turn,
  view: StationView,
  pages: Pages,
): Turn {
  if (view.outcome !== 'open') return meant;
  if (before.over !== 'none' || before.talk || view.paused || view.trouble) {
    return readOver(before, gesture, meant, pages.over);
  }
  const last = pages.station - 1;
  const page = Math.min(before.page, last);
  const readOut = before.readOut || page === last;
  const turnTo = (next: number): Turn => ({
    console: { ...before, press: null, page: next, readOut: readOut || next === last },
    effects: [],
  });
  if (taps(gesture) && page < last) return turnTo(page + 1);
  if (goesBack(gesture) && page > 0) return turnTo(page - 1);
  if (!readOut && countsHere(meant)) return turnTo(page + 1);
  // What is typed is shown where it is typed; a part that was not read yet is not skipped for it.
  const shown = types(gesture) && readOut ? last : Math.min(meant.console.page, last);
  return { ...meant, console: { ...meant.console, page: shown, readOut } };
}

/** What lies over the station is read on in the same way. */
function readOver(before: Console, gesture: Gesture | null, meant: Turn, pages: number): Turn {
  const page = Math.min(before.overPage, pages - 1);
  const turnTo = (next: number): Turn => ({
    console: { ...before, press: null, overPage: next },
    effects: [],
  });
  // A hold that is read again after a break is on the last page: its phrase counts no sooner than a press would.
  const acknowledges = meant.effects.some((effect) => effect.kind === 'event' && effect.first !== undefined);
  const on = taps(gesture) || (gesture?.kind === 'long' && gesture.key === 'go') || acknowledges;
  if (on && page < pages - 1) return turnTo(page + 1);
  if (goesBack(gesture) && page > 0) return turnTo(page - 1);
  return meant;
}
