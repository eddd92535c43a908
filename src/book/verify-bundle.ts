import type { JSONWebKeySet } from 'jose';
import { RECORD_FILE_END, readRecordFile } from '../journal/file.ts';
import { hashOf, sha256Hex } from '../journal/hash.ts';
import { decodeUtf8 } from '../journal/utf8.ts';
import { type Report, type VerifyOptions, verifyFile } from '../journal/verify.ts';
import { enrolled } from '../journal/verify-seal.ts';
import { may, showsEnough } from '../procedure/roles.ts';
import { includes } from './log.ts';
import { LOG, type LogFile, MANIFEST, type Manifest, openManifest, readLog, SIGNATURE } from './manifest.ts';
import { leafOf } from './seal-log.ts';
import type { BundleCode, BundleFinding } from './unpack.ts';
import { bundleFinding, unpack } from './unpack.ts';
import { counted } from './words.ts';

export interface BundleReport {
  /** Nothing was found, in the bundle or in any of its records. */
  readonly holds: boolean;
  readonly findings: readonly BundleFinding[];
  /** Worth knowing, and no fault. */
  readonly remarks: readonly string[];
  readonly records: readonly { readonly file: string; readonly report: Report }[];
  /** Only worth believing when the report holds. */
  readonly manifest: Manifest | null;
  readonly kid: string | null;
}

type Files = ReadonlyMap<string, Uint8Array>;
type Add = (file: string, code: BundleCode, says: string) => void;

const textOf = (files: Files, name: string): string | null => {
  const bytes = files.get(name);
  return bytes ? decodeUtf8(bytes) : null;
};

/** Is the manifest signed, by a key of the workshop, for somebody who may? Null where it cannot be read at all. */
async function signedManifest(files: Files, keys: JSONWebKeySet | undefined, add: Add) {
  const jws = textOf(files, SIGNATURE);
  const manifest = textOf(files, MANIFEST);
  if (jws === null || manifest === null) {
    add(
      jws === null ? SIGNATURE : MANIFEST,
      'manifest-missing',
      'The bundle has no signed list of its files.',
    );
    return null;
  }
  const read = await openManifest(jws);
  if (read.text === undefined) {
    add(SIGNATURE, read.code as BundleCode, read.says);
    return null;
  }
  if (read.text !== manifest) add(MANIFEST, 'manifest-differs', 'The list is not the one that was signed.');
  if (keys && !(await enrolled(keys)).has(read.kid))
    add(SIGNATURE, 'key-not-enrolled', `The key ${read.kid} that sealed the bundle is not enrolled.`);
  const { signedBy } = read.payload;
  if (!may(signedBy.role, 'bundle'))
    add(MANIFEST, 'not-authorised', `${signedBy.name} (${signedBy.role}) may not seal a bundle.`);
  if (!showsEnough(signedBy.how, 'bundle'))
    add(
      MANIFEST,
      'not-authorised',
      `${signedBy.name} signed by ${signedBy.how}: a bundle wants a PIN or a passkey.`,
    );
  return read;
}

/** Is every file listed, and as it is listed? */
function checkFiles(files: Files, { files: wanted }: Manifest, add: Add): void {
  const names = new Set<string>();
  for (const { name, bytes, sha256 } of wanted) {
    const content = files.get(name);
    if (names.has(name)) add(name, 'name-twice', 'The list has this file twice.');
    names.add(name);
    if (!content) add(name, 'file-missing', 'This file is listed and is not in the bundle.');
    else if (content.length !== bytes || sha256Hex(content) !== sha256)
      add(name, 'file-differs', 'This file is not the one that was sealed.');
  }
  for (const name of files.keys())
    if (!names.has(name) && name !== MANIFEST && name !== SIGNATURE)
      add(name, 'file-unlisted', 'This file was added after the bundle was sealed.');
}

function logOf(files: Files, manifest: Manifest, add: Add): LogFile | null {
  const text = textOf(files, LOG);
  const read = text === null ? { says: 'It is missing.' } : readLog(text);
  if (!('log' in read) || !read.log) {
    add(LOG, 'log-unreadable', `The log of seals cannot be read: ${'says' in read ? read.says : ''}`);
    return null;
  }
  const { count, root } = read.log;
  if (count !== manifest.log.count || root !== manifest.log.root)
    add(LOG, 'log-differs', 'The log of seals is not the one that was sealed.');
  return read.log;
}

/** Is the seal of this record in the log, where the log says? */
function checkLogged(file: string, seal: string | null, log: LogFile, add: Add): void {
  const entry = log.seals.find((one) => one.file === file);
  const { count: size, root } = log;
  const leaf = seal === null ? '' : leafOf(seal);
  const inside = entry && entry.leaf === leaf && includes({ ...entry, size, root });
  if (!inside) add(file, 'not-in-log', 'The seal of this record is not in the log of seals of the bench.');
}

/** Attachments are named by their hash: is each one that a record names there, and what it says? */
function checkAttachments(file: string, content: Uint8Array, files: Files, add: Add): string[] {
  return readRecordFile(content).records.flatMap(({ event, outcome, seq }): string[] => {
    if (event.type !== 'attach' || outcome === 'refused') return [];
    const { sha256, bytes } = event;
    const name = [...files.keys()].find((one) => one.startsWith(`attachments/${sha256}.`));
    const found = name === undefined ? undefined : files.get(name);
    if (!found) return [`${file}: record ${seq} names a ${event.kind} that is not in the bundle.`];
    if (found.length !== bytes || sha256Hex(found) !== sha256)
      add(name ?? '', 'attachment-differs', `This is not the file that record ${seq} of ${file} names.`);
    return [];
  });
}

/** Proves each procedure once: the records of a bundle share a few. */
function remembered(prove: VerifyOptions['prove']): Pick<VerifyOptions, 'prove'> {
  if (!prove) return {};
  const known = new Map<string, ReturnType<typeof prove>>();
  return {
    prove(definition) {
      const hash = hashOf(definition);
      const found = known.get(hash) ?? prove(definition);
      known.set(hash, found);
      return found;
    },
  };
}

/**
 * Verifies a bundle: the zip, the signed list, each file against it, each record with all that `verifyFile` looks at, each
 * seal against the log, each attachment against its record. `progress` is told how many records of how many are done.
 * Never throws.
 */
export async function verifyBundle(
  bytes: Uint8Array,
  options: VerifyOptions = {},
  progress: (done: number, all: number) => void = () => undefined,
): Promise<BundleReport> {
  const { files, findings: packed } = unpack(bytes);
  const findings = [...packed];
  const add: Add = (file, code, says) => findings.push(bundleFinding(file, code, says));
  const records: { file: string; report: Report }[] = [];
  const remarks: string[] = [];
  const once = { ...options, ...remembered(options.prove) };
  const read = files.size > 0 ? await signedManifest(files, options.keys, add) : null;
  if (files.size === 0 && findings.length === 0) add('', 'manifest-missing', 'The bundle is empty.');
  if (read) {
    const { payload: manifest } = read;
    checkFiles(files, manifest, add);
    const log = logOf(files, manifest, add);
    const recorded = [...files].filter(([file]) => file.endsWith(RECORD_FILE_END));
    for (const [file, content] of recorded) {
      progress(records.length, recorded.length);
      records.push({ file, report: await verifyFile(content, once) });
      if (log) checkLogged(file, readRecordFile(content).seal, log, add);
      remarks.push(...checkAttachments(file, content, files, add));
    }
    if (!options.keys)
      remarks.push(
        `No enrolled keys were given: that ${read.kid} is a key of this workshop was not checked.`,
      );
    if (manifest.unsealed.length > 0)
      remarks.push(
        `Not in the bundle, because not sealed yet: ${counted(manifest.unsealed.length, 'job')} of these days.`,
      );
  }
  const holds = findings.length === 0 && read !== null && records.every(({ report }) => report.holds);
  return { holds, findings, remarks, records, manifest: read?.payload ?? null, kid: read?.kid ?? null };
}
