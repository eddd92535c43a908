import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';
import { openDatabase } from '../../src/office/db/engine.ts';
import { noPostgres, Postgres, statement } from './postgres.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** Address of the server's own database, or empty. */
    postgres: string;
    /** A folder with an empty embedded database, to be copied. */
    embedded: string;
  }
}

/** Name of the database that the others are copies of. */
export const TEMPLATE = 'office_template';

/** One server and one embedded database for the whole run, both brought up to date; every test takes copies. */
export default async function setUp(project: TestProject): Promise<() => Promise<void>> {
  if (noPostgres) console.error(noPostgres);
  const folder = mkdtempSync(join(tmpdir(), 'holdfast-office-'));
  const [server] = await Promise.all([
    noPostgres ? null : Postgres.start(['fsync=off']),
    openDatabase({ folder: join(folder, 'empty') }).then((database) => database.close()),
  ]);
  if (server) {
    await statement(server.url(), `create database ${TEMPLATE}`);
    const address = server.url(TEMPLATE);
    await (await openDatabase({ url: address, connections: 1 })).close();
  }
  project.provide('postgres', server?.url() ?? '');
  project.provide('embedded', join(folder, 'empty'));
  return async () => {
    await server?.remove();
    rmSync(folder, { recursive: true, force: true });
  };
}
