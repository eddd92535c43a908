import fc from 'fast-check';
import { sql } from 'kysely';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { charts, cutAtWeeks } from '../../src/office/charts.ts';
import type { Database } from '../../src/office/db/engine.ts';
import type { Filter } from '../../src/office/page/wire.ts';
import { sumWeeks, touchWeek, WEEK_MS, weekOf } from '../../src/office/weeks.ts';
import { onBothEngines } from './engines.ts';
import { fullCharts } from './full-charts.ts';

const DAY = 86_400_000;
const FIRST = Date.parse('2026-08-31T00:00:00.000Z');
const NOW = FIRST + 8 * WEEK_MS + 3 * DAY;
const PROCEDURES = ['chain', 'brake'] as const;
const STATIONS = ['torque', 'slack', 'clip'] as const;
const day = (at: number) => new Date(at).toISOString().slice(0, 10);

/** A job that closed: when, and what came of it. Some lie in weeks long past, some in the one that is going on. */
const closed = fc.record({
  at: fc.oneof(
    fc.integer({ min: FIRST, max: NOW + DAY }),
    // On the edges of weeks and days, where one too many or too few would be.
    fc.integer({ min: 0, max: 60 }).map((days) => FIRST + days * DAY),
    fc.integer({ min: 1, max: 60 }).map((days) => FIRST + days * DAY - 1),
  ),
  procedure: fc.constantFrom(...PROCEDURES),
  whats: fc.array(fc.constantFrom('passed', 'conceded', 'failed'), { minLength: 0, maxLength: 3 }),
  ms: fc.array(fc.integer({ min: 0, max: 9_000_000 }), { minLength: 0, maxLength: 3 }),
  reworded: fc.boolean(),
});
const filter = fc.record({
  from: fc.option(
    fc.integer({ min: -5, max: 66 }).map((days) => day(FIRST + days * DAY)),
    { nil: undefined },
  ),
  to: fc.option(
    fc.integer({ min: -5, max: 66 }).map((days) => day(FIRST + days * DAY)),
    { nil: undefined },
  ),
  procedure: fc.option(fc.constantFrom(...PROCEDURES, 'none'), { nil: undefined }),
});
const given = (one: { [key: string]: string | undefined }): Filter =>
  Object.fromEntries(Object.entries(one).filter(([, value]) => value !== undefined));

onBothEngines((engine) => {
  let database: Database;
  let remove: () => Promise<void>;
  let made = 0;

  beforeAll(async () => {
    const fresh = await engine.fresh();
    database = fresh.database;
    remove = fresh.remove;
  });
  afterAll(async () => {
    await database.close();
    await remove();
  });

  /** What ingest keeps of a job that closed. */
  async function close({
    at,
    procedure,
    whats,
    ms,
    reworded,
  }: typeof closed extends fc.Arbitrary<infer T> ? T : never) {
    const job = `44444444-0000-4000-8000-${String(made++).padStart(12, '0')}`;
    await database.db.transaction().execute(async (db) => {
      await touchWeek(db, at);
      const common = (n: number) => ({
        job,
        station: STATIONS[n] ?? '',
        procedure,
        says: `${STATIONS[n]}${reworded ? ', again' : ''}`,
        closed_at: at,
      });
      const passes = whats.map((what, n) => ({ ...common(n), what: what as 'passed' }));
      const stays = ms.map((one, n) => ({ ...common(n), ms: one }));
      if (passes.length > 0) await db.insertInto('first_pass').values(passes).execute();
      if (stays.length > 0) await db.insertInto('stay').values(stays).execute();
    });
  }

  async function empty() {
    for (const table of ['first_pass', 'stay', 'touched_week', 'summed_week', 'week_pass', 'week_stay'])
      await sql`delete from ${sql.table(table)}`.execute(database.db);
  }

  test('the sums of weeks are what the full query gives, whatever came late and whatever was asked before', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(fc.array(closed, { maxLength: 12 }), filter), { minLength: 1, maxLength: 4 }),
        async (turns) => {
          await empty();
          for (const [jobs, asked] of turns) {
            for (const job of jobs) await close(job);
            for (const one of [given(asked), {}])
              expect(await charts(database.db, one, NOW)).toEqual(await fullCharts(database.db, one));
          }
        },
      ),
      { numRuns: 15 },
    );
  });

  test('a job that is added while its week is summed is in the next answer', async () => {
    await empty();
    const at = FIRST + DAY;
    const job = { at, procedure: 'chain' as const, whats: ['passed' as const], ms: [1000], reworded: false };
    for (let n = 0; n < 12; n++)
      await Promise.all([close(job), sumWeeks(database.db, FIRST, FIRST + WEEK_MS), close(job)]);
    const answer = await charts(database.db, {}, NOW);
    expect(answer.firstPass).toMatchObject([{ station: 'torque', jobs: 24, passed: 24 }]);
    expect(answer).toEqual(await fullCharts(database.db, {}));
  });

  test('a week that nothing was added to is summed once', async () => {
    await empty();
    await close({ at: FIRST + DAY, procedure: 'chain', whats: ['passed'], ms: [5], reworded: false });
    await charts(database.db, {}, NOW);
    // Were it summed again, it would now be empty.
    await sql`delete from stay`.execute(database.db);
    expect((await charts(database.db, {}, NOW)).stays).toMatchObject([{ jobs: 1, median: 5, p80: 5 }]);
    await close({ at: FIRST + 2 * DAY, procedure: 'chain', whats: [], ms: [7], reworded: false });
    expect((await charts(database.db, {}, NOW)).stays).toMatchObject([{ jobs: 1, median: 7 }]);
  });
});

test('a span is cut so that its weeks and days are the whole of it, once', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 90 * DAY }),
      fc.integer({ min: 1, max: 90 * DAY }),
      (start, length) => {
        const [from, to] = [FIRST + start, FIRST + start + length];
        const { weeks, days } = cutAtWeeks(from, to, NOW);
        const spans = [...days, weeks].filter((one) => one.from < one.to).toSorted((a, b) => a.from - b.from);
        expect(spans[0]?.from).toBe(from);
        expect(spans.at(-1)?.to).toBe(to);
        for (const [n, one] of spans.entries()) if (n > 0) expect(one.from).toBe(spans[n - 1]?.to);
        expect((weeks.to - weeks.from) % WEEK_MS).toBe(0);
        if (weeks.from < weeks.to) expect(weekOf(weeks.from)).toBe(weeks.from);
      },
    ),
  );
});
