/** Everything that can go wrong with a passkey: a closed list of codes, each with one plain sentence that says what to do. */
const sentences = {
  'passkey-missing': 'Passkeys cannot be used in this browser or at this address: give the PIN.',
  'passkey-unknown':
    'No passkey of this person is enrolled on this bench: give the PIN, or enrol one under “People” on the shelf.',
  'passkey-cancelled': 'No passkey was shown: try again, or give the PIN.',
  'passkey-other': 'That is not a passkey of the person who is asked for: show theirs, or give the PIN.',
  'passkey-stale': 'That answer belongs to an earlier question: show the passkey again.',
  'passkey-elsewhere':
    'That answer was made for another page: open the app at its own address, and tell the supervisor.',
  'passkey-unverified':
    'The passkey did not make sure who holds it: set a PIN or finger on it, or give the PIN of this bench.',
  'passkey-signature': 'The signature of the passkey is not right: try again, or give the PIN.',
  'passkey-copied':
    'This passkey may have been copied, because its counter went back: give the PIN, take the passkey away under “People”, and tell the supervisor.',
  'passkey-unreadable': 'The answer of the passkey cannot be read: try again, or use another authenticator.',
  'passkey-twice': 'This authenticator is enrolled for this person already: use it, or take another one.',
} as const;

export type PasskeyCode = keyof typeof sentences;

export const passkeySentence = (code: PasskeyCode): string => sentences[code];

/** A fault of a passkey on its way up. `message` is one plain sentence that says what to do. */
export class PasskeyError extends Error {
  readonly code: PasskeyCode;

  constructor(code: PasskeyCode, cause?: unknown) {
    super(sentences[code], cause === undefined ? {} : { cause });
    this.name = 'PasskeyError';
    this.code = code;
  }
}

/** Those that say something about the person, and slow further tries down; to have shown nothing does not. */
const FAILURES: readonly PasskeyCode[] = [
  'passkey-other',
  'passkey-stale',
  'passkey-elsewhere',
  'passkey-unverified',
  'passkey-signature',
  'passkey-copied',
  'passkey-unreadable',
];

export const isFailure = (code: PasskeyCode): boolean => FAILURES.includes(code);
