import type { MachineCard, SentPin, WorkshopPart } from '../job/workshop.ts';
import type { PublicJwk } from '../journal/seal.ts';
import type { Person, Tool } from '../procedure/context.ts';

/** Where the office's questions are asked. */
export const API = '/api';

/** Most records, and most bytes before compression, in one batch; the opening of a job carries its whole procedure. */
export const MOST_RECORDS = 500;
export const MOST_BYTES = 4 * 1024 * 1024;
/** Most bytes of any body as it travels. */
export const MOST_SENT = 2 * 1024 * 1024;
/** Most jobs that are asked after at once. */
export const MOST_HEADS = 500;
/** Largest photo or voice note, bytes; it travels in parts of so many. */
export const MOST_FILE = 16 * 1024 * 1024;
export const FILE_PART = 512 * 1024;
/** What a photo or voice note may be: what cameras and microphones of browsers give. */
export const FILE_MEDIA: readonly string[] = [
  'image/jpeg',
  'image/png',
  'image/webp',
  'audio/webm',
  'audio/ogg',
  'audio/mp4',
  'audio/wav',
];
/** Most files that are asked after at once. */
export const MOST_FILES_ASKED = 500;
/** How far the clock of a device may be off, ms. */
export const CLOCK_SLACK_MS = 5 * 60_000;

export type DeviceKind = 'bench' | 'desk';

/** How far a job has come, as a bench has it. */
export interface MyHead {
  readonly job: string;
  readonly count: number;
  readonly hash: string;
}

/** How far a job has come, as the office has it. */
export interface OfficeHead {
  readonly job: string;
  readonly count: number;
  readonly head: string;
  /** Number of the lease: it grows with every take-over, and a write under an older one is refused. */
  readonly fence: number;
  readonly holder: 'you' | 'other' | 'nobody';
  /** Is the bench's last record the office's at that place? null when the office has not come so far. */
  readonly agrees: boolean | null;
  readonly sealed: boolean;
}

export interface Confirmed {
  readonly job: string;
  readonly count: number;
  readonly head: string;
  readonly fence: number;
}

/** A photo or voice note that records name and of which the office has only so many bytes. */
export interface LackingFile {
  readonly sha256: string;
  readonly have: number;
}

/** How far a file has come. */
export interface KeptFile extends LackingFile {
  readonly whole: boolean;
}

/** A job that another bench may go on with. */
export interface Offered {
  readonly job: string;
  readonly title: string;
  readonly machine: string;
  readonly station: string;
  readonly by: string;
  readonly bench: string;
  readonly fence: number;
  readonly count: number;
  /** RFC 3339. */
  readonly lastAt: string;
}

/** The root of the log of seals, as the office signs it. */
export interface SignedRoot {
  readonly size: number;
  readonly root: string;
  /** RFC 3339, UTC, milliseconds. */
  readonly at: string;
}

export interface Included {
  readonly job: string;
  readonly index: number;
  readonly size: number;
  readonly leaf: string;
  readonly proof: readonly string[];
}

/** What the office publishes for its benches, signed as a whole. */
export interface Settings {
  /** Grows with every change; a bench takes no older one. */
  readonly version: number;
  readonly at: string;
  readonly workshop: string;
  readonly machines: readonly MachineCard[];
  readonly people: readonly Person[];
  readonly tools: readonly Tool[];
  readonly parts?: readonly WorkshopPart[];
  readonly badges: Readonly<Record<string, string>>;
  readonly procedures: readonly PublishedProcedure[];
  /** Thumbprints of the keys that were shut out: their seals from then on count for nothing. */
  readonly revoked: readonly string[];
  /** Ids of people who were shut out: they sign on, witness and go on with jobs no more. */
  readonly shutOut?: readonly string[];
  /** PINs that the supervisor's desk set, by person. */
  readonly pins?: Readonly<Record<string, SentPin>>;
}

/** What the office signs for a bench that was shut out, so that nobody else can stop a bench by saying so. */
export interface ShutOut {
  /** Thumbprint of the bench's key. */
  readonly bench: string;
  readonly why: string;
  /** RFC 3339. */
  readonly at: string;
}

export interface PublishedProcedure {
  readonly id: string;
  readonly title: string;
  readonly revision: number;
  /** SHA-256 of its RFC 8785 form. */
  readonly hash: string;
  /** RFC 3339. */
  readonly publishedAt?: string;
}

export interface Enrolled {
  readonly kind: DeviceKind;
  readonly name: string;
  /** The office's own key: what comes down is signed with it. */
  readonly office: PublicJwk;
}
