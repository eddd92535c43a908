import { canonicalText } from '../../src/journal/canonical.ts';
import { toRecordFile } from '../../src/journal/file.ts';
import type { FindingCode } from '../../src/journal/finding.ts';
import { hashOf } from '../../src/journal/hash.ts';
import { toMoment } from '../../src/journal/moment.ts';
import type { JournalRecord, OpenedEvent } from '../../src/journal/record.ts';
import type { SealPayload, SigningKey } from '../../src/journal/seal.ts';
import { signSeal } from '../../src/journal/seal.ts';
import { rechained } from './play.ts';
import type { Draw } from './random-jobs.ts';
import { pick } from './random-jobs.ts';

/** A good record and what a forger has besides. */
export interface Case {
  readonly records: readonly JournalRecord[];
  readonly seal: string;
  readonly file: string;
  /** The seal of another job, by the same device. */
  readonly otherSeal: string;
  /** The device's own key: for the forger who has the bench to himself. */
  readonly key: SigningKey;
  readonly foreignKey: SigningKey;
  readonly draw: Draw;
}

export interface Tampering {
  readonly what: string;
  /** What the first finding may be. */
  readonly reasons: readonly FindingCode[];
  /** The forged file, or null where this record offers nothing to forge in this way. */
  make(given: Case): Promise<string | Uint8Array | null> | string | Uint8Array | null;
}

const lines: readonly FindingCode[] = [
  'not-utf8',
  'not-json',
  'not-canonical',
  'wrong-fields',
  'no-line-end',
  'seal-not-last',
];
const content: readonly FindingCode[] = [
  ...lines,
  'hash-wrong',
  'prev-wrong',
  'seq-wrong',
  'job-differs',
  'not-opened',
];
const sealing: readonly FindingCode[] = ['seal-unreadable', 'seal-broken', 'seal-missing', 'key-id-wrong'];

export const at = (records: readonly JournalRecord[], n: number) => records[n] as JournalRecord;
const bytesOf = (file: string) => new TextEncoder().encode(file);

export const openedOf = (records: readonly JournalRecord[]) => at(records, 0).event as OpenedEvent;

/** Seals whatever it is given, also what the app would not. */
export async function sealAnyway(records: readonly JournalRecord[], key: SigningKey): Promise<string> {
  const last = records[records.length - 1] as JournalRecord;
  const payload = {
    job: last.job,
    count: records.length,
    head: last.hash,
    outcome: last.station as SealPayload['outcome'],
    sealedAt: toMoment(Date.parse(last.at) + 1000),
    sealedBy: openedOf(records).people[0]?.id ?? '',
  };
  return toRecordFile(records, await signSeal(payload, key));
}

const somewhere = ({ records, draw }: Case) => 1 + draw(records.length - 1);

/** An edit of one field, as somebody would who wants a record to say something else. */
function edited(record: JournalRecord, draw: Draw): JournalRecord {
  const changes: ((record: JournalRecord) => JournalRecord)[] = [
    (one) => ({ ...one, at: toMoment(Date.parse(one.at) + 1000 + draw(9_000_000)) }),
    (one) => ({ ...one, by: `${one.by}x` }),
    (one) => ({ ...one, via: one.via === 'voice' ? 'pedal' : 'voice' }),
    (one) => ({ ...one, station: `${one.station}x` }),
    (one) => ({ ...one, event: { type: 'note', says: `Forged ${draw(1000)}.` } }),
  ];
  return pick(draw, changes)(record);
}

/** What damage does, and a forger who lacks the device's key. */
export const outsideTamperings: readonly Tampering[] = [
  {
    what: 'one bit flipped',
    reasons: [...content, ...sealing],
    make: ({ file, draw }) => {
      const bytes = bytesOf(file);
      const place = draw(bytes.length);
      bytes[place] = (bytes[place] ?? 0) ^ (1 << draw(8));
      return bytes;
    },
  },
  {
    what: 'one bit of the seal flipped',
    reasons: [...lines, ...sealing],
    make: ({ file, seal, draw }) => {
      const bytes = bytesOf(file);
      const place = bytes.length - 1 - draw(seal.length + 11);
      bytes[place] = (bytes[place] ?? 0) ^ (1 << draw(8));
      return bytes;
    },
  },
  {
    what: 'a byte dropped',
    reasons: [...content, ...sealing],
    make: ({ file, draw }) => {
      const bytes = bytesOf(file);
      const place = draw(bytes.length);
      return Uint8Array.from([...bytes.subarray(0, place), ...bytes.subarray(place + 1)]);
    },
  },
  {
    what: 'a record dropped',
    reasons: ['seq-wrong', 'not-opened', 'seal-differs'],
    make: ({ records, seal, draw }) => toRecordFile(records.toSpliced(draw(records.length), 1), seal),
  },
  {
    what: 'two records swapped',
    reasons: ['seq-wrong'],
    make: (given) => {
      const { records, seal } = given;
      const [a, b] = [somewhere(given), somewhere(given)];
      return a === b ? null : toRecordFile(records.with(a, at(records, b)).with(b, at(records, a)), seal);
    },
  },
  {
    what: 'a record repeated',
    reasons: ['seq-wrong', 'opened-again', 'seal-differs'],
    make: ({ records, seal, draw }) => {
      const n = draw(records.length);
      return toRecordFile(records.toSpliced(n, 0, at(records, n)), seal);
    },
  },
  {
    what: 'a record edited',
    reasons: ['hash-wrong'],
    make: (given) => {
      const n = somewhere(given);
      return toRecordFile(given.records.with(n, edited(at(given.records, n), given.draw)), given.seal);
    },
  },
  {
    what: 'a record edited and hashed anew',
    reasons: ['prev-wrong', 'seal-differs'],
    make: (given) => {
      const n = somewhere(given);
      const { hash: _, ...rest } = edited(at(given.records, n), given.draw);
      return toRecordFile(given.records.with(n, { ...rest, hash: hashOf(rest) }), given.seal);
    },
  },
  {
    what: 'edited, chained anew, the old seal kept',
    reasons: ['seal-differs'],
    make: (given) => {
      const n = somewhere(given);
      const forged = rechained(given.records.with(n, edited(at(given.records, n), given.draw)));
      return toRecordFile(forged, given.seal);
    },
  },
  {
    what: 'cut after a line',
    reasons: ['seal-missing', 'file-empty'],
    make: ({ records, file, draw }) =>
      `${file
        .split('\n')
        .slice(0, draw(records.length) + 1)
        .join('\n')}\n`,
  },
  {
    what: 'cut within a line',
    reasons: ['no-line-end'],
    make: ({ file, draw }) => {
      const cut = file.slice(0, 1 + draw(file.length - 2));
      return cut.endsWith('\n') ? cut.slice(0, -1) : cut;
    },
  },
  {
    what: 'tail cut, the old seal put behind',
    reasons: ['seal-differs'],
    make: (given) => toRecordFile(given.records.slice(0, somewhere(given)), given.seal),
  },
  {
    what: 'whole and unchanged, sealed with a foreign key',
    reasons: ['key-not-enrolled'],
    make: ({ records, foreignKey }) => sealAnyway(records, foreignKey),
  },
  {
    what: 'edited, chained anew, sealed with a foreign key',
    reasons: ['key-not-enrolled'],
    make: (given) => {
      // Not the last: what it ends with is in the seal too, and a seal says no other end than the two there are.
      const n = 1 + given.draw(given.records.length - 2);
      return sealAnyway(
        rechained(given.records.with(n, edited(at(given.records, n), given.draw))),
        given.foreignKey,
      );
    },
  },
  {
    what: 'the seal of another job of the same bench',
    reasons: ['seal-differs'],
    make: ({ records, otherSeal }) => toRecordFile(records, otherSeal),
  },
  {
    what: 'the foreign key behind the key id of an enrolled one',
    reasons: ['key-id-wrong'],
    make: ({ records, key, foreignKey }) => sealAnyway(records, { ...foreignKey, kid: key.kid }),
  },
  {
    what: 'a seal without a signature',
    reasons: ['seal-unreadable'],
    make: ({ records, seal }) => {
      const header = Buffer.from(canonicalText({ alg: 'none' })).toString('base64url');
      return toRecordFile(records, `${header}.${seal.split('.')[1]}.`);
    },
  },
];
