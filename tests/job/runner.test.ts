import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { openingRecord } from '../../src/job/open-job.ts';
import { jobFrom, Runner } from '../../src/job/runner.ts';
import { checkChain } from '../../src/journal/chain.ts';
import { JournalError } from '../../src/journal/fault.ts';
import type { JournalStore } from '../../src/journal/port.ts';
import type { JournalRecord } from '../../src/journal/record.ts';
import { replay } from '../../src/journal/replay.ts';
import type { JobEvent } from '../../src/procedure/events.ts';
import { MemoryStore } from '../journal/memory-store.ts';
import { NOON, sample, sampleInput } from '../procedure/sample.ts';
import { draws, moveOf } from './mishaps.ts';

const JOB = '3f0c9a52-7b1e-4d0a-9c55-0123456789ab';
const { people, tools, facts, figures } = sampleInput;
const card = { id: 'M1', says: 'Machine 1', plate: 'Nothing real', facts, figures };
const order = { definition: sample, card, workshop: { name: 'Test', machines: [], people, tools } };
const ada = { by: 'ada', via: 'keys' } as const;

/** How the store under the runner behaves when it is to write: as it should, or otherwise. */
type Write = (store: MemoryStore, record: JournalRecord) => Promise<void>;

const full = () => Promise.reject(new JournalError('storage-full'));

async function running(write: Write = (store, record) => store.append(record)) {
  const memory = new MemoryStore();
  const opened = openingRecord(JOB, order, { at: NOON, ...ada }, 'test');
  await memory.append(opened);
  let writing = write;
  const store: JournalStore = {
    append: (record) => writing(memory, record),
    read: (job) => memory.read(job),
    remains: (job) => memory.remains(job),
    heads: () => memory.heads(),
    putSeal: (job, jws) => memory.putSeal(job, jws),
    seals: () => memory.seals(),
    seal: (job) => memory.seal(job),
  };
  let at = NOON;
  const runner = new Runner(jobFrom([opened]), { store, now: () => (at += 1000) });
  return { runner, memory, store, write: (next: Write) => (writing = next) };
}

const gloves: JobEvent = { type: 'callOff', item: 'gloves' };
const seals: JobEvent = { type: 'callOff', item: 'seals' };

describe('what is journalled', () => {
  test('an accepted event, with who, when, which way and where it led', async () => {
    const { runner, memory } = await running();
    const decision = await runner.dispatch(gloves, { by: 'ben', via: 'pedal' });
    expect(decision.outcome).toBe('accepted');
    const [opened, record] = await memory.read(JOB);
    expect(record).toMatchObject({
      seq: 1,
      by: 'ben',
      via: 'pedal',
      at: new Date(NOON + 1000).toISOString(),
      event: gloves,
      outcome: 'accepted',
      station: 'kit',
      prev: opened?.hash,
    });
    expect(record).not.toHaveProperty('reason');
  });

  test('a refused event, with its reason, and nothing else changes', async () => {
    const { runner, memory } = await running();
    const before = runner.state.snapshot;
    const decision = await runner.dispatch({ type: 'advance' }, ada);
    expect(decision.outcome).toBe('refused');
    const record = (await memory.read(JOB))[1];
    expect(record).toMatchObject({
      outcome: 'refused',
      station: 'kit',
      reason: { code: 'kit-not-complete' },
    });
    expect(record?.reason?.sentence).toMatch(/^Not everything is at hand: .+ is still missing\.$/);
    expect(runner.state.snapshot).toEqual(before);
    expect(runner.state.records).toEqual(await memory.read(JOB));
  });

  test('the moment in whole milliseconds, whatever the clock gives', async () => {
    const memory = new MemoryStore();
    const opened = openingRecord(JOB, order, { at: NOON, ...ada }, 'test');
    await memory.append(opened);
    const runner = new Runner(jobFrom([opened]), { store: memory, now: () => NOON + 5.75 });
    await runner.dispatch(gloves, ada);
    expect((await memory.read(JOB))[1]?.at).toBe(new Date(NOON + 5).toISOString());
    expect(replay(await memory.read(JOB)).snapshot).toEqual(runner.state.snapshot);
  });
});

describe('written first, shown after', () => {
  test('nothing is published before the record is stored', async () => {
    let stored: () => void = () => undefined;
    const wait = new Promise<void>((resolve) => {
      stored = resolve;
    });
    const { runner, memory } = await running(async (store, record) => {
      await wait;
      await store.append(record);
    });
    const told: number[] = [];
    runner.listen(
      (state) => void memory.read(JOB).then((records) => told.push(state.records.length - records.length)),
    );
    const before = runner.state;
    const done = runner.dispatch(gloves, ada);
    await new Promise((resolve) => setTimeout(resolve, 5));
    expect(runner.state).toBe(before);
    expect(told).toEqual([]);
    stored();
    await done;
    expect(runner.state.records).toHaveLength(2);
    expect(told).toEqual([0]);
  });

  test('a write that fails leaves the state as it was, tells nobody, and the next event goes on from there', async () => {
    const { runner, memory, write } = await running(full);
    const told: string[] = [];
    runner.listen((_, decision) => told.push(decision?.outcome ?? 'news'));
    const before = runner.state;
    await expect(runner.dispatch(gloves, ada)).rejects.toMatchObject({ code: 'storage-full' });
    expect(runner.state).toBe(before);
    expect(told).toEqual([]);
    write((store, record) => store.append(record));
    await runner.dispatch(seals, ada);
    expect(told).toEqual(['accepted']);
    const records = await memory.read(JOB);
    expect(records.map(({ event }) => event)).toEqual([expect.anything(), seals]);
    expect(checkChain(records)).toEqual([]);
  });

  test('reported as failed, but stored: taken as stored', async () => {
    const { runner, memory } = await running(async (store, record) => {
      await store.append(record);
      throw new JournalError('storage-failed', 'the commit was not acknowledged');
    });
    expect((await runner.dispatch(gloves, ada)).outcome).toBe('accepted');
    await runner.dispatch(seals, ada);
    expect(runner.state.records).toEqual(await memory.read(JOB));
    expect(runner.state.records).toHaveLength(3);
  });

  test('failed because another record stands there: not taken as stored', async () => {
    const { runner, memory, write } = await running();
    const other = new Runner(jobFrom(await memory.read(JOB)), { store: memory, now: () => NOON + 500 });
    await other.dispatch(seals, { by: 'cyd', via: 'keys' });
    const before = runner.state;
    await expect(runner.dispatch(gloves, ada)).rejects.toMatchObject({ code: 'head-moved' });
    expect(runner.state).toBe(before);
    // Nor when the store cannot even say how far the journal has come.
    write(() => Promise.reject(new JournalError('storage-failed')));
    memory.heads = () => Promise.reject(new JournalError('storage-failed'));
    await expect(runner.dispatch(gloves, ada)).rejects.toMatchObject({ code: 'storage-failed' });
    expect(runner.state).toBe(before);
  });

  test('after another window wrote, the journal is read again and the job goes on', async () => {
    const { runner, memory } = await running();
    const other = new Runner(jobFrom(await memory.read(JOB)), { store: memory, now: () => NOON + 500 });
    await other.dispatch(seals, { by: 'cyd', via: 'keys' });
    const told: (string | null)[] = [];
    runner.listen((_, decision) => told.push(decision?.outcome ?? null));
    await runner.reload();
    expect(told).toEqual([null]);
    expect(runner.state.snapshot).toEqual(other.state.snapshot);
    await runner.reload();
    expect(told).toEqual([null]);
    expect((await runner.dispatch(gloves, ada)).outcome).toBe('accepted');
  });
});

describe('many at once', () => {
  test('events are decided in the order in which they came, each on what the one before it left', async () => {
    // Writes take longer and longer the earlier they come: a race would turn the order round.
    let delay = 30;
    const { runner, memory } = await running(async (store, record) => {
      delay -= 6;
      await new Promise((resolve) => setTimeout(resolve, Math.max(0, delay)));
      await store.append(record);
    });
    const wrench: JobEvent = { type: 'callOff', item: 'wrench', toolId: 'T1' };
    const events = [gloves, gloves, wrench, seals, { type: 'advance' } as const];
    const decisions = await Promise.all(events.map((event) => runner.dispatch(event, ada)));
    const records = await memory.read(JOB);
    expect(records.slice(1).map(({ event }) => event)).toEqual(events);
    expect(decisions.map(({ outcome }) => outcome)).toEqual(records.slice(1).map(({ outcome }) => outcome));
    expect(decisions[1]).toMatchObject({ outcome: 'refused', reason: { code: 'kit-item-called' } });
    expect(checkChain(records)).toEqual([]);
  });

  test('one that fails does not keep the next from being decided', async () => {
    let turn = 0;
    const { runner } = await running((store, record) => (turn++ === 0 ? full() : store.append(record)));
    const first = runner.dispatch(gloves, ada);
    const second = runner.dispatch(seals, ada);
    await expect(first).rejects.toThrow();
    expect((await second).outcome).toBe('accepted');
    expect(runner.state.records).toHaveLength(2);
  });

  test('a listener that has left is told nothing more', async () => {
    const { runner } = await running();
    let told = 0;
    const leave = runner.listen(() => told++);
    await runner.dispatch(gloves, ada);
    leave();
    await runner.dispatch(seals, ada);
    expect(told).toBe(1);
  });
});

test('whatever is done, replaying what was written gives the same job, byte for byte', async () => {
  await fc.assert(
    fc.asyncProperty(draws, fc.constantFrom('ada', 'ben'), async (drawn, worker) => {
      const memory = new MemoryStore();
      const opened = openingRecord(JOB, order, { at: NOON, by: worker, via: 'keys' }, 'test');
      await memory.append(opened);
      let at = NOON;
      const runner = new Runner(jobFrom([opened]), { store: memory, now: () => at });
      for (const draw of drawn) {
        if (runner.state.snapshot.outcome !== 'open') break;
        const doer = runner.state.snapshot.context.worker ?? worker;
        const { at: next, by, via, ...event } = moveOf(runner.state, draw, doer, at);
        at = next;
        await runner.dispatch(event as JobEvent, { by, via });
      }
      // What comes back from a disk has been JSON.
      const records = JSON.parse(JSON.stringify(await memory.read(JOB))) as JournalRecord[];
      expect(records).toEqual(runner.state.records);
      const { snapshot, findings } = replay(records);
      expect(findings).toEqual([]);
      expect(snapshot).toEqual(runner.state.snapshot);
      expect(jobFrom(records).snapshot).toEqual(runner.state.snapshot);
    }),
    { numRuns: 60, seed: 4 },
  );
});
