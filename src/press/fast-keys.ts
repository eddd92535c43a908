import { charOf, type Stroke } from './stroke.ts';
import { sourceOf } from './typed-figure.ts';

/** Text that a device typed: a gauge its figure, a scanner what a label says. */
export interface Typed {
  readonly kind: 'typed';
  readonly text: string;
  readonly source: 'scanner' | 'gauge';
  /** When its last key went down, ms. */
  readonly at: number;
}

export type Sorted = Typed | { readonly kind: 'hands'; readonly stroke: Stroke };

export interface FastTimes {
  /** A longer pause between two keys, ms, ends a burst: hands pause longer, devices do not. */
  readonly gapMs: number;
  /** The gaps of a burst must be shorter than this on average, ms. */
  readonly meanMs: number;
  /** Fewest characters of a burst. */
  readonly least: number;
}

/**
 * Hands type with some 60 ms and more between keys; two fingers may fall together once, not four times running.
 * Keyboard-like scanners and gauges send a key every 1 to 20 ms. Common practice, no source.
 */
export const FAST: FastTimes = { gapMs: 40, meanMs: 30, least: 3 };

/** Tells the keys of devices from those of hands. Hands' keys come out again in order, with their own times. */
export interface FastKeys {
  take(stroke: Stroke): Sorted[];
  tick(at: number): Sorted[];
  /** The window lost its keys: what waits is forgotten. */
  lost(): void;
  nextTickAt(): number | null;
  /** True while keys wait for the burst to show what it is. */
  waiting(): boolean;
}

const ENDS = ['Enter', 'Tab'];
// These undo what was typed, so it must arrive before them.
const EDITS = ['Backspace', 'Delete', 'Escape'];
// Shift and the locks change what the next key types and are no part of the text.
const SILENT = ['Shift', 'CapsLock', 'NumLock', 'AltGraph'];

// A scanner at the keyboard sends FNC1, which has no key, as Ctrl+]: the group separator. Common practice, no source.
const SEPARATOR = '\u001d';

export function fastKeys(times: FastTimes = FAST): FastKeys {
  let waiting: Stroke[] = [];

  const typedDowns = () => waiting.filter((s) => s.phase === 'down' && charOf(s) !== null);
  const lastDown = () => typedDowns().at(-1);
  const due = () => {
    const last = lastDown();
    return last ? last.at + times.gapMs : null;
  };

  /** What the waiting keys and, where there is one, the key that closes them were. Null: hands. */
  function burst(end: Stroke | null): Typed | null {
    const downs = typedDowns();
    const first = downs[0];
    const last = end ?? downs.at(-1);
    if (!first || !last || downs.length < times.least) return null;
    const took = last.at - first.at;
    const gaps = end ? downs.length : downs.length - 1;
    if (took < 0 || took / gaps >= times.meanMs) return null;
    const text = downs.map((s) => (s.chord ? SEPARATOR : charOf(s))).join('');
    return { kind: 'typed', text, source: sourceOf(text), at: last.at };
  }

  /** Lets the waiting keys go. A burst without a closing key is a device all the same: its letters are no commands. */
  function release(): Sorted[] {
    const typed = burst(null);
    const out = typed ? [typed] : waiting.map((stroke) => ({ kind: 'hands', stroke }) as const);
    waiting = [];
    return out;
  }

  return {
    take(stroke) {
      const limit = due();
      const before = limit !== null && stroke.at > limit ? release() : [];
      const hands = { kind: 'hands', stroke } as const;
      const hot = waiting.length > 0;
      if (stroke.phase === 'up') {
        // The release of a waiting key waits behind it; that of any other key passes.
        const waits = waiting.some((s) => s.phase === 'down' && s.code === stroke.code);
        if (!waits) return [...before, hands];
        waiting.push(stroke);
        return before;
      }
      if (hot && SILENT.includes(stroke.key)) return before;
      const char = charOf(stroke);
      // A pedal that is pressed or repeats during a scan leaves the scan whole.
      if (hot && char === null && !ENDS.includes(stroke.key) && !EDITS.includes(stroke.key))
        return [...before, hands];
      if (hot && !stroke.repeat && !stroke.chord && ENDS.includes(stroke.key)) {
        const typed = burst(stroke);
        if (!typed) return [...before, ...release(), hands];
        waiting = [];
        return [...before, typed];
      }
      const starts = char !== null && (hot || stroke.key !== ' ');
      const separates = hot && stroke.chord && stroke.code === 'BracketRight';
      if (!starts || stroke.repeat || (stroke.chord && !separates)) return [...before, ...release(), hands];
      waiting.push(stroke);
      return before;
    },
    tick(at) {
      const limit = due();
      return limit !== null && at > limit ? release() : [];
    },
    lost() {
      waiting = [];
    },
    nextTickAt() {
      const limit = due();
      return limit === null ? null : limit + 1;
    },
    waiting: () => waiting.length > 0,
  };
}
