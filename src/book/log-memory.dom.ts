import { Database } from '../journal/database.dom.ts';
import {
  extended,
  type KeptSeal,
  type LogEntry,
  type LogFault,
  logFaults,
  logTree,
  rewritten,
  type SeenRoot,
} from './seal-log.ts';

/** What the bench remembers of the log: its lines, and the root that it saw last. */
interface Remembered {
  readonly entries: readonly LogEntry[];
  readonly seen: SeenRoot;
}

export interface LogState {
  readonly log: readonly LogEntry[];
  readonly seen: SeenRoot;
  /** Empty: history is as it was. */
  readonly faults: readonly LogFault[];
}

export interface LogMemory {
  /** Adds the seals that are new, remembers the root, and tells what has changed since the last time. */
  look(seals: readonly KeptSeal[]): Promise<LogState>;
}

const SLOT = 'log';

/** The log in a database of its own, apart from journals and seals: who removes those must know of this one too. */
export function browserLog(name = 'holdfast'): LogMemory {
  const database = new Database(`${name}-log`, 'log');
  return {
    // Read, extended and written in one transaction: two windows never make two logs.
    look: (seals) =>
      database.use('readwrite', async (store) => {
        const kept = await new Promise<Remembered | undefined>((resolve, reject) => {
          const request = store.get(SLOT);
          request.onsuccess = () => resolve(request.result);
          request.onerror = () => reject(request.error);
        });
        const before = kept?.entries ?? [];
        const changed = kept ? rewritten(before, kept.seen) : null;
        const log = extended(before, seals);
        const seen = { count: log.length, root: logTree(log).root() };
        // A log that was rewritten keeps the root that showed it: it is said every time until a person has looked.
        if (!changed && log.length > before.length) store.put({ entries: log, seen }, SLOT);
        return { log, seen, faults: [...(changed ? [changed] : []), ...logFaults(log, seals)] };
      }),
  };
}
