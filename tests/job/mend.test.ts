import { expect, test } from 'vitest';
import { type JobState, Runner } from '../../src/job/runner.ts';
import type { JournalStore } from '../../src/journal/port.ts';
import { jobAt } from '../browser/bench-job.ts';
import { MemoryStore } from '../journal/memory-store.ts';

const lastAt = ({ records }: JobState) => Date.parse(records[records.length - 1]?.at ?? '');

/** A store whose contents a test exchanges under the runner, as a browser does that clears them. */
async function running() {
  const state = jobAt('slack');
  let store: JournalStore = new MemoryStore();
  for (const record of state.records) await store.append(record);
  const port: JournalStore = {
    append: (record) => store.append(record),
    read: (job) => store.read(job),
    remains: (job) => store.remains(job),
    heads: () => store.heads(),
    putSeal: (job, jws) => store.putSeal(job, jws),
    seal: (job) => store.seal(job),
    seals: () => store.seals(),
  };
  const runner = new Runner(state, { store: port, now: () => lastAt(state) + 1000 });
  const use = (next: JournalStore) => {
    store = next;
  };
  const note = () => runner.dispatch({ type: 'note', says: 'seen' }, { by: 'ada', via: 'keys' });
  return { state, runner, use, note, kept: () => store.read(state.job) };
}

test.each([0, 1, 5])(
  'cleared down to %i records under a running job, all are written again',
  async (left) => {
    const { state, use, note, kept } = await running();
    const cleared = new MemoryStore();
    for (const record of state.records.slice(0, left)) await cleared.append(record);
    use(cleared);
    expect((await note()).outcome).toBe('accepted');
    const records = await kept();
    expect(records.slice(0, -1)).toEqual(state.records);
    expect(records.at(-1)?.event).toEqual({ type: 'note', says: 'seen' });
  },
);

test('records of somebody else in their place are not written over: the press is not taken', async () => {
  const { state, runner, use, note, kept } = await running();
  const other = new MemoryStore();
  const [first] = state.records;
  if (!first) throw new Error('No records.');
  await other.append({ ...first, hash: 'f'.repeat(64) });
  use(other);
  await expect(note()).rejects.toMatchObject({ code: 'head-moved' });
  expect(await kept()).toHaveLength(1);
  expect(runner.state).toBe(state);
});

test('another window that wrote is no clearing: the press is not taken', async () => {
  const { state, use, note, runner } = await running();
  const ahead = new MemoryStore();
  const other = new Runner(state, { store: ahead, now: () => lastAt(state) + 500 });
  for (const record of state.records) await ahead.append(record);
  await other.dispatch({ type: 'note', says: 'from the other window' }, { by: 'ada', via: 'keys' });
  use(ahead);
  await expect(note()).rejects.toMatchObject({ code: 'head-moved' });
  expect(runner.state).toBe(state);
});
