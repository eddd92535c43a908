import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import finalDrive from '../../procedures/final-drive/index.ts';
import { demoWorkshop } from '../../seeds/demo.ts';
import { openingRecord } from '../../src/job/open-job.ts';
import { jobFrom, Runner } from '../../src/job/runner.ts';
import { checkChain } from '../../src/journal/chain.ts';
import { checkHolds } from '../../src/journal/holds.ts';
import type { JournalRecord } from '../../src/journal/record.ts';
import type { JobEvent } from '../../src/procedure/events.ts';
import { MemoryStore } from '../journal/memory-store.ts';
import { rechained } from '../journal/play.ts';
import { type Draw, draws, moveOf } from './mishaps.ts';
import { observe } from './observer.ts';

const JOB = '3f0c9a52-7b1e-4d0a-9c55-0123456789ab';
const OPENED = Date.UTC(2026, 9, 5, 8);

/** A whole job through the runner and a store: mishaps as drawn, and then the right way on to the end. */
async function walk(card: number, worker: string, drawn: readonly Draw[]): Promise<JournalRecord[]> {
  const machine = demoWorkshop.machines[card % demoWorkshop.machines.length];
  if (!machine) throw new Error('The demo workshop has no machine.');
  const order = { definition: finalDrive, card: machine, workshop: demoWorkshop };
  const opened = openingRecord(JOB, order, { at: OPENED, by: worker, via: 'keys' }, 'test');
  const store = new MemoryStore();
  await store.append(opened);
  let at = OPENED;
  const runner = new Runner(jobFrom([opened]), { store, now: () => at });
  for (let turn = 0; runner.state.snapshot.outcome === 'open' && turn < 1500; turn++) {
    const doer = runner.state.snapshot.context.worker ?? worker;
    const { at: next, by, via, ...event } = moveOf(runner.state, drawn[turn], doer, at);
    at = next;
    await runner.dispatch(event as JobEvent, { by, via });
  }
  return store.read(JOB);
}

const people = demoWorkshop.people.map(({ id }) => id);

test('200 jobs that go astray: none is complete with an applicable hold point unpassed', {
  timeout: 120_000,
}, async () => {
  let complete = 0;
  let refused = 0;
  await fc.assert(
    fc.asyncProperty(fc.nat(3), fc.constantFrom(...people), draws, async (card, worker, drawn) => {
      const records = await walk(card, worker, drawn);
      expect(observe(records)).toEqual([]);
      expect(checkHolds(records)).toEqual([]);
      if (records.at(-1)?.station === 'complete') complete++;
      refused += records.filter(({ outcome }) => outcome === 'refused').length;
    }),
    { numRuns: 200, seed: 20261125 },
  );
  // The walks are worth something: nearly all come to the end, after many a refusal.
  expect(complete).toBeGreaterThan(180);
  expect(refused).toBeGreaterThan(1000);
});

describe('the observer sees what it must see', () => {
  const honest = walk(0, 'w-pia', []);
  const at = async (what: (record: JournalRecord) => boolean) => (await honest).findIndex(what);
  const changed = async (seq: number, change: (record: JournalRecord) => JournalRecord | null) =>
    observe(rechained((await honest).flatMap((one) => (one.seq === seq ? (change(one) ?? []) : one))));

  test('nothing in an honest job', async () => {
    const records = await honest;
    expect(records.at(-1)?.station).toBe('complete');
    expect(observe(records)).toEqual([]);
    expect(checkChain(records)).toEqual([]);
  });

  test('a hold point that was jumped over', async () => {
    const records = await honest;
    const seq = await at(({ event }) => event.type === 'confirm');
    const hold = records[seq - 1]?.station;
    const jumped = records.filter((record) => record.station !== hold && record.seq !== seq);
    expect(observe(rechained(jumped))).toContainEqual(
      expect.stringContaining(`hold point ${hold} was never passed`),
    );
  });

  test('a hold point left by going on', async () => {
    const seq = await at(({ event }) => event.type === 'confirm');
    const found = await changed(seq, (record) => ({ ...record, event: { type: 'advance' } }));
    expect(found).toContainEqual(expect.stringContaining('was left by going on'));
    expect(found).toContainEqual(expect.stringContaining('was never passed'));
  });

  test('too short a press, a witness of their own work, a missing witness', async () => {
    const evidence = { kind: 'press', heldMs: 900 } as const;
    const seq = await at(({ event }) => event.type === 'confirm');
    expect(
      await changed(seq, (record) => ({ ...record, event: { type: 'confirm', evidence } })),
    ).toHaveLength(1);
    const witness = await at(({ event }) => event.type === 'witness');
    const own = await changed(witness, (record) => ({ ...record, by: 'w-pia' }));
    expect(own.join()).toMatch(/witnesses their own work.*apprentice does not witness/);
    const gone = await changed(witness, () => null);
    expect(gone.join()).toContain('was left without evidence');
  });
});
