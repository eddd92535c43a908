import { sql } from 'kysely';
import type { Db } from './db/engine.ts';

/** Weeks of seven days from Monday 5 January 1970 on. */
export const WEEK_MS = 604_800_000;
export const FIRST_MONDAY = 345_600_000;

/** ms since 1970 of the beginning of the week in which this moment lies. */
export const weekOf = (at: number): number =>
  Math.floor((at - FIRST_MONDAY) / WEEK_MS) * WEEK_MS + FIRST_MONDAY;

/** Longest time at a station that is kept, ms (24.8 days): four bytes each in the sums. */
export const MOST_STAY_MS = 2_147_483_647;

/**
 * Says that a job which closed in this week is being added, in the transaction that adds it. The row stays locked until
 * then, so that nobody sums the week up without it; sums made before count no more.
 */
export async function touchWeek(db: Db, at: number): Promise<void> {
  await db
    .insertInto('touched_week')
    .values({ week: weekOf(at), times: 1 })
    .onConflict((conflict) =>
      conflict.column('week').doUpdateSet((e) => ({ times: e('touched_week.times', '+', 1) })),
    )
    .execute();
}

/** The weeks from `from` on and before `to` of which something is known but no sums that still count. */
async function unsummed(db: Db, from: number, to: number): Promise<number[]> {
  const rows = await db
    .selectFrom('touched_week as touched')
    .leftJoin('summed_week as summed', 'summed.week', 'touched.week')
    .select('touched.week')
    .where('touched.week', '>=', from)
    .where('touched.week', '<', to)
    .where((e) => e.or([e('summed.times', 'is', null), e('summed.times', '!=', e.ref('touched.times'))]))
    .orderBy('touched.week')
    .execute();
  return rows.map(({ week }) => week);
}

/**
 * Brings the sums of all whole weeks from `from` on and before `to` up to date. A week that nothing was added to since
 * costs nothing, so that a question over years reads the days of one week or two and sums for the rest.
 */
export async function sumWeeks(db: Db, from: number, to: number): Promise<void> {
  for (const week of await unsummed(db, from, to)) await sumWeek(db, week);
}

async function sumWeek(db: Db, week: number): Promise<void> {
  await db.transaction().execute(async (transaction) => {
    // Whoever is adding to this week has the row; when it is ours, all that was added is seen.
    const touched = await transaction
      .selectFrom('touched_week')
      .select('times')
      .where('week', '=', week)
      .forUpdate()
      .executeTakeFirstOrThrow();
    const end = week + WEEK_MS;
    await transaction.deleteFrom('week_pass').where('week', '=', week).execute();
    await transaction.deleteFrom('week_stay').where('week', '=', week).execute();
    await sql`
      insert into week_pass (week, procedure, station, says, jobs, passed, conceded)
      select ${week}::int8, procedure, station, max(says collate "C"), count(*),
        count(*) filter (where what = 'passed'), count(*) filter (where what = 'conceded')
      from first_pass where closed_at >= ${week}::int8 and closed_at < ${end}::int8
      group by procedure, station`.execute(transaction);
    await sql`
      insert into week_stay (week, procedure, station, says, jobs, ms)
      select ${week}::int8, procedure, station, max(says collate "C"), count(*), string_agg(int4send(ms::int4), ''::bytea)
      from stay where closed_at >= ${week}::int8 and closed_at < ${end}::int8
      group by procedure, station`.execute(transaction);
    await transaction
      .insertInto('summed_week')
      .values({ week, times: touched.times })
      .onConflict((conflict) => conflict.column('week').doUpdateSet({ times: touched.times }))
      .execute();
  });
}
