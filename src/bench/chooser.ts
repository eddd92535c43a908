import type { Gesture } from '../press/gesture.ts';

/** What a gesture does to a list of options of which one is lit. */
export interface Choosing {
  /** Index of the option that is lit. */
  readonly at: number;
  /** Index of the option that was taken, once one is. */
  readonly taken: number | null;
  /** The person wants to leave the list. */
  readonly left: boolean;
}

/**
 * The same hand works every list: a tap lights the next option, a long press or Enter takes the lit one, a digit takes
 * the option of that number, the back pedal lights the one before, Escape leaves.
 */
export function choose(at: number, count: number, gesture: Gesture): Choosing {
  const stay = { at, taken: null, left: false };
  if (gesture.kind === 'escape') return { ...stay, left: true };
  if (count === 0) return stay;
  switch (gesture.kind) {
    case 'tap':
      if (gesture.key === 'go') return { ...stay, at: (at + 1) % count };
      return gesture.key === 'back' ? { ...stay, at: (at - 1 + count) % count } : stay;
    case 'long':
      return gesture.key === 'go' ? { ...stay, taken: at } : stay;
    case 'enter':
      return { ...stay, taken: at };
    case 'digit': {
      const taken = Number(gesture.digit) - 1;
      return taken >= 0 && taken < count ? { at: taken, taken, left: false } : stay;
    }
    default:
      return stay;
  }
}
