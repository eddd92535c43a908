import { padSource } from './gamepad.dom.ts';
import { input, type Pressed } from './input.ts';
import { keySource } from './keys.dom.ts';
import type { Layout } from './layout.ts';
import type { StrokeSink, StrokeSource } from './source.ts';
import type { Stroke } from './stroke.ts';

export interface Presses {
  /** Use another layout from now on; what is down is dropped. */
  use(layout: Layout): void;
  /**
   * The screen has moved on: what is down now was not meant for what is shown, and will not count. Call it when a
   * station appears for another reason than a press.
   */
  forget(): void;
  /** Give strokes to a set-up, which says whether it takes each; null gives them back to the bench. */
  divert(sink: ((stroke: Stroke) => boolean) | null): void;
  stop(): void;
}

/** A timer this late, ms, has probably overtaken keys that wait in the queue: they go first. */
const LATE_MS = 8;

/** Listens to all sources and tells the bench what was meant. A timer runs only while something is pending. */
export function presses(
  layout: Layout,
  told: (pressed: Pressed) => void,
  sources: (mine: (code: string) => boolean) => StrokeSource[] = (mine) => [keySource(mine), padSource()],
): Presses {
  let current = layout;
  let keys = input(layout);
  let diverted: ((stroke: Stroke) => boolean) | null = null;
  let timer: ReturnType<typeof setTimeout> | undefined;

  const tell = (all: readonly Pressed[]) => {
    for (const one of all) told(one);
  };

  function arm() {
    clearTimeout(timer);
    const due = keys.nextTickAt();
    if (due === null) return;
    timer = setTimeout(fire, Math.max(0, due - performance.now()), due, false);
  }

  function fire(due: number, waited: boolean) {
    if (!waited && performance.now() - due > LATE_MS) {
      timer = setTimeout(fire, 0, due, true);
      return;
    }
    const pressed = keys.tick(performance.now());
    arm();
    tell(pressed);
  }

  const sink: StrokeSink = {
    stroke(stroke) {
      if (diverted) return diverted(stroke);
      const { pressed, ours } = keys.stroke(stroke);
      arm();
      tell(pressed);
      return ours;
    },
    lost(at) {
      const pressed = keys.lost(at);
      arm();
      tell(pressed);
    },
  };
  const mine = (code: string) => diverted !== null || current.roles[code]?.via === 'pedal';
  const stops = sources(mine).map((source) => source(sink));

  return {
    use(next) {
      sink.lost(performance.now());
      current = next;
      keys = input(next);
      arm();
    },
    forget: () => sink.lost(performance.now()),
    divert(to) {
      sink.lost(performance.now());
      diverted = to;
    },
    stop() {
      clearTimeout(timer);
      for (const stop of stops) stop();
    },
  };
}
