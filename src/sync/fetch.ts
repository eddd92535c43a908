import { checkChain } from '../journal/chain.ts';
import type { JournalStore } from '../journal/port.ts';
import type { JournalRecord } from '../journal/record.ts';
import { recordShape } from '../journal/record-shape.ts';
import { misfitIn } from '../journal/shape.ts';
import { OfficeError } from './fault.ts';
import type { LocalJob } from './plan.ts';
import type { RoundPorts } from './round.ts';
import { learnt, type SyncState } from './state.ts';

/** A job as this bench has it; undefined when it has none of its records. */
export async function localJob(
  store: JournalStore,
  records: readonly JournalRecord[],
): Promise<LocalJob | undefined> {
  const last = records[records.length - 1];
  if (!last) return undefined;
  const closed = last.station === 'complete' || last.station === 'stopped';
  const sealed = closed && (await store.seal(last.job)) !== null;
  return { job: last.job, count: records.length, hash: last.hash, closed, sealed };
}

/** Fetches records of a job that are not here yet and appends them; only what continues this chain is taken. */
export async function fetchRecords(
  { store, calls }: Pick<RoundPorts, 'store' | 'calls'>,
  job: string,
  records: readonly JournalRecord[],
  from: number,
): Promise<void> {
  const texts = (await calls.pull(job, from)).split('\n').filter((line) => line !== '');
  const fetched = texts.map((line): JournalRecord => {
    const value: unknown = JSON.parse(line);
    const misfit = misfitIn(recordShape, value);
    if (misfit) throw new OfficeError('batch-wrong', { what: misfit });
    return value as JournalRecord;
  });
  const [bad] = checkChain([...records.slice(0, from), ...fetched]);
  if (bad) throw new OfficeError('chain-broken', { line: bad.line, what: bad.says });
  for (const record of fetched) await store.append(record);
}

/**
 * Takes a job over from another bench: first the lease, then the records. When the line is cut between the two, the next
 * round brings the records, because the office then says that this bench holds a job it does not have.
 */
export async function takeOver(
  ports: RoundPorts,
  state: SyncState,
  job: string,
  fence: number,
): Promise<SyncState> {
  const { calls, store } = ports;
  const taken = await calls.take(job, fence);
  const records = await store.read(job);
  if (records.length < taken.count) await fetchRecords(ports, job, records, records.length);
  const next = learnt(state, job, {
    count: taken.count,
    hash: taken.head,
    fence: taken.fence,
    trouble: null,
  });
  await ports.save(next);
  return next;
}
