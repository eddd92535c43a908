import type { Stroke } from './stroke.ts';

/** Where strokes go. Times in ms on the clock of `performance.now()`. */
export interface StrokeSink {
  /** @returns true where the stroke is ours and nobody else may act on it. */
  stroke(stroke: Stroke): boolean;
  /** What is down now may never be seen to be released. */
  lost(at: number): void;
}

/** Something that gives strokes: the window's keys, gamepads. @returns what stops it. */
export type StrokeSource = (sink: StrokeSink) => () => void;
