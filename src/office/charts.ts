import { sql } from 'kysely';
import { quantile, wilson } from '../trade/percentile.ts';
import { span } from './book.ts';
import type { Db } from './db/engine.ts';
import type { Charts, Filter, FirstPassRow, StayRow } from './page/wire.ts';
import { sumWeeks, WEEK_MS, weekOf } from './weeks.ts';

interface Pass {
  readonly procedure: string;
  readonly station: string;
  readonly says: string;
  readonly week: number;
  readonly jobs: number;
  readonly passed: number;
  readonly conceded: number;
}

interface Stay {
  readonly procedure: string;
  readonly station: string;
  readonly says: string;
  readonly ms: Int32Array;
}

/** A span of time cut into whole weeks, for which there are sums, and the days before and after them. */
interface Cut {
  readonly weeks: { readonly from: number; readonly to: number };
  readonly days: readonly { readonly from: number; readonly to: number }[];
}

export function cutAtWeeks(from: number, to: number, now: number): Cut {
  const first = weekOf(from - 1) + WEEK_MS;
  // The week that is going on changes with every job: it is read as it is.
  const last = Math.min(weekOf(to), weekOf(now));
  if (first >= last) return { weeks: { from: first, to: first }, days: [{ from, to }] };
  const days = [
    { from, to: first },
    { from: last, to },
  ];
  return { weeks: { from: first, to: last }, days: days.filter((one) => one.from < one.to) };
}

/**
 * First-pass rates of hold points with Wilson limits (95 %), how they went from week to week, and the median and 80th
 * percentile of the time at each station (linear interpolation, Hyndman and Fan type 7), of jobs that closed in this span.
 * Whole weeks that are over come from their sums, which are exact.
 */
export async function charts(db: Db, filter: Filter, now: number): Promise<Charts> {
  const { from, to } = span(filter);
  const cut = cutAtWeeks(from, to, now);
  await sumWeeks(db, cut.weeks.from, cut.weeks.to);
  const passes = await passesIn(db, cut, filter.procedure);
  return {
    firstPass: rates(passes),
    weeks: byWeek(passes),
    stays: times(await staysIn(db, cut, filter.procedure)),
  };
}

/** A station that was reworded has one name in a table: the last in the order of signs. */
const lastSaid = sql<string>`max(says collate "C")`.as('says');
/** The beginning of the week in which a job closed, as `weekOf` has it. */
const weekIn = sql<number>`((closed_at + 259200000) / 604800000) * 604800000 - 259200000`;

async function passesIn(db: Db, { weeks, days }: Cut, procedure: string | undefined): Promise<Pass[]> {
  const summed = await db
    .selectFrom('week_pass')
    .selectAll()
    .where('week', '>=', weeks.from)
    .where('week', '<', weeks.to)
    .$if(procedure !== undefined, (query) => query.where('procedure', '=', procedure ?? ''))
    .execute();
  const passes: Pass[] = [...summed];
  for (const { from, to } of days) {
    const rows = await db
      .selectFrom('first_pass')
      .select(['procedure', 'station', lastSaid, weekIn.as('week')])
      .select((e) => [
        e.fn.countAll<number>().as('jobs'),
        e.fn.countAll<number>().filterWhere('what', '=', 'passed').as('passed'),
        e.fn.countAll<number>().filterWhere('what', '=', 'conceded').as('conceded'),
      ])
      .where('closed_at', '>=', from)
      .where('closed_at', '<', to)
      .$if(procedure !== undefined, (query) => query.where('procedure', '=', procedure ?? ''))
      .groupBy(['procedure', 'station', weekIn])
      .execute();
    passes.push(...rows);
  }
  return passes;
}

async function staysIn(db: Db, { weeks, days }: Cut, procedure: string | undefined): Promise<Stay[]> {
  const summed = await db
    .selectFrom('week_stay')
    .select(['procedure', 'station', lastSaid])
    .select(sql<Uint8Array>`string_agg(ms, ''::bytea)`.as('ms'))
    .where('week', '>=', weeks.from)
    .where('week', '<', weeks.to)
    .$if(procedure !== undefined, (query) => query.where('procedure', '=', procedure ?? ''))
    .groupBy(['procedure', 'station'])
    .execute();
  const stays: Stay[] = summed.map(({ ms, ...where }) => ({ ...where, ms: unpacked(ms) }));
  for (const { from, to } of days) {
    const rows = await db
      .selectFrom('stay')
      .select(['procedure', 'station', lastSaid])
      .select(sql<Uint8Array>`string_agg(int4send(ms::int4), ''::bytea)`.as('ms'))
      .where('closed_at', '>=', from)
      .where('closed_at', '<', to)
      .$if(procedure !== undefined, (query) => query.where('procedure', '=', procedure ?? ''))
      .groupBy(['procedure', 'station'])
      .execute();
    for (const { ms, ...where } of rows) stays.push({ ...where, ms: unpacked(ms) });
  }
  return stays;
}

/** Four bytes each, the highest first, as numbers of this machine, which has the lowest first. */
function unpacked(bytes: Uint8Array): Int32Array {
  const own = new Uint8Array(bytes);
  Buffer.from(own.buffer).swap32();
  return new Int32Array(own.buffer);
}

interface Placed {
  readonly procedure: string;
  readonly station: string;
  readonly says: string;
}

/** What belongs to one station of one procedure, in the order of their names. */
function byStation<T extends Placed>(items: readonly T[]): T[][] {
  const stations = new Map<string, T[]>();
  for (const item of items) {
    const key = `${item.procedure}\n${item.station}`;
    const there = stations.get(key);
    if (there) there.push(item);
    else stations.set(key, [item]);
  }
  return [...stations].toSorted(([a], [b]) => (a < b ? -1 : 1)).map(([, group]) => group);
}

const sum = <T>(items: readonly T[], of: (item: T) => number): number =>
  items.reduce((total, item) => total + of(item), 0);

const saidOf = (group: readonly Placed[]): string =>
  group
    .map(({ says }) => says)
    .toSorted()
    .at(-1) ?? '';

const rates = (passes: readonly Pass[]): FirstPassRow[] =>
  byStation(passes).map((group) => {
    const { procedure = '', station = '' } = group[0] ?? {};
    const jobs = sum(group, (one) => one.jobs);
    const passed = sum(group, (one) => one.passed);
    const conceded = sum(group, (one) => one.conceded);
    return { procedure, station, says: saidOf(group), jobs, passed, conceded, limits: wilson(passed, jobs) };
  });

function byWeek(passes: readonly Pass[]): Charts['weeks'] {
  const weeks = new Map<number, { week: number; jobs: number; passed: number }>();
  for (const { week, jobs, passed } of passes) {
    const there = weeks.get(week) ?? { week, jobs: 0, passed: 0 };
    weeks.set(week, { week, jobs: there.jobs + jobs, passed: there.passed + passed });
  }
  return [...weeks.values()].toSorted((a, b) => a.week - b.week);
}

const times = (stays: readonly Stay[]): StayRow[] =>
  byStation(stays).map((group) => {
    const { procedure = '', station = '' } = group[0] ?? {};
    const all = new Int32Array(sum(group, ({ ms }) => ms.length));
    let at = 0;
    for (const { ms } of group) {
      all.set(ms, at);
      at += ms.length;
    }
    all.sort();
    return {
      procedure,
      station,
      says: saidOf(group),
      jobs: all.length,
      median: quantile(all, 0.5),
      p80: quantile(all, 0.8),
    };
  });
