import { CSV_NOTES } from './csv.ts';

/** What stands in every bundle for whoever opens it without the app. */
export const readMe = [
  'Records of work done on machines, put together by Holdfast.',
  '',
  'records/       one file a job: JSON lines chained by SHA-256, the last line its seal',
  'reports/       the same for people, to be read and printed: it repeats the record and does not replace it',
  'attachments/   photos and voice notes, named by the SHA-256 of their bytes, as the records name them',
  'certificates/  what was proved of each procedure: which hold points no finished job can lack',
  'tables/        the records as tables',
  'log.json       where the seal of each record stands in the log of seals, with the proof',
  'manifest.json  every file with its size and SHA-256, who sealed the bundle, when and as what, the root of the log',
  'manifest.jws   the signature: compact JWS (RFC 7515), ES256, over the very bytes of manifest.json',
  '',
  'To check it: npm run verify -- FILE.zip --keys KEYS, where KEYS are the public keys of the workshop (a JWK Set).',
  'To check it without Holdfast: verify manifest.jws with a JOSE library and the key in its header (its kid is the',
  'RFC 7638 thumbprint: hold it against the key that the workshop gave you by another way); its payload must be the',
  'bytes of manifest.json; then the SHA-256 of each file. A leaf of the log is the SHA-256 of 00 and the seal of the',
  'record (its characters as bytes); nodes are the SHA-256 of 01, left and right (RFC 9162, section 2.1).',
  '',
  ...CSV_NOTES,
  '',
  'Nothing here replaces the service manual, local rules or a licensed inspection.',
  '',
].join('\r\n');
