import type { Stroke } from './stroke.ts';

/** One press as a switch reported it: perhaps many strokes, where it chatters or repeats by itself. */
export interface Trace {
  readonly downAt: number;
  /** Last release, null while it is down. */
  readonly upAt: number | null;
  /** Longest time it was up within the press, ms. */
  readonly gapMs: number;
  /** Repeats that the system marked. */
  readonly marked: number;
  /** Pauses before presses that came without a release between them and without a mark, ms. */
  readonly unmarked: readonly number[];
  readonly lastDownAt: number;
}

/** A switch that opens and closes again within this time, ms, chatters. */
export const CHATTER_MS = 45;
/** Strokes no further apart than this, ms, can be one press that the pedal itself repeats. */
export const JOIN_MS = 120;

const opened = (at: number): Trace => ({
  downAt: at,
  upAt: null,
  gapMs: 0,
  marked: 0,
  unmarked: [],
  lastDownAt: at,
});

function extend(trace: Trace, stroke: Stroke): Trace {
  if (stroke.phase === 'up') return { ...trace, upAt: stroke.at };
  const on = { ...trace, lastDownAt: stroke.at };
  if (trace.upAt !== null) return { ...on, upAt: null, gapMs: Math.max(trace.gapMs, stroke.at - trace.upAt) };
  if (stroke.repeat) return { ...on, marked: trace.marked + 1 };
  return { ...on, unmarked: [...trace.unmarked, stroke.at - trace.lastDownAt] };
}

/** The strokes of one key, joined into presses where they are no more than `joinMs` apart. */
export function traces(strokes: readonly Stroke[], joinMs: number): Trace[] {
  const out: Trace[] = [];
  for (const stroke of strokes) {
    const last = out.at(-1);
    const joins =
      last && (last.upAt === null || (stroke.phase === 'down' && stroke.at - last.upAt <= joinMs));
    if (joins) out[out.length - 1] = extend(last, stroke);
    else if (stroke.phase === 'down' && !stroke.repeat) out.push(opened(stroke.at));
  }
  return out;
}
