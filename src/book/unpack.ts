import { unzipSync } from 'fflate';
import { MAX_FILE } from '../journal/file.ts';
import { tame } from '../journal/finding.ts';

/** What can be wrong with a bundle: a closed list. The records in it have codes of their own. */
export type BundleCode =
  | 'bundle-too-large'
  | 'zip-unreadable'
  | 'name-unusable'
  | 'name-twice'
  | 'manifest-missing'
  | 'manifest-differs'
  | 'seal-unreadable'
  | 'seal-broken'
  | 'key-id-wrong'
  | 'key-not-enrolled'
  | 'not-authorised'
  | 'file-missing'
  | 'file-unlisted'
  | 'file-differs'
  | 'log-unreadable'
  | 'log-differs'
  | 'not-in-log'
  | 'attachment-differs';

export interface BundleFinding {
  /** File inside the bundle; empty for the bundle as a whole. */
  readonly file: string;
  readonly code: BundleCode;
  /** One plain sentence. */
  readonly says: string;
}

export const bundleFinding = (file: string, code: BundleCode, says: string): BundleFinding => ({
  file: tame(file),
  code,
  says: tame(says),
});

/** Largest bundle read: packed, and unpacked in all. A year of a busy workshop needs a tenth of it. */
export const MAX_BUNDLE = 128 * 1024 * 1024;
export const MAX_UNPACKED = 384 * 1024 * 1024;
const MAX_FILES = 20_000;

/** Names that mean the same on every system and lead nowhere else. */
const NAME = /^[A-Za-z0-9][A-Za-z0-9._-]*(\/[A-Za-z0-9_-][A-Za-z0-9._-]*)*$/;

export interface Unpacked {
  readonly files: ReadonlyMap<string, Uint8Array>;
  readonly findings: readonly BundleFinding[];
}

/** Does a file begin like a zip? */
export const isZip = (bytes: Uint8Array): boolean =>
  bytes[0] === 0x50 && bytes[1] === 0x4b && (bytes[2] === 0x03 || bytes[2] === 0x05);

/** Unpacks a bundle. What could harm whoever unpacks it is left out and named; nothing is written anywhere. Never throws. */
export function unpack(bytes: Uint8Array): Unpacked {
  const findings: BundleFinding[] = [];
  const add = (file: string, code: BundleCode, says: string) =>
    findings.push(bundleFinding(file, code, says));
  const nothing = (code: BundleCode, says: string): Unpacked => ({
    files: new Map(),
    findings: [bundleFinding('', code, says)],
  });
  if (bytes.length > MAX_BUNDLE)
    return nothing('bundle-too-large', 'The file is far larger than any bundle.');
  const seen = new Set<string>();
  let total = 0;
  try {
    const unzipped = unzipSync(bytes, {
      filter({ name, originalSize, compression }) {
        total += originalSize;
        if (!NAME.test(name)) add(name, 'name-unusable', 'A file has a name that no bundle gives.');
        else if (seen.has(name)) add(name, 'name-twice', 'Two files have this name.');
        else if (originalSize > MAX_FILE || total > MAX_UNPACKED || seen.size >= MAX_FILES)
          add(name, 'bundle-too-large', 'Unpacked, it would be far larger than any bundle.');
        else if (compression !== 0 && compression !== 8)
          add(name, 'zip-unreadable', 'This file is packed in a way that is not read here.');
        else {
          seen.add(name);
          return true;
        }
        return false;
      },
    });
    return { files: new Map(Object.entries(unzipped)), findings };
  } catch (error) {
    return nothing('zip-unreadable', `This is no zip that can be read: ${String(error)}`);
  }
}
