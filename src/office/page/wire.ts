import type { Interval } from '../../trade/percentile.ts';

/** What the supervisor's page is told. Moments are RFC 3339, UTC, milliseconds. */
export interface LiveRow {
  readonly job: string;
  readonly title: string;
  readonly machine: string;
  readonly station: string;
  readonly says: string;
  readonly worker: string;
  /** Whose confirmation waits for a witness. */
  readonly waitsFor: string | null;
  readonly trouble: string | null;
  readonly paused: boolean;
  readonly disputed: boolean;
  readonly bench: string | null;
  readonly benchSeenAt: string | null;
  readonly fence: number;
  readonly count: number;
  readonly lastAt: string;
}

export interface Filter {
  readonly from?: string;
  readonly to?: string;
  readonly machine?: string;
  readonly procedure?: string;
  readonly outcome?: 'open' | 'complete' | 'stopped';
  readonly text?: string;
  /** Only jobs with findings or disputes. */
  readonly odd?: boolean;
}

export interface BookRow {
  readonly job: string;
  readonly procedure: string;
  readonly title: string;
  readonly revision: number;
  /** The procedure was published by this office. */
  readonly published: boolean;
  readonly machine: string;
  readonly says: string;
  readonly worker: string;
  readonly outcome: 'open' | 'complete' | 'stopped';
  readonly records: number;
  readonly openedAt: string;
  readonly lastAt: string;
  readonly head: string;
  readonly sealed: boolean;
  readonly findings: readonly string[];
  readonly disputed: boolean;
  /** Somebody wrote in it after they were shut out. */
  readonly shutOut: boolean;
  /** Photos and voice notes that its records name, and how many of them are here. */
  readonly files: number;
  readonly filesHere: number;
}

/** A photo or voice note of a job. */
export interface JobFile {
  readonly sha256: string;
  /** The record that names it. */
  readonly seq: number;
  readonly kind: 'photo' | 'voice';
  readonly media: string;
  readonly bytes: number;
  readonly here: boolean;
}

export interface BookPage {
  readonly rows: readonly BookRow[];
  readonly next: string | null;
}

export interface FirstPassRow {
  readonly procedure: string;
  readonly station: string;
  readonly says: string;
  readonly jobs: number;
  readonly passed: number;
  readonly conceded: number;
  readonly limits: Interval;
}

export interface StayRow {
  readonly procedure: string;
  readonly station: string;
  readonly says: string;
  readonly jobs: number;
  /** ms */
  readonly median: number;
  readonly p80: number;
}

export interface Charts {
  readonly firstPass: readonly FirstPassRow[];
  readonly weeks: readonly { readonly week: number; readonly jobs: number; readonly passed: number }[];
  readonly stays: readonly StayRow[];
}

export interface DeviceRow {
  readonly kid: string;
  readonly kind: 'bench' | 'desk';
  readonly name: string;
  readonly enrolledAt: string;
  readonly seenAt: string | null;
  readonly revokedAt: string | null;
  readonly revokedWhy: string | null;
}

/** A person of the published workshop. */
export interface PersonRow {
  readonly id: string;
  readonly name: string;
  readonly role: 'mechanic' | 'apprentice' | 'supervisor';
  readonly shutOutAt: string | null;
  readonly shutOutWhy: string | null;
  /** A PIN was set at a desk. */
  readonly hasPin: boolean;
}
