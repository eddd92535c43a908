import type { KnownJob } from './plan.ts';
import type { Distrust } from './trust.ts';

/** What a bench remembers of its office between rounds. */
export interface SyncState {
  /** Thumbprint of the office's key, kept since enrolment. */
  readonly office: string;
  /** Name under which this bench is enrolled. */
  readonly name: string;
  readonly jobs: Readonly<Record<string, KnownJob>>;
  /** The last root of the log of seals that was seen and believed. */
  readonly seen: { readonly size: number; readonly root: string } | null;
  readonly settings: number;
  /** What must be shown to people until a supervisor has looked. */
  readonly complaints: readonly Complaint[];
  /** The office shut this bench out, and signed that. */
  readonly shutOut?: { readonly at: string; readonly why: string };
}

export interface Complaint {
  readonly code:
    | Distrust['code']
    | 'restored'
    | 'forked'
    | 'taken'
    | 'refused'
    | 'file-lost'
    | 'file-refused'
    | 'procedure-refused';
  readonly job: string | null;
  readonly says: string;
  /** RFC 3339. */
  readonly at: string;
}

export const joined = (office: string, name: string): SyncState => ({
  office,
  name,
  jobs: {},
  seen: null,
  settings: 0,
  complaints: [],
});

const FIRST: KnownJob = {
  count: 0,
  hash: '',
  fence: 1,
  sealed: false,
  logged: false,
  filed: false,
  trouble: null,
};

/** Most complaints kept: the first of each kind and job say what happened. */
const MOST = 50;

/** Something learnt about one job. */
export function learnt(state: SyncState, job: string, what: Partial<KnownJob>): SyncState {
  return { ...state, jobs: { ...state.jobs, [job]: { ...(state.jobs[job] ?? FIRST), ...what } } };
}

/** A complaint, unless it is there already. */
export function complained(state: SyncState, complaint: Complaint): SyncState {
  // Several procedures can be refused, each for its own reason.
  const same = (one: Complaint) =>
    one.code === complaint.code &&
    one.job === complaint.job &&
    (one.code !== 'procedure-refused' || one.says === complaint.says);
  const before = state.complaints.some(same);
  if (before || state.complaints.length >= MOST) return state;
  return { ...state, complaints: [...state.complaints, complaint] };
}
