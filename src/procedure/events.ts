import type { FactValue } from './facts.ts';

/** How an event reached the app. */
export type Via = 'voice' | 'pedal' | 'keys' | 'touch' | 'gauge' | 'scanner' | 'clock' | 'system';

/** What was given to open a hold point. */
export type Evidence =
  | { readonly kind: 'press'; readonly heldMs: number }
  | {
      readonly kind: 'phrase';
      readonly phrase: string;
      /** Score of the recogniser and of its second-best phrase, 0 to 1. */
      readonly score?: number;
      readonly runnerUp?: string;
      readonly runnerUpScore?: number;
    };

/** How a person showed who they are: a badge that was scanned, a PIN, a passkey. */
export type SignOnWay = 'badge' | 'pin' | 'passkey';

/** A file that belongs to the record and travels beside it: its SHA-256 binds it to the journal. */
export interface Attachment {
  readonly kind: 'photo' | 'voice';
  /** SHA-256 of the file's bytes, lower-case hex. */
  readonly sha256: string;
  readonly bytes: number;
  /** Media type, such as `image/jpeg`. */
  readonly media: string;
}

/** Everything a person or the clock can do to a job. Payloads are plain JSON. */
export type JobEvent =
  | { readonly type: 'advance' }
  | {
      readonly type: 'callOff';
      readonly item: string;
      readonly toolId?: string;
      /** What the part's label says, as it was scanned or typed. */
      readonly label?: string;
    }
  /** The label of the part that is fitted at this station, as it was scanned or typed. */
  | { readonly type: 'scan'; readonly label: string }
  | { readonly type: 'choose'; readonly value: FactValue }
  | { readonly type: 'reading'; readonly value: number; readonly unit: string; readonly toolId?: string }
  | { readonly type: 'lookUp'; readonly figure: string; readonly value: number; readonly unit: string }
  | {
      readonly type: 'accept';
      readonly inputs: Readonly<Record<string, unknown>>;
      readonly output: Readonly<Record<string, unknown>>;
    }
  | { readonly type: 'cannot'; readonly code: string }
  | { readonly type: 'confirm'; readonly evidence: Evidence }
  | { readonly type: 'witness'; readonly evidence: Evidence }
  | { readonly type: 'fail'; readonly says?: string }
  | { readonly type: 'open'; readonly station: string }
  | { readonly type: 'pause'; readonly says?: string }
  | { readonly type: 'resume' }
  | { readonly type: 'note'; readonly says: string }
  | { readonly type: 'stop'; readonly says: string }
  | { readonly type: 'signOn'; readonly how: SignOnWay }
  | { readonly type: 'handOver'; readonly to: string }
  | { readonly type: 'trouble'; readonly says: string }
  | ({ readonly type: 'attach' } & Attachment)
  | {
      readonly type: 'decide';
      readonly decision: 'rework' | 'scrap';
      readonly station: string;
      readonly says: string;
    }
  | { readonly type: 'decide'; readonly decision: 'concession'; readonly says: string };

/** An event as the machine sees it: who, when (ms since 1970, UTC) and by which way. */
export type Stamped<E extends JobEvent = JobEvent> = E & {
  readonly at: number;
  readonly by: string;
  readonly via: Via;
};

export const EVENT_TYPES: readonly JobEvent['type'][] = [
  'advance',
  'callOff',
  'scan',
  'choose',
  'reading',
  'lookUp',
  'accept',
  'cannot',
  'confirm',
  'witness',
  'fail',
  'open',
  'pause',
  'resume',
  'note',
  'stop',
  'signOn',
  'handOver',
  'trouble',
  'attach',
  'decide',
];
