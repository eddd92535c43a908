import type { MyHead, OfficeHead } from './wire.ts';

/** A job as this bench has it. */
export interface LocalJob extends MyHead {
  readonly closed: boolean;
  readonly sealed: boolean;
}

/** What this bench remembers of a job from earlier rounds. */
export interface KnownJob {
  /** Records that the office confirmed, and the hash of the last of them. */
  readonly count: number;
  readonly hash: string;
  readonly fence: number;
  readonly sealed: boolean;
  /** The seal was shown to be in the log. */
  readonly logged: boolean;
  /** The office has every photo and voice note that the confirmed records name. */
  readonly filed?: boolean;
  /** What the office refused and somebody must look at; nothing more is sent until it changes. */
  readonly trouble: Trouble | null;
}

/** What cannot be mended by trying again. */
export type Trouble = 'forked' | 'taken' | 'refused';

export type Act =
  /** Send records from this number on. */
  | { readonly kind: 'push'; readonly from: number; readonly fence: number }
  /** Bring back records that this bench has lost: it was restored from an old copy, or its data were cleared. */
  | { readonly kind: 'restore'; readonly from: number }
  | { readonly kind: 'seal' }
  /** Leave it alone: another bench goes on with it, or somebody must look first. */
  | { readonly kind: 'leave'; readonly trouble: Trouble }
  | { readonly kind: 'nothing' };

/**
 * What to do about one job, from what the bench has, what the office has and what was confirmed before. Pure. A job that
 * went astray is sent once more, so that the office keeps this side of it too, and then left.
 */
export function planJob(
  mine: LocalJob | undefined,
  theirs: OfficeHead | undefined,
  known: KnownJob | undefined,
): Act {
  if (!theirs) return mine ? { kind: 'push', from: 0, fence: 1 } : { kind: 'nothing' };
  if (!mine) return theirs.holder === 'you' ? { kind: 'restore', from: 0 } : { kind: 'nothing' };
  const from = known && known.count <= mine.count ? known.count : 0;
  if (theirs.agrees === false) {
    return known?.trouble
      ? { kind: 'leave', trouble: known.trouble }
      : { kind: 'push', from: 0, fence: theirs.fence };
  }
  if (mine.count < theirs.count) {
    return theirs.holder === 'you'
      ? { kind: 'restore', from: mine.count }
      : { kind: 'leave', trouble: 'taken' };
  }
  if (mine.count > theirs.count) {
    if (theirs.holder === 'you')
      return { kind: 'push', from: Math.min(from, theirs.count), fence: theirs.fence };
    // Written after somebody else took the job over: the office keeps it as evidence, once.
    if (known?.trouble) return { kind: 'leave', trouble: known.trouble };
    return { kind: 'push', from: theirs.count, fence: known?.fence ?? 0 };
  }
  if (mine.sealed && !theirs.sealed && known?.trouble !== 'refused') return { kind: 'seal' };
  return theirs.holder === 'you' || theirs.sealed ? { kind: 'nothing' } : { kind: 'leave', trouble: 'taken' };
}

/**
 * Needs this job to be asked after? One that is sealed, confirmed whole with its photos and voice notes, and in the log needs
 * nothing any more.
 */
export const isSettled = (mine: MyHead, known: KnownJob | undefined): boolean =>
  known?.logged === true && known.filed === true && known.count === mine.count && known.hash === mine.hash;

/**
 * May a bench forget this job? Only when the office has confirmed every record, every photo and voice note, and the seal,
 * and the seal was shown to be in the log. Nothing else makes it safe, however old the job is.
 */
export const mayForget = (mine: LocalJob, known: KnownJob | undefined): boolean =>
  mine.closed && mine.sealed && known?.sealed === true && known.trouble === null && isSettled(mine, known);

/** Cuts records into batches: no more than so many, no more than so many signs, never none. */
export function batches<T>(
  records: readonly T[],
  sizeOf: (record: T) => number,
  most: { readonly records: number; readonly bytes: number },
): T[][] {
  const cut: T[][] = [];
  let bytes = 0;
  for (const record of records) {
    const size = sizeOf(record);
    const last = cut[cut.length - 1];
    if (!last || last.length >= most.records || bytes + size > most.bytes) {
      cut.push([record]);
      bytes = size;
    } else {
      last.push(record);
      bytes += size;
    }
  }
  return cut;
}
