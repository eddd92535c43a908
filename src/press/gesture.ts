import { HOLD_PRESS_MS } from '../procedure/settle-hold.ts';
import type { Binding, Command, Role } from './layout.ts';

export type { Role } from './layout.ts';

/** What the press gestures share. Times are ms on the clock of `KeyboardEvent.timeStamp`. */
interface Pressed {
  readonly key: Role;
  readonly via: Binding['via'];
  /** When the press began: one that began before a hold was on the screen was not meant for it. */
  readonly downAt: number;
}

/** Why a press cannot count: its release was never seen; something must be lying on it; one foot on two pedals. */
export type Dropped = 'lost' | 'stuck' | 'two';

/**
 * What hands and feet meant. Every press ends as one of tap, enter, double (with the press before it), long, released
 * or dropped, or in silence where it is the tail of a press that has ended. `released` was let go before the bar was
 * full; `dropped` carries no time, so that it can never be taken for evidence.
 */
export type Gesture =
  | (Pressed & { readonly kind: 'tap' })
  | (Pressed & { readonly kind: 'double' })
  | (Pressed & { readonly kind: 'long'; readonly heldMs: number })
  | (Pressed & { readonly kind: 'holding'; readonly heldMs: number; readonly full: boolean })
  | (Pressed & { readonly kind: 'released'; readonly heldMs: number })
  | (Pressed & { readonly kind: 'dropped'; readonly why: Dropped })
  | { readonly kind: 'enter' }
  | { readonly kind: 'digit'; readonly digit: string }
  | { readonly kind: 'decimal' }
  | { readonly kind: 'erase' }
  | { readonly kind: 'escape' }
  | { readonly kind: 'key'; readonly name: Command };

export interface Times {
  /** Longest press that is still a tap, ms. */
  readonly tapMs: number;
  /** Shortest long press, ms. */
  readonly holdMs: number;
  /** Longest long press, ms: beyond it a tool box stands on the pedal. */
  readonly stuckMs: number;
  /** Longest time between the release of one tap and the next press of a double press, ms. */
  readonly doubleMs: number;
  /** The progress bar appears this long after the press, ms, so that a tap does not flash it. */
  readonly showMs: number;
  /** Time between two steps of the progress bar, ms. */
  readonly stepMs: number;
  /** No foot or finger lifts and presses again within this time, ms: what does is a switch or a machine. */
  readonly burstMs: number;
}

/** Chosen for a gloved foot: no published source; the hold time is the procedure's own. */
export const TIMES: Times = {
  tapMs: 700,
  holdMs: HOLD_PRESS_MS,
  stuckMs: 10_000,
  doubleMs: 350,
  showMs: 200,
  stepMs: 50,
  burstMs: 45,
};

/** Turns key strokes into gestures. Knows no clock: every call brings its time, and a time that runs back is held. */
export interface Recogniser {
  /** `code` as `nameOf` gives it; `repeat` as the system marked it. */
  down(code: string, at: number, repeat: boolean): Gesture[];
  up(code: string, at: number): Gesture[];
  tick(at: number): Gesture[];
  /** The window lost its keys: nothing that is down now will ever count. */
  lost(at: number): Gesture[];
  /** When `tick` is due, or null while nothing is pending. */
  nextTickAt(): number | null;
}
