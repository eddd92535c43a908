import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import { canonicalBytes } from './canonical.ts';

/** SHA-256 (FIPS 180-4) in lower-case hex. Synchronous, because nothing may be awaited inside a database transaction. */
export const sha256Hex = (bytes: Uint8Array): string => bytesToHex(sha256(bytes));

/** SHA-256 of the RFC 8785 form of plain JSON data: how a procedure's revision is known. Throws JournalError `not-json`. */
export const hashOf = (value: unknown): string => sha256Hex(canonicalBytes(value));
