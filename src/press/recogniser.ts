import { type Dropped, type Gesture, type Recogniser, TIMES, type Times } from './gesture.ts';
import type { Binding, Layout, Role } from './layout.ts';

/** Longest pause before and between unmarked repeats, ms: the usual settings of keyboards lie below. */
export const FIRST_REPEAT_MS = 700;
export const NEXT_REPEAT_MS = 150;

interface Press {
  readonly code: string;
  readonly binding: Binding;
  readonly downAt: number;
  lastDownAt: number;
  repeats: number;
  /** Set while a release waits to be believed. */
  upAt: number | null;
  /** Set once the press can no longer count; kept until its release so that the rest of it is swallowed. */
  void: Dropped | 'burst' | null;
  /** Time of the last step of the bar, and whether it has shown full. */
  shownAt: number | null;
  full: boolean;
}

interface Pending {
  readonly at: number;
  readonly run: () => Gesture[];
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

  /** Strokes keep the time they happened, but never run back. Ticks do not move this clock: a busy page runs its timers
   *  before the releases that wait in its queue, and a release must not be dated to the timer that overtook it. */
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

  function drop(press: Press, why: Dropped): Gesture[] {
    if (press.void !== null) return [];
    press.void = why;
    // A tap that waited for this press to make a double of it is a tap after all.
    return [...flushFirst(press.binding.role), { kind: 'dropped', ...pressed(press), why }];
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
      return [...before, { kind: 'released', ...pressed(press), heldMs }];
    }
    if (press.binding.enters) return [...flushFirst(role), { kind: 'enter' }];
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

  /** What will become certain by itself, and when: it is certain once that time has passed. */
  function pending(): Pending[] {
    const out: Pending[] = [];
    for (const press of presses.values()) {
      const { upAt } = press;
      if (upAt !== null) {
        out.push({ at: upAt + press.binding.traits.settleMs, run: () => finish(press, upAt) });
      } else if (press.void === null) {
        out.push({ at: press.downAt + times.stuckMs, run: () => drop(press, 'stuck') });
      }
    }
    for (const [role, first] of firstTaps) {
      out.push({ at: firstTapEnds(role, first), run: () => flushFirst(role) });
    }
    return out;
  }

  /** Everything that has become certain by `at`, in the order in which it did. */
  function settle(at: number): Gesture[] {
    const out: Gesture[] = [];
    for (;;) {
      const passed = pending().filter((one) => one.at < at);
      const first = passed.sort((a, b) => a.at - b.at)[0];
      if (!first) return out;
      out.push(...first.run());
    }
  }

  /** Presses whose release was lost long ago: what comes now is a new one. */
  function forgetStale(at: number) {
    for (const press of [...presses.values()]) {
      if (press.void !== null && at > press.lastDownAt + times.stuckMs) presses.delete(press.code);
    }
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
    return press.void === 'two' ? others.flatMap((p) => drop(p, 'two')) : [];
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
    return drop(press, 'lost');
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
      forgetStale(at);
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
      const at = Math.max(now, time);
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
      const out = settle(forward(time));
      firstTaps.clear();
      for (const press of [...presses.values()]) {
        out.push(...drop(press, 'lost'));
        if (!isDown(press)) presses.delete(press.code);
      }
      return out;
    },
    nextTickAt() {
      const due = pending().map((one) => one.at + 1);
      for (const press of presses.values()) {
        if (press.void !== null || press.upAt !== null || press.full) continue;
        const step = press.shownAt === null ? press.downAt + times.showMs : press.shownAt + times.stepMs;
        due.push(press.shownAt === null ? step : Math.min(step, press.downAt + times.holdMs));
      }
      return due.length > 0 ? Math.min(...due) : null;
    },
  };
}
