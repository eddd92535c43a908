import type { JournalStore } from '../journal/port.ts';
import { browserLog, type LogMemory } from './log-memory.dom.ts';
import { type KeptSeal, rootCode, sealedAt } from './seal-log.ts';

/** What the log of seals says once the seals that are kept are in it. */
export interface LogSays {
  /** Number of seals and first digits of the root, as the book prints them. */
  readonly code: string;
  /** What was changed in the log's past, one sentence each; empty when it is as it was. */
  readonly faults: readonly string[];
}

/**
 * Every seal that is kept, as the log takes it. A seal whose job is on no list of heads any more does not count: its job
 * was removed, and the log says so as the book does.
 */
async function keptSeals(store: Pick<JournalStore, 'heads' | 'seals'>): Promise<KeptSeal[]> {
  const jobs = new Set((await store.heads()).map(({ job }) => job));
  const seals = await store.seals();
  return seals
    .filter(({ job }) => jobs.has(job))
    .map(({ job, jws }) => ({ job, seal: jws, sealedAt: sealedAt(jws) }));
}

/**
 * Takes the seals that are new into the log: the one that was set just now, and any that an earlier try left out. Throws
 * JournalError of the storage when the log cannot be read or written; the seals themselves are kept already.
 */
export async function logSeals(
  store: Pick<JournalStore, 'heads' | 'seals'>,
  memory: LogMemory = browserLog(),
): Promise<LogSays> {
  const { seen, faults } = await memory.look(await keptSeals(store));
  return { code: rootCode(seen), faults: faults.map(({ says }) => says) };
}
