import { sql } from 'kysely';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import recheck from '../../procedures/final-drive-recheck/index.ts';
import { digestOf } from '../../src/book/digest.ts';
import { firstPassRates, stationHistory } from '../../src/book/history.ts';
import { leafOf } from '../../src/book/seal-log.ts';
import { jobFrom, step } from '../../src/job/runner.ts';
import type { JournalRecord } from '../../src/journal/record.ts';
import { signData } from '../../src/journal/seal.ts';
import type { BookPage, Charts, LiveRow } from '../../src/office/page/wire.ts';
import { json } from '../../src/sync/courier.dom.ts';
import { takeOver } from '../../src/sync/fetch.ts';
import type { OfficeCalls } from '../../src/sync/office-calls.ts';
import { mayForget } from '../../src/sync/plan.ts';
import { MemoryStore } from '../journal/memory-store.ts';
import { play, rechained, toFork } from '../journal/play.ts';
import { randomJob } from '../journal/random-jobs.ts';
import { sample } from '../procedure/sample.ts';
import { onBothEngines } from './engines.ts';
import { enrol, type Member, TestBench, type World, worldOn } from './world.ts';

const jobOf = (records: readonly JournalRecord[]): string => records[0]?.job ?? '';
const uuid = (n: number) => `11111111-0000-4000-8000-${String(n).padStart(12, '0')}`;

/** The job with one more record, as a bench writes it. */
function goneOn(
  records: readonly JournalRecord[],
  event: Parameters<typeof step>[1],
  by = 'ada',
): JournalRecord[] {
  const last = Date.parse(records.at(-1)?.at ?? '');
  return [...step(jobFrom(records), event, { at: last + 1000, by, via: 'keys' }).state.records];
}

onBothEngines((engine) => {
  let world: World;
  let desk: Member;
  let benches = 0;
  const join = (fetching?: Parameters<typeof TestBench.join>[2]) =>
    TestBench.join(world, `Bench ${++benches}`, fetching);
  const complaints = (bench: TestBench) => bench.state.complaints.map(({ code }) => code);
  const stored = async (job: string) =>
    (
      await world.office.db
        .selectFrom('record')
        .select(['hash'])
        .where('job', '=', job)
        .orderBy('seq')
        .execute()
    ).map(({ hash }) => hash);
  const hashes = (records: readonly JournalRecord[]) => records.map(({ hash }) => hash);

  beforeAll(async () => {
    world = await worldOn(engine);
    desk = await enrol(world, 'desk', 'Desk');
  });
  afterAll(async () => {
    await world.close();
  });

  describe('a round', () => {
    test('brings up what the office lacks, then only what is new, and ends with the seal in the log', async () => {
      const bench = await join();
      const records = randomJob(200, [sample]);
      const local = () => ({
        job: jobOf(records),
        count: records.length,
        hash: records.at(-1)?.hash ?? '',
        closed: true,
        sealed: true,
      });
      await bench.write(records.slice(0, 7));
      await bench.round();
      expect(await stored(jobOf(records))).toEqual(hashes(records.slice(0, 7)));
      await bench.write(records.slice(7));
      await bench.round();
      expect(await stored(jobOf(records))).toEqual(hashes(records));
      expect(mayForget(local(), bench.state.jobs[jobOf(records)])).toBe(false);
      const seal = await bench.seal(records);
      await bench.round();
      const known = bench.state.jobs[jobOf(records)];
      expect(known).toMatchObject({ count: records.length, sealed: true, logged: true, trouble: null });
      expect(mayForget(local(), known)).toBe(true);
      expect(bench.state.seen?.size).toBeGreaterThan(0);
      const entry = await world.office.db
        .selectFrom('seal_entry')
        .select('leaf')
        .where('job', '=', jobOf(records))
        .executeTakeFirst();
      expect(entry?.leaf).toBe(leafOf(seal));
      const asked = world.log.length;
      await bench.round();
      // Only "how far are you" and the root: a settled job costs nothing any more.
      expect(world.log.slice(asked).filter((line) => line.includes(bench.member.name))).toHaveLength(2);
      expect(complaints(bench)).toEqual([]);
    });

    test('that is cut in the middle of an answer (stored, but never confirmed) goes on and doubles nothing', async () => {
      for (let cutAt = 1; cutAt <= 6; cutAt++) {
        let calls = 0;
        const bench = await join(async (url, init) => {
          const response = await fetch(url, init);
          if (++calls !== cutAt) return response;
          // The office has done what was asked; the line breaks while it says so.
          await response.body?.cancel();
          throw new TypeError('terminated');
        });
        const records = rechained(
          randomJob(201, [sample]).map((record) => ({ ...record, job: uuid(cutAt) })),
        );
        await bench.write(records);
        await bench.seal(records);
        for (let tries = 0; tries < 3; tries++) await bench.round().catch(() => undefined);
        expect(await stored(uuid(cutAt)), `cut at ${cutAt}`).toEqual(hashes(records));
        expect(bench.state.jobs[uuid(cutAt)], `cut at ${cutAt}`).toMatchObject({
          sealed: true,
          logged: true,
          trouble: null,
        });
        expect(complaints(bench)).toEqual([]);
      }
    });
  });

  test('a bench restored from an old copy is noticed, and gets its records back', async () => {
    const bench = await join();
    const records = randomJob(210, [sample]).slice(0, 20);
    await bench.write(records);
    await bench.round();
    const old = new TestBench(world, bench.member, new MemoryStore(), bench.state);
    await old.write(records.slice(0, 12));
    await old.round();
    expect(complaints(old)).toEqual(['restored']);
    expect(hashes(await old.store.read(jobOf(records)))).toEqual(hashes(records));
    const cleared = new TestBench(world, bench.member);
    await cleared.round();
    expect(complaints(cleared)).toEqual(['restored']);
    expect(hashes(await cleared.store.read(jobOf(records)))).toEqual(hashes(records));
  });

  test('a bench restored from an old copy that worked on in it has forked: nothing is overwritten, both sides are kept', async () => {
    const bench = await join();
    const records = randomJob(211, [sample]).slice(0, 20);
    await bench.write(records);
    await bench.round();
    const old = new TestBench(world, bench.member, new MemoryStore());
    const other = goneOn(goneOn(records.slice(0, 12), { type: 'note', says: 'Once more.' }), {
      type: 'pause',
    });
    await old.write(other);
    for (let n = 0; n < 3; n++) await old.round();
    expect(complaints(old)).toEqual(['forked']);
    expect(await stored(jobOf(records))).toEqual(hashes(records));
    expect(hashes(await old.store.read(jobOf(records)))).toEqual(hashes(other));
    const { evidence } = await desk.courier.ask<{ evidence: { code: string; theirs: string }[] }>(
      'GET',
      `/jobs/${jobOf(records)}/evidence`,
    );
    expect(evidence).toHaveLength(1);
    expect(evidence[0]).toMatchObject({ code: 'rewrite', theirs: expect.stringContaining('Once more.') });
  });

  describe('taking a job over', () => {
    const paused = (n: number) => goneOn(play(toFork(), { job: uuid(n) }), { type: 'pause' });

    test('a paused job goes on at another bench; a late write of the old one is refused and kept as evidence', async () => {
      const [a, b] = [await join(), await join()];
      const records = paused(300);
      await a.write(records);
      await a.round();
      const offer = (await b.member.calls.offered()).find(({ job }) => job === uuid(300));
      expect(offer).toMatchObject({ bench: a.member.name, fence: 1, count: records.length });
      b.state = await takeOver(b.ports, b.state, uuid(300), 1);
      expect(b.state.jobs[uuid(300)]).toMatchObject({ fence: 2 });
      const here = await b.store.read(uuid(300));
      expect(hashes(here)).toEqual(hashes(records));
      // The old bench has not heard yet, and goes on.
      const late = goneOn(records, { type: 'resume' });
      await a.write(late.slice(-1));
      const next = goneOn(goneOn(here, { type: 'resume' }), { type: 'choose', value: 'clip' });
      await b.write(next.slice(-2));
      await b.round();
      for (let n = 0; n < 3; n++) await a.round();
      expect(await stored(uuid(300))).toEqual(hashes(next));
      // Its last record happens to be the same as ours or is not ours: either way it is not the holder, and is told so.
      expect(['taken', 'forked']).toContain(complaints(a)[0]);
      expect(complaints(b)).toEqual([]);
    });

    test('a late write to a job that was taken and not gone on with is refused by the number of the lease', async () => {
      const [a, b] = [await join(), await join()];
      const records = paused(301);
      await a.write(records);
      await a.round();
      b.state = await takeOver(b.ports, b.state, uuid(301), 1);
      await a.write(goneOn(records, { type: 'resume' }).slice(-1));
      await a.round();
      expect(complaints(a)).toEqual(['taken']);
      expect(await stored(uuid(301))).toEqual(hashes(records));
      const rows = await world.office.db
        .selectFrom('evidence')
        .select('code')
        .where('job', '=', uuid(301))
        .execute();
      expect(rows).toEqual([{ code: 'fence-old' }]);
    });

    test('of two benches that ask at once one gets it', async () => {
      const [a, b, c] = [await join(), await join(), await join()];
      for (let n = 310; n < 316; n++) {
        await a.write(paused(n));
        await a.round();
        const tries = await Promise.allSettled([
          b.member.calls.take(uuid(n), 1),
          c.member.calls.take(uuid(n), 1),
        ]);
        expect(tries.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
        const lost = tries.find((one) => one.status === 'rejected') as PromiseRejectedResult;
        expect(lost.reason).toMatchObject({ code: 'fence-old', detail: { fence: 2 } });
      }
    });

    test('a job that is being worked on is not taken, unless the supervisor releases it', async () => {
      const [a, b] = [await join(), await join()];
      const records = play(toFork(), { job: uuid(320) });
      await a.write(records);
      await a.round();
      await expect(b.member.calls.take(uuid(320), 1)).rejects.toMatchObject({ code: 'not-paused' });
      await desk.courier.ask('POST', `/jobs/${uuid(320)}/release`);
      await expect(b.member.calls.take(uuid(320), 1)).rejects.toMatchObject({ code: 'fence-old' });
      expect(await b.member.calls.take(uuid(320), 2)).toMatchObject({ fence: 3 });
    });

    test('whose answer was lost is had again, and the records come with the next round', async () => {
      const [a, b] = [await join(), await join()];
      await a.write(paused(330));
      await a.round();
      await b.member.calls.take(uuid(330), 1);
      expect(await b.member.calls.take(uuid(330), 1)).toMatchObject({ fence: 2 });
      await b.round();
      expect(await b.store.read(uuid(330))).toHaveLength(paused(330).length);
    });
  });

  describe('the log of seals', () => {
    const fooled = (bench: TestBench, calls: Partial<OfficeCalls>) => {
      const cheat = new TestBench(world, bench.member, bench.store, bench.state);
      Object.assign(cheat.ports, { calls: { ...bench.member.calls, ...calls } });
      return cheat;
    };
    const signed = (size: number, root: string) =>
      signData({ size, root, at: '2026-11-20T12:00:00.000Z' }, world.office.key);

    test('is believed as long as it only grows, and complained about when history changes', async () => {
      const bench = await join();
      await bench.round();
      const seen = bench.state.seen;
      expect(seen?.size).toBeGreaterThan(1);
      const size = seen?.size ?? 0;
      const shrunk = fooled(bench, { root: () => signed(size - 1, 'a'.repeat(64)) });
      await shrunk.round();
      const changed = fooled(bench, { root: () => signed(size, 'b'.repeat(64)) });
      await changed.round();
      const grown = fooled(bench, {
        root: () => signed(size + 3, 'c'.repeat(64)),
        consistency: async () => ['d'.repeat(64), 'e'.repeat(64)],
      });
      await grown.round();
      expect([shrunk, changed, grown].map(complaints)).toEqual([
        ['log-shrank'],
        ['log-rewritten'],
        ['log-rewritten'],
      ]);
      for (const one of [shrunk, changed, grown]) expect(one.state.seen).toEqual(seen);
      const foreign = fooled(bench, {
        root: async () =>
          signData({ size, root: seen?.root, at: '2026-11-20T12:00:00.000Z' }, bench.member.key),
      });
      await foreign.round();
      expect(complaints(foreign)).toEqual(['not-our-office']);
      await bench.round();
      expect(complaints(bench)).toEqual([]);
    });

    test('of an office that was restored from an old copy is complained about, and what is missing is sent again', async () => {
      const bench = await join();
      const records = randomJob(221, [sample]);
      await bench.write(records);
      await bench.seal(records);
      await bench.round();
      expect(bench.state.jobs[jobOf(records)]).toMatchObject({ logged: true });
      const { db } = world.office;
      const { size } = await db.selectFrom('seal_head').select('size').executeTakeFirstOrThrow();
      await db
        .deleteFrom('seal_node')
        .where(sql<boolean>`(idx + 1) * (1 << level) > ${size - 1}`)
        .execute();
      await db.deleteFrom('seal_entry').where('job', '=', jobOf(records)).execute();
      await db
        .updateTable('seal_head')
        .set({ size: size - 1 })
        .execute();
      for (const table of ['record', 'first_pass', 'stay', 'job'] as const)
        await db.deleteFrom(table).where('job', '=', jobOf(records)).execute();
      expect(await stored(jobOf(records))).toEqual([]);
      await bench.round();
      await bench.round();
      expect(complaints(bench)).toEqual(['log-shrank']);
      expect(await stored(jobOf(records))).toEqual(hashes(records));
      expect((await db.selectFrom('seal_head').select('size').executeTakeFirstOrThrow()).size).toBe(size);
    });

    test('must hold the seals of this bench', async () => {
      const bench = await join();
      const records = randomJob(220, [sample]);
      await bench.write(records);
      await bench.seal(records);
      const cheat = fooled(bench, {
        inclusion: async (job, size) => ({ ...(await bench.member.calls.inclusion(job, size)), proof: [] }),
      });
      await cheat.round();
      expect(complaints(cheat)).toEqual(['seal-not-in-log']);
      expect(cheat.state.jobs[jobOf(records)]?.logged).toBe(false);
    });
  });

  describe('the desk', () => {
    test('sees station, witness waited for, trouble and pause of every bench', async () => {
      const bench = await join();
      const toHold = [
        ...toFork('ben'),
        { type: 'choose', value: 'clip', who: 'ben' } as const,
        { type: 'advance', who: 'ben' } as const,
      ];
      const waiting = play(
        [
          ...toHold,
          {
            type: 'confirm',
            evidence: { kind: 'phrase', phrase: 'open end trails', score: 0.9 },
            who: 'ben',
          },
        ],
        { job: uuid(400) },
      );
      const trouble = goneOn(play(toFork(), { job: uuid(401) }), {
        type: 'trouble',
        says: 'The hub is cracked.',
      });
      await bench.write(waiting);
      await bench.write(trouble);
      await bench.round();
      const { jobs } = await desk.courier.ask<{ jobs: LiveRow[] }>('GET', '/live');
      const row = (n: number) => jobs.find(({ job }) => job === uuid(n));
      expect(row(400)).toMatchObject({
        bench: bench.member.name,
        station: waiting.at(-1)?.station,
        waitsFor: 'Ben',
        trouble: null,
      });
      expect(row(401)).toMatchObject({ trouble: 'The hub is cracked.', paused: false });
    });

    test('reads the book page by page without losing or doubling a job, and finds what it looks for', async () => {
      const all = new Set<string>();
      let after: string | null = null;
      let pages = 0;
      do {
        const question: string = after === null ? '' : `&after=${encodeURIComponent(after)}`;
        const page: BookPage = await desk.courier.ask('GET', `/book?outcome=complete${question}`);
        for (const { job } of page.rows) {
          expect(all.has(job)).toBe(false);
          all.add(job);
        }
        after = page.next;
        pages++;
      } while (after !== null);
      const counted = await world.office.db
        .selectFrom('job')
        .select((e) => e.fn.countAll<number>().as('n'))
        .where('outcome', '=', 'complete')
        .executeTakeFirst();
      expect(all.size).toBe(counted?.n);
      expect(pages).toBeGreaterThan(0);
      const book = (question: string) => desk.courier.ask<BookPage>('GET', `/book?${question}`);
      expect((await book(`text=${uuid(401)}`)).rows.map(({ job }) => job)).toEqual([uuid(401)]);
      expect(
        (await book('odd=true')).rows.every(({ disputed, findings }) => disputed || findings.length > 0),
      ).toBe(true);
      expect((await book('from=2031-01-01')).rows).toEqual([]);
      expect((await book('machine=nowhere')).rows).toEqual([]);
    });

    test('is told the same figures as the book of one bench works out', async () => {
      const more = await join();
      for (let seed = 230; seed < 236; seed++) await more.write(randomJob(seed, [sample, recheck]));
      await more.round();
      const rows = await world.office.db
        .selectFrom('job')
        .select('job')
        .where('outcome', '!=', 'open')
        .execute();
      const digests = [];
      for (const { job } of rows) {
        const text = await desk.courier.text('GET', `/jobs/${job}/records`);
        digests.push(
          digestOf(
            text
              .trimEnd()
              .split('\n')
              .map((line) => JSON.parse(line) as JournalRecord),
          ),
        );
      }
      const charts = await desk.courier.ask<Charts>('GET', '/charts');
      const byPlace = (a: { procedure: string; station: string }, b: typeof a) =>
        `${a.procedure} ${a.station}`.localeCompare(`${b.procedure} ${b.station}`);
      const wanted = firstPassRates(digests)
        .map(({ title: _, ...rate }) => rate)
        .sort(byPlace);
      expect([...charts.firstPass].sort(byPlace)).toEqual(wanted);
      expect(wanted.length).toBeGreaterThan(2);
      const weeks = charts.weeks.reduce((sum, { jobs }) => sum + jobs, 0);
      expect(weeks).toBe(wanted.reduce((sum, { jobs }) => sum + jobs, 0));
      const history = stationHistory(digests, sample.id);
      const stays = charts.stays.filter(({ procedure }) => procedure === sample.id);
      expect(stays.length).toBe(history.size);
      for (const { station, jobs, median, p80 } of stays) {
        const one = history.get(station);
        expect(jobs).toBe(one?.jobs);
        expect(median).toBeCloseTo(one?.median ?? Number.NaN, 6);
        expect(p80).toBeCloseTo(one?.p80 ?? Number.NaN, 6);
      }
    });

    test('gets a date range as a table, as lines and as an archive', async () => {
      const csv = await desk.courier.text('GET', '/export?as=csv');
      const jobs = await world.office.db
        .selectFrom('job')
        .select((e) => e.fn.countAll<number>().as('n'))
        .executeTakeFirst();
      expect(csv.trimEnd().split('\r\n')).toHaveLength((jobs?.n ?? 0) + 1);
      const records = await world.office.db
        .selectFrom('record')
        .select((e) => e.fn.countAll<number>().as('n'))
        .executeTakeFirst();
      const text = await desk.courier.text('GET', '/export?as=lines');
      expect(text.split('\n').filter((line) => line.startsWith('{"at":'))).toHaveLength(records?.n ?? 0);
      expect(await desk.courier.text('GET', '/export?as=csv&from=2031-01-01')).toMatch(/^job,[^\r]*\r\n$/);
      await expect(desk.courier.ask('GET', '/export?as=csv&from=2026-02-30')).rejects.toMatchObject({
        code: 'bad-request',
      });
      await expect(desk.courier.ask('POST', '/codes', json({ kind: 'boss' }))).rejects.toMatchObject({
        code: 'bad-request',
      });
    });
  });

  test('the office was never at a fault of its own', () => {
    expect(world.log.filter((line) => / 5\d\d | fault /.test(line))).toEqual([]);
  });
});
