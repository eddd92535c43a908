import { type Kysely, type Migration, Migrator, sql } from 'kysely';
import type { Tables } from './schema.ts';

const first: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    const { schema } = db;
    await schema
      .createTable('device')
      .addColumn('id', 'integer', (c) => c.primaryKey().generatedAlwaysAsIdentity())
      .addColumn('kid', 'text', (c) => c.notNull().unique())
      .addColumn('kind', 'text', (c) => c.notNull())
      .addColumn('name', 'text', (c) => c.notNull().unique())
      .addColumn('x', 'text', (c) => c.notNull())
      .addColumn('y', 'text', (c) => c.notNull())
      .addColumn('enrolled_at', 'bigint', (c) => c.notNull())
      .addColumn('seen_at', 'bigint')
      .addColumn('revoked_at', 'bigint')
      .addColumn('revoked_why', 'text')
      .execute();
    await schema
      .createTable('code')
      .addColumn('hash', 'text', (c) => c.primaryKey())
      .addColumn('kind', 'text', (c) => c.notNull())
      .addColumn('made_at', 'bigint', (c) => c.notNull())
      .addColumn('expires_at', 'bigint', (c) => c.notNull())
      .addColumn('used_by', 'integer', (c) => c.references('device.id'))
      .execute();
    await schema
      .createTable('definition')
      .addColumn('hash', 'text', (c) => c.primaryKey())
      .addColumn('id', 'text', (c) => c.notNull())
      .addColumn('title', 'text', (c) => c.notNull())
      .addColumn('revision', 'integer', (c) => c.notNull())
      .addColumn('body', 'text', (c) => c.notNull())
      .addColumn('published_at', 'bigint')
      .execute();
    await schema
      .createIndex('definition_published')
      .unique()
      .on('definition')
      .columns(['id', 'revision'])
      .where(sql.ref('published_at'), 'is not', null)
      .execute();
    await schema
      .createTable('job')
      .addColumn('job', 'uuid', (c) => c.primaryKey())
      .addColumn('procedure', 'text', (c) => c.notNull().references('definition.hash'))
      .addColumn('machine', 'text', (c) => c.notNull())
      .addColumn('machine_says', 'text', (c) => c.notNull())
      .addColumn('opened_by', 'text', (c) => c.notNull())
      .addColumn('opened_at', 'bigint', (c) => c.notNull())
      .addColumn('last_at', 'bigint', (c) => c.notNull())
      .addColumn('got_at', 'bigint', (c) => c.notNull())
      .addColumn('count', 'integer', (c) => c.notNull())
      .addColumn('head', 'text', (c) => c.notNull())
      .addColumn('outcome', 'text', (c) => c.notNull())
      .addColumn('station', 'text', (c) => c.notNull())
      .addColumn('station_says', 'text', (c) => c.notNull())
      .addColumn('worker', 'text', (c) => c.notNull())
      .addColumn('waits_for', 'text')
      .addColumn('trouble', 'text')
      .addColumn('paused', 'boolean', (c) => c.notNull())
      .addColumn('holder', 'integer', (c) => c.references('device.id'))
      .addColumn('fence', 'integer', (c) => c.notNull())
      .addColumn('findings', 'text')
      .addColumn('disputed', 'boolean', (c) => c.notNull())
      .addColumn('seal', 'text')
      .addColumn('sealed_at', 'bigint')
      .execute();
    // Lists go through these by key: the last date and the job, newest first.
    await schema.createIndex('job_last').on('job').columns(['last_at', 'job']).execute();
    await schema.createIndex('job_machine').on('job').columns(['machine', 'last_at']).execute();
    await schema.createIndex('job_procedure').on('job').columns(['procedure', 'last_at']).execute();
    await schema
      .createIndex('job_open')
      .on('job')
      .column('last_at')
      .where(sql.ref('outcome'), '=', sql.lit('open'))
      .execute();
    await schema
      .createTable('record')
      .addColumn('job', 'uuid', (c) => c.notNull().references('job.job'))
      .addColumn('seq', 'integer', (c) => c.notNull())
      .addColumn('hash', 'text', (c) => c.notNull())
      .addColumn('at', 'bigint', (c) => c.notNull())
      .addColumn('device', 'integer', (c) => c.notNull())
      .addColumn('body', 'text', (c) => c.notNull())
      .addPrimaryKeyConstraint('record_key', ['job', 'seq'])
      .execute();
    await schema
      .createTable('evidence')
      .addColumn('id', 'integer', (c) => c.primaryKey().generatedAlwaysAsIdentity())
      .addColumn('job', 'uuid', (c) => c.notNull())
      .addColumn('seq', 'integer', (c) => c.notNull())
      .addColumn('code', 'text', (c) => c.notNull())
      .addColumn('device', 'integer', (c) => c.notNull())
      .addColumn('got_at', 'bigint', (c) => c.notNull())
      .addColumn('ours', 'text')
      .addColumn('theirs', 'text', (c) => c.notNull())
      .addColumn('theirs_hash', 'text', (c) => c.notNull())
      .addUniqueConstraint('evidence_once', ['job', 'code', 'theirs_hash'])
      .execute();
    for (const [name, column] of [
      ['first_pass', 'what'],
      ['stay', 'ms'],
    ] as const) {
      await schema
        .createTable(name)
        .addColumn('job', 'uuid', (c) => c.notNull())
        .addColumn('station', 'text', (c) => c.notNull())
        .addColumn('procedure', 'text', (c) => c.notNull())
        .addColumn('says', 'text', (c) => c.notNull())
        .addColumn(column, column === 'ms' ? 'bigint' : 'text', (c) => c.notNull())
        .addColumn('closed_at', 'bigint', (c) => c.notNull())
        .addPrimaryKeyConstraint(`${name}_key`, ['job', 'station'])
        .execute();
      await schema.createIndex(`${name}_when`).on(name).columns(['procedure', 'closed_at']).execute();
    }
    await schema
      .createTable('seal_entry')
      .addColumn('place', 'bigint', (c) => c.primaryKey())
      .addColumn('job', 'uuid', (c) => c.notNull().unique())
      .addColumn('leaf', 'text', (c) => c.notNull())
      .addColumn('added_at', 'bigint', (c) => c.notNull())
      .execute();
    await schema
      .createTable('seal_node')
      .addColumn('level', 'integer', (c) => c.notNull())
      .addColumn('idx', 'bigint', (c) => c.notNull())
      .addColumn('hash', 'text', (c) => c.notNull())
      .addPrimaryKeyConstraint('seal_node_key', ['level', 'idx'])
      .execute();
    await schema
      .createTable('seal_head')
      .addColumn('id', 'integer', (c) => c.primaryKey())
      .addColumn('size', 'bigint', (c) => c.notNull())
      .execute();
    await sql`insert into seal_head (id, size) values (1, 0)`.execute(db);
    await schema
      .createTable('settings')
      .addColumn('version', 'integer', (c) => c.primaryKey())
      .addColumn('body', 'text', (c) => c.notNull())
      .addColumn('jws', 'text', (c) => c.notNull())
      .addColumn('at', 'bigint', (c) => c.notNull())
      .addColumn('by', 'integer', (c) => c.notNull())
      .execute();
  },
};

const second: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    const { schema } = db;
    await schema
      .createTable('named_file')
      .addColumn('job', 'uuid', (c) => c.notNull().references('job.job'))
      .addColumn('sha256', 'text', (c) => c.notNull())
      .addColumn('seq', 'integer', (c) => c.notNull())
      .addColumn('kind', 'text', (c) => c.notNull())
      .addColumn('media', 'text', (c) => c.notNull())
      .addColumn('bytes', 'bigint', (c) => c.notNull())
      .addPrimaryKeyConstraint('named_file_key', ['job', 'sha256'])
      .execute();
    await schema.createIndex('named_file_hash').on('named_file').column('sha256').execute();
    // Records that came before name files too.
    await sql`
      insert into named_file (job, sha256, seq, kind, media, bytes)
      select distinct on (job, event->>'sha256')
        job, event->>'sha256', seq, event->>'kind', event->>'media', (event->>'bytes')::int8
      from (
        select job, seq, body::jsonb->'event' as event from record
        where body like '%"type":"attach"%' and body::jsonb->>'outcome' = 'accepted'
      ) as attached
      where event->>'type' = 'attach'
      order by job, event->>'sha256', seq`.execute(db);
    await schema
      .createTable('file')
      .addColumn('sha256', 'text', (c) => c.primaryKey())
      .addColumn('bytes', 'bigint', (c) => c.notNull())
      .addColumn('have', 'bigint', (c) => c.notNull())
      .addColumn('whole_at', 'bigint')
      .addColumn('device', 'integer', (c) => c.notNull())
      .execute();
    await schema
      .createTable('file_part')
      .addColumn('sha256', 'text', (c) => c.notNull().references('file.sha256').onDelete('cascade'))
      .addColumn('place', 'integer', (c) => c.notNull())
      .addColumn('body', 'bytea', (c) => c.notNull())
      .addPrimaryKeyConstraint('file_part_key', ['sha256', 'place'])
      .execute();
    for (const name of ['touched_week', 'summed_week'])
      await schema
        .createTable(name)
        .addColumn('week', 'bigint', (c) => c.primaryKey())
        .addColumn('times', 'bigint', (c) => c.notNull())
        .execute();
    for (const name of ['first_pass', 'stay'])
      await sql`
        insert into touched_week (week, times)
        select distinct ((closed_at - 345600000) / 604800000) * 604800000 + 345600000, 1
        from ${sql.table(name)} on conflict (week) do nothing`.execute(db);
    const sums = (name: string) =>
      schema
        .createTable(name)
        .addColumn('week', 'bigint', (c) => c.notNull())
        .addColumn('procedure', 'text', (c) => c.notNull())
        .addColumn('station', 'text', (c) => c.notNull())
        .addColumn('says', 'text', (c) => c.notNull())
        .addColumn('jobs', 'integer', (c) => c.notNull())
        .addPrimaryKeyConstraint(`${name}_key`, ['week', 'procedure', 'station']);
    await sums('week_pass')
      .addColumn('passed', 'integer', (c) => c.notNull())
      .addColumn('conceded', 'integer', (c) => c.notNull())
      .execute();
    await sums('week_stay')
      .addColumn('ms', 'bytea', (c) => c.notNull())
      .execute();
    // The sums of a week are made of what closed in it, whatever the procedure.
    for (const name of ['first_pass', 'stay'])
      await schema.createIndex(`${name}_closed`).on(name).column('closed_at').execute();
    await schema
      .createTable('person')
      .addColumn('person', 'text', (c) => c.primaryKey())
      .addColumn('shut_out_at', 'bigint')
      .addColumn('shut_out_why', 'text')
      .addColumn('pin', 'text')
      .execute();
    await schema
      .alterTable('job')
      .addColumn('shut_out', 'boolean', (c) => c.notNull().defaultTo(false))
      .execute();
  },
};

/** Every step from an empty database to today's schema, in order. A step that was published never changes. */
export const migrations: Readonly<Record<string, Migration>> = {
  '0001-first': first,
  '0002-files-weeks-people': second,
};

/** Brings the schema up to date; several offices that start at once wait for each other. Throws what went wrong. */
export async function migrate(db: Kysely<Tables>): Promise<readonly string[]> {
  const migrator = new Migrator({ db, provider: { getMigrations: async () => ({ ...migrations }) } });
  const { error, results } = await migrator.migrateToLatest();
  if (error) throw error;
  return (results ?? []).map(({ migrationName }) => migrationName);
}
