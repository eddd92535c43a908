/**
 * Kinds of differences, the gravest first: what holds the work and what it is held to, then what can hurt, then the way
 * through, then what is at hand, then words.
 */
export const GROUPS = [
  { key: 'build', heading: 'Built differently: look at this first' },
  { key: 'hold', heading: 'Hold points' },
  { key: 'limit', heading: 'Limits and tools' },
  { key: 'caution', heading: 'Cautions' },
  { key: 'station', heading: 'Stations that came or went' },
  { key: 'way', heading: 'The way through' },
  { key: 'kit', heading: 'Kit' },
  { key: 'work', heading: 'Workings, rounds, waits and look-ups' },
  { key: 'word', heading: 'Wording' },
  { key: 'head', heading: 'About the procedure' },
] as const;

export type Group = (typeof GROUPS)[number]['key'];

/** One thing that is not as it was, in a sentence. */
export interface Difference {
  readonly group: Group;
  /** The station it is about; null: the whole procedure. */
  readonly station: string | null;
  readonly says: string;
}

/** Reports one difference; the station is filled in by whoever compares it. */
export type Tell = (group: Group, says: string) => void;

/** How the two sides of one part read: “was A, is now B”. */
export const wasIs = (before: string, after: string): string => `was ${before}, is now ${after}`;
