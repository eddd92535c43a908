import { unzipSync } from 'fflate';
import type { ExpressionBuilder } from 'kysely';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { treeOf } from '../../src/book/log.ts';
import { leafOf } from '../../src/book/seal-log.ts';
import { canonicalText } from '../../src/journal/canonical.ts';
import { makeRecord } from '../../src/journal/chain.ts';
import { RECORD_FILE_END } from '../../src/journal/file.ts';
import { hashOf } from '../../src/journal/hash.ts';
import type { JournalRecord } from '../../src/journal/record.ts';
import { verifyFile } from '../../src/journal/verify.ts';
import type { Tables } from '../../src/office/db/schema.ts';
import { zipOf } from '../../src/office/export.ts';
import { consistencyOf, inclusionOf, rootOf } from '../../src/office/seal-log.ts';
import { makeKey, rechained } from '../journal/play.ts';
import { randomJob } from '../journal/random-jobs.ts';
import { sample } from '../procedure/sample.ts';
import { onBothEngines } from './engines.ts';
import { enrol, type Member, sealFor, type World, worldOn } from './world.ts';

const lines = (records: readonly JournalRecord[]) =>
  records.map((record) => `${canonicalText(record)}\n`).join('');
const jobOf = (records: readonly JournalRecord[]): string => records[0]?.job ?? '';
const refusal = (code: string, detail: object = {}) =>
  expect.objectContaining({ code, detail: expect.objectContaining(detail) });

onBothEngines((engine) => {
  let world: World;
  let bench: Member;
  let other: Member;

  beforeAll(async () => {
    world = await worldOn(engine);
    bench = await enrol(world, 'bench', 'Bench 1');
    other = await enrol(world, 'bench', 'Bench 2');
  });
  afterAll(async () => {
    await world.close();
  });

  const push = (records: readonly JournalRecord[], from = 0, to = records.length, fence = 1, by = bench) =>
    by.calls.push(jobOf(records), from, fence, lines(records.slice(from, to)));

  const kept = async (records: readonly JournalRecord[]) =>
    (await bench.calls.pull(jobOf(records), 0)).split('\n').filter((line) => line !== '');

  describe('records', () => {
    test('come in batches, are confirmed, and come out as the very bytes that were hashed', async () => {
      const records = randomJob(1, [sample]);
      const half = Math.floor(records.length / 2);
      expect(await push(records, 0, half)).toMatchObject({
        count: half,
        head: records[half - 1]?.hash,
        fence: 1,
      });
      expect(await push(records, half)).toMatchObject({ count: records.length, head: records.at(-1)?.hash });
      expect(await kept(records)).toEqual(records.map(canonicalText));
    });

    test('of a dozen random jobs hold the verification that anybody can do', async () => {
      for (let seed = 100; seed < 112; seed++) {
        const records = randomJob(seed, [sample]);
        for (let from = 0; from < records.length; from += 40) await push(records, from, from + 40);
        await bench.calls.seal(jobOf(records), await sealFor(records, bench.key));
      }
      const pieces: Uint8Array[] = [];
      for await (const piece of zipOf(world.office.db, {})) pieces.push(piece);
      const files = Object.entries(unzipSync(Buffer.concat(pieces)));
      const keys = { keys: [{ ...bench.key.publicJwk }] };
      let held = 0;
      for (const [name, bytes] of files) {
        if (!name.endsWith(RECORD_FILE_END)) continue;
        const report = await verifyFile(bytes, { keys, prove: () => [] });
        expect(report.findings, name).toEqual([]);
        held++;
      }
      expect(held).toBe(12);
    });

    test('sent twice are there once', async () => {
      const records = randomJob(2, [sample]);
      await push(records);
      expect(await push(records)).toMatchObject({ count: records.length });
      expect(await push(records, 3, 9)).toMatchObject({ count: records.length });
      expect(await kept(records)).toHaveLength(records.length);
    });

    test('with a gap are refused, with the place to go on from', async () => {
      const records = randomJob(3, [sample]);
      await expect(push(records, 5, 9)).rejects.toEqual(refusal('gap', { count: 0 }));
      await push(records, 0, 4);
      await expect(push(records, 6, 9)).rejects.toEqual(refusal('gap', { count: 4, head: records[3]?.hash }));
    });

    test('that rewrite history are refused, and both sides are kept', async () => {
      const records = randomJob(4, [sample]);
      const at = records.findIndex(({ seq }) => seq === 6);
      await push(records, 0, 10);
      const changed = rechained(records.with(at, { ...(records[at] as JournalRecord), via: 'touch' }));
      await expect(push(changed, 0, 12)).rejects.toEqual(
        refusal('rewrite', { seq: 6, ours: records[6]?.hash }),
      );
      await expect(push(changed, 0, 12)).rejects.toEqual(refusal('rewrite'));
      await expect(push(changed, 10, 12)).rejects.toEqual(refusal('rewrite', { seq: 9 }));
      const rows = await world.office.db
        .selectFrom('evidence')
        .selectAll()
        .where('job', '=', jobOf(records))
        .orderBy('id')
        .execute();
      expect(rows.map(({ code, seq }) => [code, seq])).toEqual([
        ['rewrite', 6],
        ['rewrite', 9],
      ]);
      expect(rows[0]?.ours).toBe(canonicalText(records[6]));
      expect(rows[0]?.theirs).toContain(changed[6]?.hash);
      expect(await kept(records)).toHaveLength(10);
    });

    test('of another bench fork and are refused; a writer without the lease too', async () => {
      const records = randomJob(5, [sample]);
      await push(records, 0, 8);
      const changed = rechained(records.with(5, { ...(records[5] as JournalRecord), via: 'touch' }));
      await expect(push(changed, 0, 9, 1, other)).rejects.toEqual(refusal('fork', { seq: 5 }));
      await expect(push(records, 0, 10, 1, other)).rejects.toEqual(refusal('fence-old', { count: 8 }));
      await expect(push(records, 8, 10, 0)).rejects.toEqual(refusal('fence-old', { fence: 1 }));
      expect(await push(records, 0, 10)).toMatchObject({ count: 10 });
    });

    test('with a line that is none are refused at that line, and nothing of the batch is kept', async () => {
      const records = randomJob(6, [sample]);
      const good = records.slice(0, 6).map((record) => canonicalText(record));
      const send = (texts: readonly string[], from = 0) =>
        bench.calls.push(jobOf(records), from, 1, texts.map((one) => `${one}\n`).join(''));
      const [first = '', second = '', third = ''] = good;
      await expect(send([first, '{', third])).rejects.toEqual(refusal('batch-wrong', { line: 2 }));
      await expect(send([first, `${second} `])).rejects.toEqual(refusal('batch-wrong', { line: 2 }));
      await expect(send([first, '{}'])).rejects.toEqual(refusal('batch-wrong', { line: 2 }));
      await expect(send([first, third])).rejects.toEqual(refusal('chain-broken', { line: 2 }));
      await expect(send([first, first])).rejects.toEqual(refusal('batch-wrong', { line: 2 }));
      await expect(send([second], 0)).rejects.toEqual(refusal('chain-broken', { line: 1 }));
      const reason = second.replace(/"via":"\w+"/, '"via":"voice"');
      await expect(
        send([first, reason === second ? second.replace('voice', 'keys') : reason]),
      ).rejects.toEqual(refusal('chain-broken', { line: 2 }));
      await expect(bench.calls.push(jobOf(records), 0, 1, first)).rejects.toEqual(refusal('batch-wrong'));
      await expect(bench.calls.push(jobOf(records), 0, 1, '')).rejects.toEqual(refusal('batch-wrong'));
      const elsewhere = jobOf(randomJob(7, [sample]));
      await expect(bench.calls.push(elsewhere, 0, 1, `${first}\n`)).rejects.toEqual(refusal('chain-broken'));
      expect(await send(good)).toMatchObject({ count: 6 });
    });

    test('with a procedure that is changed, or runs for ever, are refused', async () => {
      const records = randomJob(8, [sample]);
      const [first] = records;
      if (first?.event.type !== 'job.opened') throw new Error('No opening.');
      const { event } = first;
      const opened = (procedure: unknown, procedureHash: string) =>
        makeRecord(null, { ...first, event: { ...event, procedure, procedureHash } as typeof event });
      const named = { ...event.procedure, meta: { ...event.procedure.meta, title: 'Another' } };
      const send = (record: JournalRecord) => bench.calls.push(first.job, 0, 1, lines([record]));
      await expect(send(opened(named, event.procedureHash))).rejects.toEqual(
        refusal('chain-broken', { line: 1 }),
      );
      const refit = { ...event.procedure.states.refit, always: [{ target: 'refit' }] };
      const ring = { ...event.procedure, states: { ...event.procedure.states, refit } };
      await expect(send(opened(ring, hashOf(ring)))).rejects.toEqual(refusal('procedure-unusable'));
      await expect(send(opened({ id: 'x' }, hashOf({ id: 'x' })))).rejects.toEqual(
        refusal('procedure-unusable'),
      );
    });

    test('that say what the procedure does not give are kept with the finding, and cannot be sealed', async () => {
      const good = randomJob(9, [sample]);
      const at = good.findIndex(({ outcome, seq }) => outcome === 'refused' && seq > 3);
      const { reason: _, ...forged } = { ...(good[at] as JournalRecord), outcome: 'accepted' as const };
      const records = rechained(good.with(at, forged));
      await push(records);
      const row = await world.office.db
        .selectFrom('job')
        .select(['findings', 'outcome'])
        .where('job', '=', jobOf(records))
        .executeTakeFirstOrThrow();
      expect(JSON.parse(row.findings ?? '[]')[0]).toMatchObject({ line: at + 1, code: 'outcome-differs' });
      const seal = await sealFor(records, bench.key);
      await expect(bench.calls.seal(jobOf(records), seal)).rejects.toEqual(
        refusal('seal-wrong', { what: expect.stringContaining('replay') }),
      );
    });

    test('of two benches that race for one job only one history is kept', async () => {
      for (let seed = 20; seed < 26; seed++) {
        const records = randomJob(seed, [sample]);
        const rival = rechained(records.with(3, { ...(records[3] as JournalRecord), via: 'touch' }));
        const tries = await Promise.allSettled([push(records), push(rival, 0, rival.length, 1, other)]);
        expect(tries.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
        const winner = tries[0]?.status === 'fulfilled' ? records : rival;
        const rows = await world.office.db
          .selectFrom('record')
          .select('hash')
          .where('job', '=', jobOf(records))
          .orderBy('seq')
          .execute();
        expect(rows.map(({ hash }) => hash)).toEqual(winner.map(({ hash }) => hash));
      }
    });
  });

  describe('seals', () => {
    test('of an open job, another end, a stranger’s key or a broken signature are refused; the right one is kept', async () => {
      const records = randomJob(40, [sample]);
      const id = jobOf(records);
      const right = await sealFor(records, bench.key);
      await expect(bench.calls.seal(id, right)).rejects.toEqual(refusal('no-such-job'));
      await push(records, 0, records.length - 1);
      await expect(bench.calls.seal(id, right)).rejects.toEqual(refusal('not-finished'));
      await push(records);
      const stranger = await makeKey();
      const wrong = { code: 'seal-wrong' };
      await expect(bench.calls.seal(id, await sealFor(records, stranger))).rejects.toMatchObject(wrong);
      await expect(bench.calls.seal(id, `${right.slice(0, -2)}AA`)).rejects.toMatchObject(wrong);
      const elsewhere = await sealFor(randomJob(41, [sample]), bench.key);
      await expect(bench.calls.seal(id, elsewhere)).rejects.toMatchObject(wrong);
      await bench.calls.seal(id, right);
      await bench.calls.seal(id, right);
      await expect(bench.calls.seal(id, await sealFor(records, other.key))).rejects.toMatchObject({
        code: 'sealed',
      });
    });

    test('stand in the log as RFC 9162 has it, proofs and all', async () => {
      const rows = await world.office.db.selectFrom('seal_entry').selectAll().orderBy('place').execute();
      const seals = await world.office.db.selectFrom('job').select(['job', 'seal']).execute();
      const sealOf = new Map(seals.map(({ job, seal }) => [job, seal]));
      expect(rows.map(({ place }) => place)).toEqual(rows.map((_, place) => place));
      expect(rows.map(({ leaf }) => leaf)).toEqual(rows.map(({ job }) => leafOf(sealOf.get(job) ?? '')));
      expect(rows.length).toBeGreaterThan(12);
      const tree = treeOf(rows.map(({ leaf }) => leaf));
      const { db } = world.office;
      for (let size = 0; size <= rows.length; size++) expect(await rootOf(db, size)).toBe(tree.root(size));
      for (let size = 1; size <= rows.length; size += 5) {
        for (let from = 1; from <= size; from += 3)
          expect(await consistencyOf(db, from, size)).toEqual(tree.consistency(from, size));
        for (let place = 0; place < size; place += 4) {
          const { proof, index } = await inclusionOf(db, rows[place]?.job ?? '', size);
          expect([index, proof]).toEqual([place, tree.inclusion(place, size)]);
        }
      }
    });
  });

  test('counts are numbers on both engines', async () => {
    const counted = (e: ExpressionBuilder<Tables, 'record'>) => e.fn.countAll<number>().as('n');
    const row = await world.office.db.selectFrom('record').select(counted).executeTakeFirst();
    expect(typeof row?.n).toBe('number');
    expect(row?.n).toBeGreaterThan(500);
  });
});
