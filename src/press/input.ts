import { type FastTimes, fastKeys, type Sorted, type Typed } from './fast-keys.ts';
import { type Gesture, TIMES, type Times } from './gesture.ts';
import type { Layout } from './layout.ts';
import { recogniser } from './recogniser.ts';
import { codeOf, isBound, nameOf, type Stroke } from './stroke.ts';

/** What the bench is told: a gesture of hands or feet, or a text that a device typed. */
export type Pressed = Gesture | Typed;

export interface Taken {
  readonly pressed: readonly Pressed[];
  /** True where the key is ours and the browser must not act on it. */
  readonly ours: boolean;
}

/** The whole way from key strokes to gestures, still without a clock or a window. */
export interface Input {
  stroke(stroke: Stroke): Taken;
  tick(at: number): readonly Pressed[];
  /** Nothing that is down now will count: the window lost its keys, or the screen has moved on under the foot. */
  lost(at: number): readonly Pressed[];
  nextTickAt(): number | null;
}

/** Devices that type are sorted out first; what is left was done by hand or foot. */
export function input(layout: Layout, times: Times = TIMES, fast?: FastTimes): Input {
  const keys = fastKeys(fast);
  const press = recogniser(layout, times);

  const pass = (sorted: readonly Sorted[]): Pressed[] =>
    sorted.flatMap((one): Pressed[] => {
      if (one.kind === 'typed') return [one];
      const { stroke } = one;
      // By its physical key: Shift may have come or gone since the press.
      if (stroke.phase === 'up') return press.up(codeOf(stroke), stroke.at);
      return stroke.chord ? [] : press.down(nameOf(layout, stroke), stroke.at, stroke.repeat);
    });

  return {
    stroke(stroke) {
      const sorted = keys.take(stroke);
      const burst = keys.waiting() || sorted.some((one) => one.kind === 'typed');
      const ours = !stroke.chord && (burst || isBound(layout, nameOf(layout, stroke)));
      return { pressed: pass(sorted), ours };
    },
    tick(at) {
      return [...pass(keys.tick(at)), ...press.tick(at)];
    },
    lost(at) {
      keys.lost();
      return press.lost(at);
    },
    nextTickAt() {
      const due = [keys.nextTickAt(), press.nextTickAt()].filter((at) => at !== null);
      return due.length > 0 ? Math.min(...due) : null;
    },
  };
}
