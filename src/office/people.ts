import type { SentPin } from '../job/workshop.ts';
import { toMoment } from '../journal/moment.ts';
import { OfficeError } from '../sync/fault.ts';
import type { Settings } from '../sync/wire.ts';
import type { Db } from './db/engine.ts';
import type { PersonTable } from './db/schema.ts';
import type { Line } from './lines.ts';
import type { PersonRow } from './page/wire.ts';

/** The settings that were published last, as they were signed. */
async function inForce(db: Db): Promise<Settings | null> {
  const row = await db
    .selectFrom('settings')
    .select('body')
    .orderBy('version', 'desc')
    .limit(1)
    .executeTakeFirst();
  return row ? (JSON.parse(row.body) as Settings) : null;
}

/** The people of the published workshop, and who of them is shut out. */
export async function people(db: Db): Promise<PersonRow[]> {
  const settings = await inForce(db);
  const rows = await db.selectFrom('person').selectAll().execute();
  const known = new Map(rows.map((row) => [row.person, row]));
  return (settings?.people ?? []).map(({ id, name, role }) => {
    const at = known.get(id)?.shut_out_at ?? null;
    return {
      id,
      name,
      role,
      shutOutAt: at === null ? null : toMoment(at),
      shutOutWhy: known.get(id)?.shut_out_why ?? null,
      hasPin: (known.get(id)?.pin ?? null) !== null,
    };
  });
}

/**
 * Shuts a person of the workshop out, or lets them in again (`why` null). Benches hear of it with the settings. What they
 * did before stays good. Throws `no-such-person`.
 */
export const shutOut = (db: Db, person: string, why: string | null, now: number): Promise<void> =>
  change(db, person, { shut_out_at: why === null ? null : now, shut_out_why: why });

/** Sets what is kept of a person's PIN; benches take it with the settings. Throws `no-such-person`. */
export const setPin = (db: Db, person: string, pin: SentPin): Promise<void> =>
  change(db, person, { pin: JSON.stringify(pin) });

async function change(db: Db, person: string, what: Partial<Omit<PersonTable, 'person'>>): Promise<void> {
  const settings = await inForce(db);
  if (!settings?.people.some(({ id }) => id === person)) throw new OfficeError('no-such-person');
  await db
    .insertInto('person')
    .values({ person, shut_out_at: null, shut_out_why: null, pin: null, ...what })
    .onConflict((conflict) => conflict.column('person').doUpdateSet(what))
    .execute();
}

/** What is kept of every PIN that was set, by person. */
export async function pinsSet(db: Db): Promise<Record<string, SentPin>> {
  const rows = await db.selectFrom('person').select(['person', 'pin']).orderBy('person').execute();
  return Object.fromEntries(
    rows.flatMap(({ person, pin }) => (pin === null ? [] : [[person, JSON.parse(pin) as SentPin]])),
  );
}

/** Ids of the people who are shut out now. */
export async function shutOutPeople(db: Db): Promise<string[]> {
  const rows = await db
    .selectFrom('person')
    .select('person')
    .where('shut_out_at', 'is not', null)
    .orderBy('person')
    .execute();
  return rows.map(({ person }) => person);
}

/** Saying that something is wrong, pausing and stopping are open to everybody, and no work. */
const NO_WORK: readonly string[] = ['pause', 'note', 'trouble', 'stop', 'attach'];

/**
 * Did somebody work here after they were shut out? A bench that was away could not know. Such records are kept, because they
 * happened, and the job is shown as odd.
 */
export async function workedShutOut(db: Db, lines: readonly Line[]): Promise<boolean> {
  const out = await db
    .selectFrom('person')
    .select(['person', 'shut_out_at'])
    .where('shut_out_at', 'is not', null)
    .execute();
  const since = new Map(out.map(({ person, shut_out_at }) => [person, shut_out_at ?? 0]));
  return lines.some(({ record: { by, event, outcome }, at }) => {
    const from = since.get(by);
    return from !== undefined && at >= from && outcome === 'accepted' && !NO_WORK.includes(event.type);
  });
}
