import { sql } from 'kysely';
import { span } from '../../src/office/book.ts';
import type { Db } from '../../src/office/db/engine.ts';
import type { Charts, Filter, FirstPassRow, StayRow } from '../../src/office/page/wire.ts';
import { wilson } from '../../src/trade/percentile.ts';

// The charts straight from what is kept of each job, without sums: what the sums are held against.

const key = ({ procedure, station }: { procedure: string; station: string }) => `${procedure}\n${station}`;
const inOrder = <T extends { procedure: string; station: string }>(rows: readonly T[]): T[] =>
  rows.toSorted((a, b) => (key(a) < key(b) ? -1 : 1));

export const fullCharts = async (db: Db, filter: Filter): Promise<Charts> => ({
  firstPass: inOrder(await firstPass(db, filter)),
  weeks: await firstPassWeeks(db, filter),
  stays: inOrder(await stays(db, filter)),
});

async function firstPass(db: Db, filter: Filter): Promise<FirstPassRow[]> {
  const { from, to } = span(filter);
  let query = db
    .selectFrom('first_pass')
    .select(['procedure', 'station'])
    .select((e) => [
      sql<string>`max(says collate "C")`.as('says'),
      e.fn.countAll<number>().as('jobs'),
      e.fn.countAll<number>().filterWhere('what', '=', 'passed').as('passed'),
      e.fn.countAll<number>().filterWhere('what', '=', 'conceded').as('conceded'),
    ])
    .where('closed_at', '>=', from)
    .where('closed_at', '<', to)
    .groupBy(['procedure', 'station'])
    .orderBy('procedure')
    .orderBy('station');
  if (filter.procedure) query = query.where('procedure', '=', filter.procedure);
  const rows = await query.execute();
  return rows.map((row) => ({ ...row, limits: wilson(row.passed, row.jobs) }));
}

async function firstPassWeeks(
  db: Db,
  filter: Filter,
): Promise<{ week: number; jobs: number; passed: number }[]> {
  const { from, to } = span(filter);
  // Weeks of seven days from Monday 5 January 1970 on.
  const week = sql<number>`((closed_at - 345600000) / 604800000) * 604800000 + 345600000`;
  let query = db
    .selectFrom('first_pass')
    .select(week.as('week'))
    .select((e) => [
      e.fn.countAll<number>().as('jobs'),
      e.fn.countAll<number>().filterWhere('what', '=', 'passed').as('passed'),
    ])
    .where('closed_at', '>=', from)
    .where('closed_at', '<', to)
    .groupBy(week)
    .orderBy(week);
  if (filter.procedure) query = query.where('procedure', '=', filter.procedure);
  return query.execute();
}

async function stays(db: Db, filter: Filter): Promise<StayRow[]> {
  const { from, to } = span(filter);
  let query = db
    .selectFrom('stay')
    .select(['procedure', 'station'])
    .select((e) => [sql<string>`max(says collate "C")`.as('says'), e.fn.countAll<number>().as('jobs')])
    .select(sql<number>`percentile_cont(0.5) within group (order by ms)`.as('median'))
    .select(sql<number>`percentile_cont(0.8) within group (order by ms)`.as('p80'))
    .where('closed_at', '>=', from)
    .where('closed_at', '<', to)
    .groupBy(['procedure', 'station'])
    .orderBy('procedure')
    .orderBy('station');
  if (filter.procedure) query = query.where('procedure', '=', filter.procedure);
  return query.execute();
}
