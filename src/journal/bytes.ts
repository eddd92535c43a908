/* Bytes and their spellings, from the libraries that the journal stands on, for the floors above it that stand on none. */
export { sha256 } from '@noble/hashes/sha2.js';
export { bytesToHex, concatBytes, utf8ToBytes } from '@noble/hashes/utils.js';
export { base64url } from 'jose';
