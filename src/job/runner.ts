import { checkChain, makeRecord } from '../journal/chain.ts';
import { type JournalCode, JournalError } from '../journal/fault.ts';
import { toMoment } from '../journal/moment.ts';
import type { JournalStore } from '../journal/port.ts';
import type { JournalRecord } from '../journal/record.ts';
import { replay } from '../journal/replay.ts';
import type { Decision } from '../procedure/decide.ts';
import { decide } from '../procedure/decide.ts';
import type { JobEvent, Stamped } from '../procedure/events.ts';
import type { Machine, Snapshot } from '../procedure/machine.ts';
import type { Stamp } from './open-job.ts';

/** Said when records are gone that were written. */
const CUT: readonly JournalCode[] = ['head-moved', 'journal-cut'];

/** A job as it stands: the records written and the snapshot that they lead to. Never changed, only replaced. */
export interface JobState {
  readonly job: string;
  readonly machine: Machine;
  readonly snapshot: Snapshot;
  readonly records: readonly JournalRecord[];
}

/**
 * The job that these records tell of, by replaying them through the definition that they carry. A refusal whose code was
 * renamed since is no matter; a broken chain, or a replay that leads elsewhere, is. Throws JournalError `journal-differs`.
 */
export function jobFrom(records: readonly JournalRecord[]): JobState {
  const [first] = records;
  if (!first) throw new Error('A job has at least the record of its opening.');
  const { machine, snapshot, findings } = replay(records);
  const [bad] = [...checkChain(records), ...findings.filter(({ code }) => code !== 'reason-differs')];
  if (bad) throw new JournalError('journal-differs', `line ${bad.line}: ${bad.says}`);
  return { job: first.job, machine, snapshot, records };
}

/** The record and the state that an event leads to, accepted or refused. Pure: nothing is written yet. */
export function step(
  state: JobState,
  event: JobEvent,
  stamp: Stamp,
): { state: JobState; decision: Decision } {
  // The record keeps milliseconds: decide on exactly the moment that it will say.
  const decision = decide(state.machine, state.snapshot, { ...event, ...stamp } as Stamped);
  const last = state.records[state.records.length - 1] ?? null;
  const record = makeRecord(last, {
    job: state.job,
    at: toMoment(stamp.at),
    by: stamp.by,
    via: stamp.via,
    event,
    outcome: decision.outcome,
    ...(decision.outcome === 'refused' ? { reason: decision.reason } : {}),
    station: decision.snapshot.station,
  });
  return { decision, state: { ...state, snapshot: decision.snapshot, records: [...state.records, record] } };
}

export interface RunnerPorts {
  readonly store: JournalStore;
  /** Wall clock, ms since 1970. */
  now(): number;
}

export type Listener = (state: JobState, decision: Decision | null) => void;

/**
 * Runs one job: an event in, a record written, and only then the new state published. Events that arrive while a
 * record is being written wait their turn, so each is decided on the state that the one before it left.
 */
export class Runner {
  #state: JobState;
  readonly #ports: RunnerPorts;
  readonly #listeners = new Set<Listener>();
  #queue: Promise<unknown> = Promise.resolve();

  constructor(state: JobState, ports: RunnerPorts) {
    this.#state = state;
    this.#ports = ports;
  }

  get state(): JobState {
    return this.#state;
  }

  /** Calls the listener after every event that was written. Returns the way to leave. */
  listen(listener: Listener): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /**
   * Decides the event and writes it down. Resolves when the record is safely stored and the state is published;
   * rejects, with the state unchanged, when it could not be stored.
   */
  dispatch(event: JobEvent, who: Pick<Stamp, 'by' | 'via'>): Promise<Decision> {
    const turn = this.#queue.then(async () => {
      const { state, decision } = step(this.#state, event, { ...who, at: Math.trunc(this.#ports.now()) });
      const record = state.records[state.records.length - 1];
      if (record) await this.#write(record);
      this.#state = state;
      for (const listener of this.#listeners) listener(state, decision);
      return decision;
    });
    this.#queue = turn.catch(() => undefined);
    return turn;
  }

  /** A write may be reported as failed and yet have reached the disk: what the store says afterwards counts. */
  async #write(record: JournalRecord): Promise<void> {
    try {
      await this.#ports.store.append(record);
    } catch (error) {
      const heads = await this.#ports.store.heads().catch(() => []);
      const head = heads.find(({ job }) => job === record.job);
      if (head?.count === record.seq + 1 && head.hash === record.hash) return;
      if (!(await this.#mended(record, error))) throw error;
    }
  }

  /**
   * The browser cleared the records under a running job, in part or all: they are all here, so what is missing is
   * written again. Only when what is left is the beginning of this very chain; anything else is somebody's doing.
   */
  async #mended(record: JournalRecord, error: unknown): Promise<boolean> {
    if (!(error instanceof JournalError && CUT.includes(error.code))) return false;
    const { store } = this.#ports;
    const chain = [...this.#state.records, record];
    const left = await store.remains(record.job).catch(() => null);
    if (!left || left.length >= chain.length - 1) return false;
    if (left.some((one, seq) => one.hash !== chain[seq]?.hash)) return false;
    for (const missing of chain.slice(left.length)) {
      // Until the last one is back, the heads kept apart are right to say that records are missing.
      await store.append(missing).catch((cut: unknown) => {
        if (missing === record || !(cut instanceof JournalError && CUT.includes(cut.code))) throw cut;
      });
    }
    return true;
  }

  /** Reads the journal again: after another tab wrote to it. */
  async reload(): Promise<void> {
    const turn = this.#queue.then(async () => {
      const records = await this.#ports.store.read(this.#state.job);
      if (records.length === this.#state.records.length) return;
      this.#state = jobFrom(records);
      for (const listener of this.#listeners) listener(this.#state, null);
    });
    this.#queue = turn.catch(() => undefined);
    await turn;
  }
}
