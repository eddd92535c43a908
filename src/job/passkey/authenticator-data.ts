import { bytesToHex } from '../../journal/bytes.ts';

/** What an authenticator states and signs: Web Authentication, Level 3, section 6.1. */
export interface AuthenticatorData {
  /** SHA-256 of the RP ID, lower-case hex. */
  readonly rpIdHash: string;
  readonly userPresent: boolean;
  readonly userVerified: boolean;
  readonly backupEligible: boolean;
  readonly backedUp: boolean;
  /** Counter of signatures; 0 where the authenticator has none. */
  readonly signCount: number;
  /** Credential id, in the answer to an enrolment only. */
  readonly credentialId: Uint8Array | null;
}

const FLAGS = { userPresent: 0x01, userVerified: 0x04, eligible: 0x08, backedUp: 0x10, attested: 0x40 };
const EXTENDED = 0x80;
/** 32 bytes of hash, one of flags, four of counter. */
const HEAD = 37;
const AAGUID = 16;

/** Reads authenticator data; null when it is cut short or goes on where it should end. */
export function readAuthenticatorData(bytes: Uint8Array): AuthenticatorData | null {
  if (bytes.length < HEAD) return null;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const flags = view.getUint8(32);
  const is = (flag: number) => (flags & flag) !== 0;
  let credentialId: Uint8Array | null = null;
  if (is(FLAGS.attested)) {
    const from = HEAD + AAGUID + 2;
    if (bytes.length < from) return null;
    const length = view.getUint16(from - 2);
    // The key follows it: at least a byte.
    if (length === 0 || length > 1023 || bytes.length <= from + length) return null;
    credentialId = bytes.slice(from, from + length);
  } else if (!is(EXTENDED) && bytes.length !== HEAD) return null;
  return {
    rpIdHash: bytesToHex(bytes.subarray(0, 32)),
    userPresent: is(FLAGS.userPresent),
    userVerified: is(FLAGS.userVerified),
    backupEligible: is(FLAGS.eligible),
    backedUp: is(FLAGS.backedUp),
    signCount: view.getUint32(33),
    credentialId,
  };
}
