import { existsSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { PGlite } from '@electric-sql/pglite';
import { Kysely, PostgresDialect } from 'kysely';
import pg from 'pg';
import { lockFolder } from './lock.ts';
import { migrate } from './migrations.ts';
import { PgliteDialect } from './pglite-dialect.ts';
import type { Tables } from './schema.ts';
import { SyncedFs, syncedParams, syncTree } from './synced-fs.ts';

export type Db = Kysely<Tables>;

export interface Database {
  readonly db: Db;
  readonly engine: 'PostgreSQL' | 'embedded';
  close(): Promise<void>;
}

export type DatabaseChoice =
  | { readonly url: string; readonly connections?: number }
  | { readonly folder: string };

/** int8 comes as text from one engine and as a number from the other: here it is a number on both. */
const INT8 = 20;

const asNumber = (text: string): number => {
  const value = Number(text);
  if (!Number.isSafeInteger(value)) throw new RangeError(`${text} is more than a number holds exactly.`);
  return value;
};

function served(url: string, connections: number): Database {
  const pool = new pg.Pool({
    connectionString: url,
    max: connections,
    // A database that is away must be an answer, not a request that hangs.
    connectionTimeoutMillis: 5_000,
    statement_timeout: 60_000,
    types: {
      getTypeParser: ((oid: number, format?: 'text' | 'binary') =>
        oid === INT8 ? asNumber : pg.types.getTypeParser(oid, format)) as typeof pg.types.getTypeParser,
    },
  });
  // An idle connection that breaks is dropped from the pool; the next query opens another.
  pool.on('error', () => undefined);
  // One that breaks while a query is under way fails that query; without this it would also end the office.
  pool.on('connect', (client) => client.on('error', () => undefined));
  const db = new Kysely<Tables>({ dialect: new PostgresDialect({ pool }) });
  return { db, engine: 'PostgreSQL', close: () => db.destroy() };
}

async function embedded(folder: string): Promise<Database> {
  await mkdir(folder, { recursive: true });
  const lock = await lockFolder(folder);
  let lite: PGlite;
  try {
    const made = !existsSync(join(folder, 'PG_VERSION'));
    lite = await PGlite.create({
      fs: new SyncedFs(folder),
      startParams: syncedParams(),
      parsers: { [INT8]: asNumber },
    });
    if (made) await syncTree(folder);
  } catch (error) {
    await lock.release();
    throw error;
  }
  const db = new Kysely<Tables>({ dialect: new PgliteDialect(async () => lite) });
  return {
    db,
    engine: 'embedded',
    async close() {
      await db.destroy();
      await lite.close();
      await lock.release();
    },
  };
}

/** Opens the database and brings its schema up to date: PostgreSQL at a URL, or one embedded in a folder. */
export async function openDatabase(choice: DatabaseChoice): Promise<Database> {
  const database =
    'url' in choice ? served(choice.url, choice.connections ?? 8) : await embedded(choice.folder);
  try {
    await migrate(database.db);
    return database;
  } catch (error) {
    await database.close();
    throw error;
  }
}
