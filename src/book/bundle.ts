import { utf8ToBytes } from '@noble/hashes/utils.js';
import { zipSync } from 'fflate';
import { canonicalBytes } from '../journal/canonical.ts';
import { JournalError } from '../journal/fault.ts';
import { RECORD_FILE_END, toRecordFile } from '../journal/file.ts';
import { toMoment } from '../journal/moment.ts';
import { type SigningKey, signData } from '../journal/seal.ts';
import { certificateText } from '../procedure/proof/certificate.ts';
import { may, showsEnough } from '../procedure/roles.ts';
import type { Table } from './csv.ts';
import { toCsv } from './csv.ts';
import type { Digest } from './digest.ts';
import { stationHistory } from './history.ts';
import {
  FORMAT,
  LOG,
  type LogFile,
  listed,
  MANIFEST,
  type Manifest,
  SIGNATURE,
  type Signer,
} from './manifest.ts';
import { readMe } from './read-me.ts';
import { type CertificateOf, type ReportWith, reportOf, reportPage } from './report.ts';
import type { LogEntry } from './seal-log.ts';
import { leafOf, logTree } from './seal-log.ts';
import { jobsTable, partsTable, readingsTable, recordsTable, troublesTable } from './tables.ts';

/** A file that belongs to a record: a photo or a voice note, found by the SHA-256 of its bytes. */
export type Attached = ReadonlyMap<string, Uint8Array>;

export interface BundleOrder {
  readonly workshop: string;
  /** Days, UTC, both included. */
  readonly from: string;
  readonly to: string;
  /** All jobs of the book: those of these days go in, all of them say what a station usually takes. */
  readonly digests: readonly Digest[];
  readonly log: readonly LogEntry[];
  readonly attached: Attached;
  readonly certify: ReportWith['certify'];
}

const ENDINGS: Readonly<Record<string, string>> = {
  'image/jpeg': 'jpg',
  'image/png': 'png',
  'image/webp': 'webp',
  'audio/webm': 'webm',
  'audio/ogg': 'ogg',
  'audio/wav': 'wav',
  'audio/mp4': 'm4a',
};

export const endingOf = (media: string): string => ENDINGS[media.split(';')[0] ?? ''] ?? 'bin';

/** The name of a job's files, without an ending: machine, day, and enough of the job's number. */
export const baseName = ({ machine, openedAt, job }: Pick<Digest, 'machine' | 'openedAt' | 'job'>): string =>
  `${machine.id.replaceAll(/[^A-Za-z0-9_-]/g, '_')}-${openedAt.slice(0, 10)}-${job}`;

/** Jobs of which something was recorded on these days. */
export const onDays = ({ openedAt, lastAt }: Digest, from: string, to: string): boolean =>
  lastAt.slice(0, 10) >= from && openedAt.slice(0, 10) <= to;

/** A photo as a data URL, for a report that stands alone. */
export function photosOf(
  { attachments }: Digest,
  attached: Attached,
  base64: (bytes: Uint8Array) => string,
): Map<string, string> {
  return new Map(
    attachments.flatMap(({ sha256, media, kind }) => {
      const bytes = attached.get(sha256);
      return bytes && kind === 'photo' ? [[sha256, `data:${media};base64,${base64(bytes)}`] as const] : [];
    }),
  );
}

function certificateFiles(digests: readonly Digest[], certify: (of: Digest) => CertificateOf) {
  return digests.map((digest): [string, string] => {
    const { id, meta } = digest.definition;
    const { certificate, why } = certify(digest);
    const name = `certificates/${id}-${meta.revision}-${digest.procedureHash.slice(0, 8)}.txt`;
    return [name, certificate ? `${certificateText(certificate)}\n` : `There is none: ${why}\n`];
  });
}

function logFile(
  sealed: readonly Digest[],
  log: readonly LogEntry[],
  files: ReadonlyMap<string, string>,
): LogFile {
  const tree = logTree(log);
  const seals = sealed.map(({ job, sealed: seal }) => {
    const index = log.findIndex((entry) => entry.job === job);
    const leaf = leafOf(seal?.jws ?? '');
    if (index < 0 || log[index]?.leaf !== leaf) throw new JournalError('journal-differs', `seal of ${job}`);
    return { job, file: files.get(job) ?? '', index, leaf, proof: tree.inclusion(index) };
  });
  return { count: log.length, root: tree.root(), seals };
}

const csv = (table: Table): Uint8Array => utf8ToBytes(toCsv(table));

/** The files of a bundle, without its manifest. Names use plain letters only, so that they unpack anywhere. */
function filesOf(order: BundleOrder, base64: (bytes: Uint8Array) => string, madeAt: string) {
  const { digests, log, attached, from, to, workshop, certify } = order;
  const mine = digests.filter((digest) => digest.sealed && onDays(digest, from, to));
  const names = new Map(mine.map((digest) => [digest.job, `records/${baseName(digest)}${RECORD_FILE_END}`]));
  const logged = logFile(mine, log, names);
  const files = new Map<string, Uint8Array>();
  for (const digest of mine) {
    const place = log.findIndex(({ job }) => job === digest.job) + 1;
    const report = reportOf(digest, {
      workshop,
      madeAt,
      history: stationHistory(digests, digest.definition.id, digest.job),
      log: { place, count: logged.count, root: logged.root },
      photos: photosOf(digest, attached, base64),
      certify,
    });
    files.set(
      names.get(digest.job) ?? '',
      utf8ToBytes(toRecordFile(digest.records, digest.sealed?.jws ?? '')),
    );
    files.set(`reports/${baseName(digest)}.html`, utf8ToBytes(reportPage(report)));
    for (const { sha256, media } of digest.attachments) {
      const bytes = attached.get(sha256);
      if (bytes) files.set(`attachments/${sha256}.${endingOf(media)}`, bytes);
    }
  }
  for (const [name, text] of certificateFiles(mine, ({ definition }) => certify(definition)))
    files.set(name, utf8ToBytes(text));
  files.set('tables/jobs.csv', csv(jobsTable(mine)));
  files.set('tables/records.csv', csv(recordsTable(mine)));
  files.set('tables/readings.csv', csv(readingsTable(mine)));
  files.set('tables/nonconformances.csv', csv(troublesTable(mine)));
  files.set('tables/parts.csv', csv(partsTable(mine)));
  files.set(LOG, canonicalBytes(logged));
  files.set('read-me.txt', utf8ToBytes(readMe));
  return { files, log: { count: logged.count, root: logged.root } };
}

/** Who seals a bundle, when (ms since 1970) and with what key. */
export interface Sealing {
  readonly by: Signer;
  readonly at: number;
  readonly key: SigningKey;
  /** Base64 of bytes: the browser and Node each have their own way. */
  base64(bytes: Uint8Array): string;
}

/**
 * Makes a bundle: the records of the sealed jobs of these days with reports, tables, certificates and attachments, and a
 * manifest that the supervisor seals. Throws JournalError `not-authorised` for somebody who may not, `journal-differs`
 * when a seal is not the one in the log, `key-unusable`.
 */
export async function makeBundle(order: BundleOrder, { by, at, key, base64 }: Sealing): Promise<Uint8Array> {
  if (!may(by.role, 'bundle') || !showsEnough(by.how, 'bundle')) throw new JournalError('not-authorised');
  const signedAt = toMoment(at);
  const { files, log } = filesOf(order, base64, signedAt);
  const { from, to, workshop, digests } = order;
  const open = digests.filter((digest) => !digest.sealed && onDays(digest, from, to));
  const manifest: Manifest = {
    format: FORMAT,
    workshop,
    from,
    to,
    signedAt,
    signedBy: { id: by.id, name: by.name, role: by.role, how: by.how },
    meaning: `Review: ${by.name} released the records of these days as complete and true copies`,
    files: [...files]
      .map(([name, content]) => listed(name, content))
      .sort((a, b) => (a.name < b.name ? -1 : 1)),
    log,
    unsealed: open.map(({ job, records, head }) => ({ job, count: records.length, head })),
  };
  const all = new Map(files);
  all.set(MANIFEST, canonicalBytes(manifest));
  all.set(SIGNATURE, utf8ToBytes(`${await signData(manifest, key)}\n`));
  return zipSync(Object.fromEntries(all), { level: 6, mtime: signedAt.slice(0, 19) });
}
