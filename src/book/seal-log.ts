import { utf8ToBytes } from '@noble/hashes/utils.js';
import { base64url } from 'jose';
import { shortCode } from '../job/story.ts';
import { decodeUtf8 } from '../journal/utf8.ts';
import { leafHash, type Tree, treeOf } from './log.ts';

/** The seal of a job that is kept on this bench. */
export interface KeptSeal {
  readonly job: string;
  /** Compact JWS. */
  readonly seal: string;
  /** RFC 3339, as the seal says. */
  readonly sealedAt: string;
}

/** A line of the log: a job that was sealed, and the leaf that its seal became. */
export interface LogEntry {
  readonly job: string;
  /** SHA-256 of 0x00 and the ASCII bytes of the compact JWS. */
  readonly leaf: string;
}

/** What has become of a line of the log. */
export interface LogFault {
  /** From 1. */
  readonly place: number;
  readonly job: string;
  readonly code: 'seal-gone' | 'seal-replaced' | 'log-rewritten';
  readonly says: string;
}

/** When a seal says that it was set, RFC 3339; empty for one that cannot be read. Its signature is not looked at. */
export function sealedAt(jws: string): string {
  try {
    const payload: unknown = JSON.parse(decodeUtf8(base64url.decode(jws.split('.')[1] ?? '')) ?? '');
    const at =
      typeof payload === 'object' && payload !== null && 'sealedAt' in payload ? payload.sealedAt : '';
    return typeof at === 'string' ? at : '';
  } catch {
    return '';
  }
}

export const leafOf = (seal: string): string => leafHash(utf8ToBytes(seal));

/**
 * The log with the seals that it has not seen yet, in the order in which they were set. Those it knows keep their
 * place whatever the clock of the bench was set to since.
 */
export function extended(log: readonly LogEntry[], seals: readonly KeptSeal[]): LogEntry[] {
  const seen = new Set(log.map(({ job }) => job));
  const fresh = seals
    .filter(({ job }) => !seen.has(job))
    .sort((a, b) => a.sealedAt.localeCompare(b.sealedAt) || a.job.localeCompare(b.job));
  return [...log, ...fresh.map(({ job, seal }) => ({ job, leaf: leafOf(seal) }))];
}

/** The log as a tree. */
export const logTree = (log: readonly LogEntry[]): Tree => treeOf(log.map(({ leaf }) => leaf));

/** Does every line of the log still stand for the seal that is kept? */
export function logFaults(log: readonly LogEntry[], seals: readonly KeptSeal[]): LogFault[] {
  const kept = new Map(seals.map(({ job, seal }) => [job, leafOf(seal)]));
  return log.flatMap(({ job, leaf }, index): LogFault[] => {
    const now = kept.get(job);
    if (now === leaf) return [];
    const place = index + 1;
    return now === undefined
      ? [{ place, job, code: 'seal-gone', says: `Seal ${place} of the log is gone: job ${job} was removed.` }]
      : [
          {
            place,
            job,
            code: 'seal-replaced',
            says: `Seal ${place} of the log is another: job ${job} was replaced.`,
          },
        ];
  });
}

/** A root that was seen before: on this bench, on a printed report, in a bundle. */
export interface SeenRoot {
  readonly count: number;
  readonly root: string;
}

/** Is the root that was seen one of this log's past? Null when it is. */
export function rewritten(log: readonly LogEntry[], seen: SeenRoot): LogFault | null {
  if (seen.count <= log.length && logTree(log).root(seen.count) === seen.root) return null;
  const says =
    seen.count > log.length
      ? `The log had ${seen.count} seals and has ${log.length}: seals were taken out of it.`
      : `The first ${seen.count} seals of the log are not those that were seen before: history was changed.`;
  return { place: seen.count, job: '', code: 'log-rewritten', says };
}

/** A root as it is printed and read out: how many seals it covers, and the first 12 hex digits. */
export const rootCode = ({ count, root }: SeenRoot): string => `${count} · ${shortCode(root)}`;
