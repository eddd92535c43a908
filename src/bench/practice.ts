import { openingRecord } from '../job/open-job.ts';
import { PRACTISES, type PracticeChoice, practiceOrder, wrongEvent } from '../job/practice.ts';
import { rightMove } from '../job/rehearsal.ts';
import { JournalError } from '../journal/fault.ts';
import type { JournalStore } from '../journal/port.ts';
import { FIRST_PREV, type JournalRecord } from '../journal/record.ts';
import type { Definition } from '../procedure/definition.ts';
import type { JobEvent } from '../procedure/events.ts';
import type { Desk } from './desk.dom.ts';
import { JobDesk } from './job-desk.ts';
import type { Bench } from './scenes/scene.ts';

/** Keeps the steps of a practice for as long as it is played, and nowhere else. */
function forgetful(): JournalStore {
  let records: JournalRecord[] = [];
  return {
    async append(record) {
      const last = records.at(-1);
      if (record.seq !== records.length || record.prev !== (last?.hash ?? FIRST_PREV)) {
        throw new JournalError('head-moved');
      }
      records = [...records, record];
    },
    read: async (job) => records.filter((record) => record.job === job),
    remains: async (job) => records.filter((record) => record.job === job),
    heads: async () => {
      const last = records.at(-1);
      return last ? [{ job: last.job, count: records.length, hash: last.hash }] : [];
    },
    putSeal: () => Promise.reject(new Error('A practice is never sealed.')),
    seal: async () => null,
    seals: async () => [],
  };
}

/**
 * A job that is played and not done: the desk of a real job over a store that forgets, with invented people and a clock
 * that can be turned on, so that nobody has to wait for a cure. Nothing of it reaches the bench's own records.
 */
export class Practice {
  readonly job: JobDesk;
  readonly #turnOn: (to: number) => void;

  static async open(bench: Bench, definition: Definition, choice: PracticeChoice): Promise<Practice> {
    let ahead = 0;
    const clocks: Desk['clocks'] = () => {
      const { wall, run } = bench.desk.clocks();
      return { wall: wall + ahead, run: run + ahead };
    };
    const desk: Desk = {
      ...bench.desk,
      store: forgetful(),
      files: {
        keep: () => Promise.reject(new Error('A practice keeps no photos and no voice notes.')),
        read: async () => undefined,
      },
      clocks,
      now: () => clocks().wall,
    };
    const at = Math.trunc(desk.now());
    const stamp = { at, by: PRACTISES, via: 'keys' } as const;
    const record = openingRecord(desk.newId(), practiceOrder(definition, choice), stamp, desk.app);
    await desk.store.append(record);
    // No other window hears of it.
    const job = await JobDesk.open(
      bench.host,
      desk,
      record.job,
      () => undefined,
      () => bench.presses?.forget(),
    );
    job.announce();
    return new Practice(job, (to) => {
      ahead += Math.max(0, to - clocks().wall);
    });
  }

  private constructor(job: JobDesk, turnOn: (to: number) => void) {
    this.job = job;
    this.#turnOn = turnOn;
  }

  /** Answers this station right or wrong, whatever the hand has done at it so far. */
  async answer(right: boolean): Promise<void> {
    const { job } = this;
    const { state, worker } = job;
    const { definition } = state.machine;
    if (state.snapshot.outcome !== 'open') return;
    if (state.snapshot.context.paused) await job.give({ type: 'resume' }, worker);
    if (!right) {
      await job.give(wrongEvent(definition, job.state.snapshot), worker);
      return;
    }
    const { at, by, via, ...event } = rightMove(definition, job.state.snapshot, worker, job.now - 1000);
    this.#turnOn(at);
    await job.give(event as JobEvent, by);
  }

  close(): void {
    this.job.close();
  }
}
