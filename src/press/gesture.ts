import { HOLD_PRESS_MS } from '../procedure/settle-hold.ts';
import type { Binding, Command, Layout, Role } from './layout.ts';

export type { Role } from './layout.ts';

/** What the press gestures share. Times are ms on the clock of `KeyboardEvent.timeStamp`. */
interface Pressed {
  readonly key: Role;
  readonly via: Binding['via'];
  /** When the press began: one that began before a hold was on the screen was not meant for it. */
  readonly downAt: number;
}

/**
 * Why a press came to nothing: let go before the bar was full; its release was never seen; kept down so long that
 * something must be lying on it; two pedals under one foot.
 */
export type GivenUp = 'short' | 'lost' | 'stuck' | 'two';

/** What hands and feet meant. Every press ends as one of tap, long, double (with the press before) or released. */
export type Gesture =
  | (Pressed & { readonly kind: 'tap' })
  | (Pressed & { readonly kind: 'double' })
  | (Pressed & { readonly kind: 'long'; readonly heldMs: number })
  | (Pressed & { readonly kind: 'holding'; readonly heldMs: number; readonly full: boolean })
  | (Pressed & { readonly kind: 'released'; readonly heldMs: number; readonly why: GivenUp })
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

/** Longest pause before and between unmarked repeats, ms: the usual settings of keyboards lie below. */
const FIRST_REPEAT_MS = 700;
const NEXT_REPEAT_MS = 150;

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

interface Press {
  readonly code: string;
  readonly binding: Binding;
  readonly downAt: number;
  lastDownAt: number;
  repeats: number;
  /** Set while a release waits to be believed. */
  upAt: number | null;
  /** Set once the press can no longer count; kept until its release so that the rest of it is swallowed. */
  void: GivenUp | 'burst' | null;
  /** Time of the last step of the bar, and whether it has shown full. */
  shownAt: number | null;
  full: boolean;
}

interface FirstTap {
  readonly tap: Gesture & { readonly kind: 'tap' };
  readonly until: number;
}

/**
 * A long press is decided at its release, never before. The bar fills, a tone sounds, the foot lifts: both ends of the
 * press are then measured facts; a pedal with something lying on it, or whose release never comes, opens nothing; and
 * a busy page that draws a full bar late cannot stretch a short press.
 */
export function recogniser(layout: Layout, times: Times = TIMES): Recogniser {
  const presses = new Map<string, Press>();
  const lastUp = new Map<string, number>();
  const firstTaps = new Map<Role, FirstTap>();
  let now = Number.NEGATIVE_INFINITY;

  const forward = (at: number) => {
    if (at > now) now = at;
    return now;
  };
  const pressed = (press: Press) => ({
    key: press.binding.role,
    via: press.binding.via,
    downAt: press.downAt,
  });
  const isDown = (press: Press) => press.upAt === null;

  function giveUp(press: Press, why: GivenUp, at: number): Gesture[] {
    if (press.void !== null) return [];
    press.void = why;
    return [{ kind: 'released', ...pressed(press), heldMs: (press.upAt ?? at) - press.downAt, why }];
  }

  function flushFirst(role: Role): Gesture[] {
    const first = firstTaps.get(role);
    firstTaps.delete(role);
    return first ? [first.tap] : [];
  }

  function finish(press: Press, upAt: number): Gesture[] {
    presses.delete(press.code);
    lastUp.set(press.code, upAt);
    if (press.void !== null) return [];
    const role = press.binding.role;
    const heldMs = upAt - press.downAt;
    if (heldMs > times.tapMs) {
      const before = flushFirst(role);
      if (heldMs >= times.holdMs) return [...before, { kind: 'long', ...pressed(press), heldMs }];
      return [...before, ...giveUp(press, 'short', upAt)];
    }
    const first = firstTaps.get(role);
    if (first && press.downAt <= first.until) {
      firstTaps.delete(role);
      return [{ kind: 'double', ...pressed(press), downAt: first.tap.downAt }];
    }
    const tap = { kind: 'tap', ...pressed(press) } as const;
    if (!layout.doubles.includes(role)) return [tap];
    const before = flushFirst(role);
    firstTaps.set(role, { tap, until: upAt + times.doubleMs });
    return before;
  }

  /** The press that may yet make a double press out of this first tap. */
  const second = (role: Role, first: FirstTap) =>
    [...presses.values()].find((p) => p.binding.role === role && p.void === null && p.downAt <= first.until);

  /** When a waiting first tap stops waiting. */
  const firstTapEnds = (role: Role, first: FirstTap) => {
    const press = second(role, first);
    if (!press) return first.until;
    if (press.upAt !== null) return press.upAt + press.binding.traits.settleMs;
    return press.downAt + times.tapMs;
  };

  /** Everything that has become certain by `at`. */
  function settle(at: number): Gesture[] {
    const out: Gesture[] = [];
    for (const press of [...presses.values()]) {
      if (press.upAt !== null && at >= press.upAt + press.binding.traits.settleMs) {
        out.push(...finish(press, press.upAt));
      } else if (isDown(press) && at > press.downAt + times.stuckMs) {
        out.push(...giveUp(press, 'stuck', at));
        if (at > press.lastDownAt + times.stuckMs) presses.delete(press.code);
      }
    }
    for (const [role, first] of [...firstTaps]) {
      if (at > firstTapEnds(role, first)) out.push(...flushFirst(role));
    }
    return out;
  }

  function begin(code: string, binding: Binding, at: number): Gesture[] {
    const press: Press = {
      code,
      binding,
      downAt: at,
      lastDownAt: at,
      repeats: 0,
      upAt: null,
      void: null,
      shownAt: null,
      full: false,
    };
    const others = [...presses.values()].filter((p) => isDown(p) && (p.void === null || p.void === 'two'));
    presses.set(code, press);
    const lifted = lastUp.get(code);
    if (lifted !== undefined && at - lifted < times.burstMs) press.void = 'burst';
    else if (others.length > 0) press.void = 'two';
    return press.void === 'two' ? others.flatMap((p) => giveUp(p, 'two', at)) : [];
  }

  /** A second press of a key that is down: a repeat, or a press whose release was lost. */
  function again(press: Press, at: number, repeat: boolean): Gesture[] {
    const gap = at - press.lastDownAt;
    press.lastDownAt = at;
    const usual = press.repeats === 0 ? FIRST_REPEAT_MS : NEXT_REPEAT_MS;
    const unmarked = press.binding.traits.unmarked && gap <= usual;
    if (repeat || gap < times.burstMs || unmarked) {
      press.repeats += 1;
      return [];
    }
    return giveUp(press, 'lost', at);
  }

  const typed = (code: string): Gesture[] => {
    if (/^[0-9]$/.test(code)) return [{ kind: 'digit', digit: code }];
    if (code === '.' || code === ',') return [{ kind: 'decimal' }];
    if (code === 'Delete') return [{ kind: 'erase' }];
    if (code === 'Escape') return [{ kind: 'escape' }];
    const name = layout.commands[code];
    return name ? [{ kind: 'key', name }] : [];
  };

  return {
    down(code, time, repeat) {
      const at = forward(time);
      const out = settle(at);
      const binding = layout.roles[code];
      if (!binding) return repeat ? out : [...out, ...typed(code)];
      const press = presses.get(code);
      if (press && !isDown(press)) {
        press.upAt = null;
        press.lastDownAt = at;
        return out;
      }
      if (press) return [...out, ...again(press, at, repeat)];
      // A repeat without its press: it began in another window, or was given up as stuck.
      return repeat ? out : [...out, ...begin(code, binding, at)];
    },
    up(code, time) {
      const at = forward(time);
      const out = settle(at);
      const press = presses.get(code);
      if (!press || !isDown(press)) return out;
      if (press.void === null && press.binding.traits.settleMs > 0) {
        press.upAt = at;
        return out;
      }
      return [...out, ...finish(press, at)];
    },
    tick(time) {
      const at = forward(time);
      const out = settle(at);
      for (const press of presses.values()) {
        const heldMs = at - press.downAt;
        if (press.void !== null || !isDown(press) || heldMs < times.showMs) continue;
        press.shownAt = at;
        press.full = heldMs >= times.holdMs;
        out.push({ kind: 'holding', ...pressed(press), heldMs, full: press.full });
      }
      return out;
    },
    lost(time) {
      const at = forward(time);
      const out: Gesture[] = [];
      for (const press of [...presses.values()]) {
        out.push(...giveUp(press, 'lost', at));
        if (!isDown(press)) presses.delete(press.code);
      }
      firstTaps.clear();
      return out;
    },
    nextTickAt() {
      const due: number[] = [];
      for (const press of presses.values()) {
        if (press.upAt !== null) due.push(press.upAt + press.binding.traits.settleMs);
        else if (press.void === null && press.full) due.push(press.downAt + times.stuckMs + 1);
        else if (press.void === null && press.shownAt === null) due.push(press.downAt + times.showMs);
        else if (press.void === null)
          due.push(Math.min((press.shownAt ?? 0) + times.stepMs, press.downAt + times.holdMs));
      }
      for (const [role, first] of firstTaps) due.push(firstTapEnds(role, first) + 1);
      return due.length > 0 ? Math.min(...due) : null;
    },
  };
}
