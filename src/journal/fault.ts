/** Everything that can go wrong with a journal: a closed list of codes, each with one plain sentence that says what to do. */
const sentences = {
  'head-moved': 'The journal of this job has moved on or was cut: load the job again before you go on.',
  'storage-full':
    'There is no room left on this device: export finished records, free some space, then do it again.',
  'storage-failed':
    'The record could not be written to this device: do it again, and restart the app if it fails twice.',
  'storage-blocked': 'Another window keeps the records from opening: close the other windows of this app.',
  'already-sealed': 'This job is sealed already: its record can be read and exported, not changed.',
  'not-finished': 'This job is still open: finish it or stop it before its record is sealed.',
  'not-sealed': 'This job is not sealed yet: seal it before its record is exported.',
  locked: 'This job is being done in another window: go on there, or close that window first.',
  'journal-cut':
    'Records of this job are missing from this device: export what is left and have the supervisor look.',
  'journal-differs':
    'The records of this job are not those that were written: export them and have the supervisor look.',
  'not-json':
    'This cannot be kept in a record, which holds plain JSON only: leave it out, or give it as text or a number.',
  'wrong-moment':
    'The time of a record must be a whole number of milliseconds since 1970: set the clock of this device.',
  'not-a-record-file':
    'This is not a record file of this app: choose a file whose name ends in .holdfast.jsonl.',
  'not-secure':
    'The browser gives no keys to a page that is not secure: open the app by https, or on this device itself.',
  'key-unusable':
    "This device's signing key cannot be used: check the browser's storage permission, then open the app again.",
  'log-not-written':
    'The record is sealed and kept, but the log of seals could not be written: tap to try again, or open the record book.',
  'not-verified':
    'This file could not be looked at to its end: choose it again, or verify it on the command line.',
  'verify-stopped': 'You stopped before this file was looked at: choose it again to have it verified.',
  'not-authorised':
    'Only a supervisor may seal a bundle of records, by PIN or passkey: have the supervisor sign.',
} as const;

export type JournalCode = keyof typeof sentences;

export const JOURNAL_CODES = Object.keys(sentences) as JournalCode[];

/** A fault of the journal on its way up. `message` is one plain sentence that says what to do. */
export class JournalError extends Error {
  readonly code: JournalCode;
  /** What exactly was met, for the person who looks into it: never shown first. */
  readonly detail: string | null;

  constructor(code: JournalCode, detail: string | null = null, cause?: unknown) {
    super(sentences[code], cause === undefined ? {} : { cause });
    this.name = 'JournalError';
    this.code = code;
    this.detail = detail;
  }
}
