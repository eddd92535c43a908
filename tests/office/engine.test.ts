import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PGlite } from '@electric-sql/pglite';
import { Migrator, sql } from 'kysely';
import { afterEach, expect, inject, test } from 'vitest';
import { canonicalText } from '../../src/journal/canonical.ts';
import { migrate, migrations } from '../../src/office/db/migrations.ts';
import { SyncedFs, syncedParams } from '../../src/office/db/synced-fs.ts';
import { weekOf } from '../../src/office/weeks.ts';
import { onBothEngines } from './engines.ts';
import { jobWith, noise, photoOf } from './photos.ts';

const cleanUps: (() => unknown)[] = [];
afterEach(async () => {
  for (const cleanUp of cleanUps.splice(0).reverse()) await cleanUp();
});

test('the embedded database brings its log onto the disk with every commit, and with nothing that only reads', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'holdfast-sync-'));
  cleanUps.push(() => rmSync(folder, { recursive: true, force: true }));
  cpSync(inject('embedded'), join(folder, 'data'), { recursive: true });
  const fs = new SyncedFs(join(folder, 'data'));
  const lite = await PGlite.create({ fs, startParams: syncedParams() });
  cleanUps.push(() => lite.close());
  expect((await lite.query('show fsync')).rows).toEqual([{ fsync: 'on' }]);
  await lite.query('create table kept (n int)');
  for (let n = 0; n < 5; n++) {
    const before = fs.syncs;
    await lite.query('insert into kept values ($1)', [n]);
    expect(fs.syncs).toBe(before + 1);
    await lite.query('select * from kept');
    expect(fs.syncs).toBe(before + 1);
  }
});

onBothEngines((engine) => {
  test('an office of the first schema is brought up to date with what it has', async () => {
    const { database, remove } = await engine.fresh();
    cleanUps.push(remove, () => database.close());
    const { db } = database;
    // As it was before the second step.
    for (const name of [
      'week_stay',
      'week_pass',
      'summed_week',
      'touched_week',
      'file_part',
      'file',
      'named_file',
      'person',
    ])
      await sql`drop table ${sql.table(name)}`.execute(db);
    await sql`alter table job drop column shut_out`.execute(db);
    for (const name of ['first_pass_closed', 'stay_closed'])
      await sql`drop index ${sql.ref(name)}`.execute(db);
    await sql`delete from kysely_migration where name <> '0001-first'`.execute(db);
    const migrator = new Migrator({ db, provider: { getMigrations: async () => ({ ...migrations }) } });
    expect(
      (await migrator.getMigrations()).filter(({ executedAt }) => executedAt).map(({ name }) => name),
    ).toEqual(['0001-first']);

    const photo = photoOf(noise(1, 50));
    const records = jobWith('66666666-0000-4000-8000-000000000001', [photo, photo]);
    const [first] = records;
    const job = first?.job ?? '';
    const at = Date.parse('2026-03-04T05:06:07.000Z');
    await sql`insert into definition (hash, id, title, revision, body) values ('h', 'x', 'X', 1, '{}')`.execute(
      db,
    );
    await sql`
      insert into job (job, procedure, machine, machine_says, opened_by, opened_at, last_at, got_at, count, head, outcome,
        station, station_says, worker, paused, fence, disputed)
      values (${job}::uuid, 'h', 'M', 'M', 'ada', 0, 0, 0, 1, '', 'open', '', '', 'ada', false, 1, false)`.execute(
      db,
    );
    for (const record of records)
      await sql`
        insert into record (job, seq, hash, at, device, body)
        values (${job}::uuid, ${record.seq}, ${record.hash}, 0, 1, ${canonicalText(record)})`.execute(db);
    await db
      .insertInto('stay')
      .values({ job, station: 's', procedure: 'x', says: 'S', ms: 5, closed_at: at })
      .execute();

    expect(await migrate(db)).toEqual(['0002-files-weeks-people']);
    const { content: _, blob: __, ...named } = photo;
    const seq = records.find(({ event }) => event.type === 'attach')?.seq;
    expect(await db.selectFrom('named_file').selectAll().execute()).toEqual([{ job, seq, ...named }]);
    expect(await db.selectFrom('touched_week').selectAll().execute()).toEqual([
      { week: weekOf(at), times: 1 },
    ]);
  });
});
