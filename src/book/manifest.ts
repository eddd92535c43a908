import { canonicalText } from '../journal/canonical.ts';
import { sha256Hex } from '../journal/hash.ts';
import { type OpenedData, openData } from '../journal/seal.ts';
import { HEX_64, matches, misfitIn, moment, name, plain, UUID, whole } from '../journal/shape.ts';
import type { Role } from '../procedure/context.ts';
import type { SignOnWay } from '../procedure/events.ts';
import { list, oneOf, record } from '../procedure/proof/wanted.ts';

/** Who sealed a bundle, and how they showed who they are: two components, their id and a PIN or passkey. */
export interface Signer {
  readonly id: string;
  readonly name: string;
  readonly role: Role;
  readonly how: SignOnWay;
}

/** A file of a bundle. */
export interface Listed {
  readonly name: string;
  readonly bytes: number;
  /** Lower-case hex. */
  readonly sha256: string;
}

/** What a bundle is made of: `manifest.json`, in canonical form; `manifest.jws` signs exactly these bytes. */
export interface Manifest {
  readonly format: typeof FORMAT;
  readonly workshop: string;
  /** Days, UTC, both included. */
  readonly from: string;
  readonly to: string;
  /** RFC 3339: when it was sealed. */
  readonly signedAt: string;
  readonly signedBy: Signer;
  /** What the signature means, in words (21 CFR 11.50). */
  readonly meaning: string;
  /** Every file of the bundle but the manifest and its signature, by name. */
  readonly files: readonly Listed[];
  /** The log of seals of the bench as it stood. */
  readonly log: { readonly count: number; readonly root: string };
  /** Jobs of these days that had no seal yet: no record of theirs is in the bundle. */
  readonly unsealed: readonly { readonly job: string; readonly count: number; readonly head: string }[];
}

export const FORMAT = 'holdfast-bundle-1';
export const MANIFEST = 'manifest.json';
export const SIGNATURE = 'manifest.jws';

const day = matches(/^\d{4}-\d{2}-\d{2}$/, 'a day like 2026-01-31');
const hash = matches(HEX_64, '64 hex digits');

const shape = record({
  format: oneOf(FORMAT),
  workshop: plain,
  from: day,
  to: day,
  signedAt: moment,
  signedBy: record({
    id: name,
    name: plain,
    role: oneOf('mechanic', 'apprentice', 'supervisor'),
    how: oneOf('pin', 'badge', 'passkey'),
  }),
  meaning: plain,
  files: list(record({ name, bytes: whole, sha256: hash })),
  log: record({ count: whole, root: hash }),
  unsealed: list(record({ job: matches(UUID, 'a UUID'), count: whole, head: hash })),
});

export const listed = (name: string, content: Uint8Array): Listed => ({
  name,
  bytes: content.length,
  sha256: sha256Hex(content),
});

export type ReadManifest =
  | ({ readonly text: string } & OpenedData<Manifest>)
  | { readonly text?: never; readonly code: string; readonly says: string };

/** Reads a signed manifest: the signature fits, the key id is that of its key, and every field is as it should be. */
export async function openManifest(jws: string): Promise<ReadManifest> {
  const result = await openData<Manifest>(jws.trim(), shape);
  if (!result.opened) return { code: result.code, says: result.says };
  return { ...result.opened, text: canonicalText(result.opened.payload) };
}

/** `log.json`: for every record of a bundle where its seal stands in the log, and the proof (RFC 9162, 2.1.3). */
export interface LogFile {
  readonly count: number;
  readonly root: string;
  readonly seals: readonly {
    readonly job: string;
    readonly file: string;
    /** From 0. */
    readonly index: number;
    readonly leaf: string;
    readonly proof: readonly string[];
  }[];
}

export const LOG = 'log.json';

const logShape = record({
  count: whole,
  root: hash,
  seals: list(
    record({ job: matches(UUID, 'a UUID'), file: name, index: whole, leaf: hash, proof: list(hash) }),
  ),
});

/** The log of a bundle, or in words what is wrong with it. */
export function readLog(
  text: string,
): { readonly log: LogFile } | { readonly log?: never; readonly says: string } {
  try {
    const value: unknown = JSON.parse(text);
    const misfit = misfitIn(logShape, value);
    return misfit ? { says: `In it ${misfit}.` } : { log: value as LogFile };
  } catch {
    return { says: 'It is not JSON.' };
  }
}
