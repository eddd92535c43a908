import { JournalError } from '../journal/fault.ts';
import type { JournalStore } from '../journal/port.ts';

/** What is said of the log of seals at the end of a job. */
export interface LogSaid {
  /** Number of seals and first digits of the root; null when the log could not be written. */
  readonly code: string | null;
  /** What is wrong with it, one sentence each; empty when all is well. */
  readonly says: readonly string[];
}

type Log = typeof import('../book/log-at-sealing.dom.ts');
let loaded: Log | null = null;

/** Fetches what seals are taken into the log with. A tab left open over an update would not find it any more. */
export async function loadLog(): Promise<Log> {
  loaded ??= await import('../book/log-at-sealing.dom.ts');
  return loaded;
}

/**
 * Takes the seal that was just set into the log of seals. Never throws: the record is sealed and kept whatever becomes of
 * the log, and every later look at it takes in what is missing.
 */
export async function logAtSealing(
  store: JournalStore,
  load: () => Promise<Pick<Log, 'logSeals'>> = loadLog,
): Promise<LogSaid> {
  try {
    const { logSeals } = await load();
    const { code, faults } = await logSeals(store);
    return { code, says: faults };
  } catch (error) {
    const fault = new JournalError('log-not-written', String(error), error);
    return { code: null, says: [fault.message] };
  }
}
