/**
 * Everything that an office answers instead of what was asked: a closed list, each with its HTTP status and one plain
 * sentence that says what to do. Benches know the same list, so that both sides mean the same.
 */
const answers = {
  // The request itself
  'bad-request': [400, 'The office could not read this request: update the app on this device.'],
  'not-json': [400, 'The body of the request is not JSON: update the app on this device.'],
  'wrong-type': [415, 'The office does not take a body of this kind: send JSON, or JSON lines for records.'],
  'no-such-path': [404, 'The office has nothing at this address: check it, or update the app.'],
  'wrong-method': [405, 'This address does not take that method: update the app on this device.'],
  'too-large': [413, 'This is more than the office takes at once: send it in smaller parts.'],
  'too-many': [429, 'Too many requests in a short time: wait as long as the answer says, then go on.'],
  // Who asks
  'not-signed': [401, 'The office answers only enrolled devices: enrol this one with a code first.'],
  'signature-wrong': [401, 'The signature does not fit the request: enrol this device anew.'],
  'clock-off': [
    401,
    'The clock of this device differs too much from that of the office: set it, or let the app correct for it.',
  ],
  'used-twice': [401, 'This very request was made before: make a new one.'],
  'other-office': [403, 'This device is enrolled with another office: enrol it here first.'],
  'key-unknown': [403, 'This device is not enrolled here: enrol it with a code from the supervisor.'],
  'key-revoked': [403, 'This device was shut out by the supervisor: ask why before enrolling it anew.'],
  'not-allowed': [403, 'This device may not do that: it is for the supervisor’s desk.'],
  'code-wrong': [403, 'This code is unknown, used or too old: ask the supervisor for a new one.'],
  'name-taken': [409, 'Another device has this name: choose another one.'],
  'no-such-person': [404, 'Nobody of that name is in the published workshop: publish the workshop first.'],
  // Records
  'no-such-job': [404, 'The office has no such job: send its records first.'],
  'batch-wrong': [422, 'A line of this batch is no record: export the job and have the supervisor look.'],
  'chain-broken': [
    422,
    'The records of this batch do not follow one another: export the job and have it looked at.',
  ],
  'procedure-unusable': [
    422,
    'The procedure in this job cannot be run: export the job and have it looked at.',
  ],
  gap: [409, 'Records before these are missing at the office: send on from where it says.'],
  fork: [
    409,
    'The office has other records of this job, from another bench: both are kept, the supervisor must look.',
  ],
  rewrite: [
    409,
    'The office has other records of this job from this same bench: both are kept, the supervisor must look.',
  ],
  'fence-old': [
    409,
    'This job was taken over by another bench: what was added here is kept as evidence, not as record.',
  ],
  sealed: [409, 'This job is sealed: nothing can be added to it.'],
  'not-paused': [
    409,
    'This job is being worked on: pause it there first, or have the supervisor release it.',
  ],
  'not-finished': [409, 'This job is not finished at the office: send its last records before its seal.'],
  'seal-wrong': [422, 'The seal does not fit the records at the office: the supervisor must look.'],
  // Photos and voice notes
  'file-not-named': [404, 'No record at the office names this file: send the records of its job first.'],
  'no-such-file': [
    404,
    'The office does not have this file yet: the bench that took it must reach the office.',
  ],
  'file-gap': [409, 'Earlier parts of this file are missing at the office: send on from where it says.'],
  'file-differs': [
    422,
    'These bytes are not the file that the record names: nothing of them was kept, send the file from its beginning.',
  ],
  'file-kind': [
    415,
    'The office takes no file of this kind: keep it on the bench and have the supervisor look.',
  ],
  // What comes down
  'settings-wrong': [422, 'These settings are not complete: mend what the answer names.'],
  'procedure-not-proved': [
    422,
    'This procedure does not hold its proof: mend what the answer names, then publish it.',
  ],
  'revision-taken': [
    409,
    'This revision is published already and never changes: publish it under a new number.',
  ],
  // The office itself
  'storage-full': [507, 'The office has no room left: everything stays on the bench until there is.'],
  'database-away': [503, 'The office cannot reach its database just now: it will be tried again by itself.'],
  'office-fault': [
    500,
    'Something went wrong in the office: everything stays on the bench and is tried again.',
  ],
} as const satisfies Record<string, readonly [number, string]>;

export type OfficeCode = keyof typeof answers;

export const OFFICE_CODES = Object.keys(answers) as OfficeCode[];
export const statusOf = (code: OfficeCode): number => answers[code][0];
export const sentenceOf = (code: OfficeCode): string => answers[code][1];
export const isOfficeCode = (code: unknown): code is OfficeCode =>
  typeof code === 'string' && Object.hasOwn(answers, code);

/** What an answer may say besides its code: where the chain stands, which line is wrong, how long to wait. */
export type Detail = Readonly<Record<string, string | number | boolean | null | readonly string[]>>;

/** An answer of the office that is not what was asked for. */
export class OfficeError extends Error {
  readonly code: OfficeCode;
  readonly detail: Detail;

  constructor(code: OfficeCode, detail: Detail = {}, cause?: unknown) {
    super(sentenceOf(code), cause === undefined ? {} : { cause });
    this.name = 'OfficeError';
    this.code = code;
    this.detail = detail;
  }
}

/** Codes after which the same request may well succeed later; all others need somebody to look. */
const PASSING: readonly OfficeCode[] = [
  'too-many',
  'storage-full',
  'database-away',
  'office-fault',
  'used-twice',
];
export const mayPassLater = (code: OfficeCode): boolean => PASSING.includes(code);
