import type { JournalRecord } from './record.ts';

/** How far a job's journal has come. Kept apart from the records, so that a cut tail shows. */
export interface Head {
  readonly job: string;
  /** Number of records. */
  readonly count: number;
  /** `hash` of the last record. */
  readonly hash: string;
}

/** The seal of a job as it is kept. */
export interface KeptJws {
  readonly job: string;
  /** Compact JWS. */
  readonly jws: string;
}

/** Where journals are kept. Nothing is ever changed or removed through this port. */
export interface JournalStore {
  /**
   * Appends a record and moves the head, together or not at all. Resolves only when both are on the disk (strict
   * durability). Rejects with JournalError `head-moved` when the stored head is not (seq, prev) of the record: somebody
   * else wrote, or the journal was cut; `storage-full`; `storage-failed` for the rest.
   */
  append(record: JournalRecord): Promise<void>;
  /** All records of a job in order; empty when there is no such job. */
  read(job: string): Promise<JournalRecord[]>;
  /** What is left of a job, whatever its heads say: to be exported when `read` refuses. Never throws for what it finds. */
  remains(job: string): Promise<JournalRecord[]>;
  /** The heads of all jobs. */
  heads(): Promise<Head[]>;
  /** Keeps the seal (compact JWS) of a finished job; a second seal for the same job is refused (`already-sealed`). */
  putSeal(job: string, jws: string): Promise<void>;
  seal(job: string): Promise<string | null>;
  /** The seals of all jobs, in no order that means anything. */
  seals(): Promise<KeptJws[]>;
}
