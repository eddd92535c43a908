/** One look at both clocks of the device, ms. */
export interface ClockReading {
  /** Wall clock, ms since 1970: people and networks set it, in both directions. */
  readonly wall: number;
  /** Clock that is never set (`performance.now()`): starts anew with the page, and may stand still while the device sleeps. */
  readonly run: number;
}

/** The wall clock moved without the running one: `ms` forward (set, or the device slept), negative: it was set back. */
export interface ClockStep {
  readonly ms: number;
  /** Time of the job at which it was noticed, ms since 1970. */
  readonly at: number;
}

/** Smaller differences between two looks are how a clock is kept right (slewing), not a step. Our own choice. */
export const STEP_MS = 2000;
/** Steps that are remembered. */
const KEPT = 20;

export interface SteadyClock {
  /** Time of the job, ms since 1970: never earlier than a time given before. */
  now(): number;
  /** The steps noticed so far, the latest last. */
  readonly steps: readonly ClockStep[];
  /** How far this clock stands ahead of the wall clock, ms: more than 0 after that was set back. */
  readonly ahead: number;
}

/**
 * The clock by which jobs are stamped and waits are timed.
 *
 * - Set back while the app runs: time goes on from where it was, by the running clock.
 * - Set back while the app was closed: `floor`, the time of the last record, is where time goes on from. At least that
 *   much has passed, so a wait can come out longer than it should be, never shorter.
 * - Moved forward: the wall clock is followed, because after a sleep of the device it is right and the running clock is
 *   not. A clock that was set wrongly forward looks the same; whoever uses this clock pauses the job on a long gap, so
 *   that a person looks before the time counts.
 *
 * What cannot be known: how long the app was closed, when the clock was set meanwhile.
 */
export function steadyClock(read: () => ClockReading, floor = 0): SteadyClock {
  let last = read();
  let ahead = Math.max(0, floor - last.wall);
  let latest = last.wall + ahead;
  const steps: ClockStep[] = [];

  function look(): number {
    const next = read();
    const jump = next.wall - last.wall - (next.run - last.run);
    last = next;
    if (Math.abs(jump) >= STEP_MS) {
      ahead = Math.max(0, ahead - jump);
      steps.push({ ms: Math.round(jump), at: Math.max(latest, next.wall + ahead) });
      if (steps.length > KEPT) steps.shift();
    }
    latest = Math.max(latest, next.wall + ahead);
    return latest;
  }

  return {
    now: look,
    get steps() {
      look();
      return [...steps];
    },
    get ahead() {
      return ahead;
    },
  };
}
