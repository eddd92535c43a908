import { createHash } from 'node:crypto';

/** SHA-256 in lower-case hex, by Node's own code: many times faster than the portable one, with the same result. */
export const sha256 = (data: string | Uint8Array): string => createHash('sha256').update(data).digest('hex');
