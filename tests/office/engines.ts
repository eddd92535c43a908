import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, inject } from 'vitest';
import { type Database, openDatabase } from '../../src/office/db/engine.ts';
import { noPostgres, statement } from './postgres.ts';
import { TEMPLATE } from './set-up.ts';

export interface Engine {
  readonly name: string;
  /** An empty database of its own, and how it is opened again after it was closed. */
  fresh(): Promise<{ database: Database; reopen(): Promise<Database>; remove(): Promise<void> }>;
}

let made = 0;

const served: Engine = {
  name: 'PostgreSQL',
  async fresh() {
    const server = inject('postgres');
    const name = `office_${process.pid}_${made++}`;
    await statement(server, `create database ${name} template ${TEMPLATE}`);
    const url = server.replace('/postgres?', `/${name}?`);
    const reopen = () => openDatabase({ url, connections: 6 });
    return {
      database: await reopen(),
      reopen,
      remove: () => statement(server, `drop database if exists ${name} with (force)`),
    };
  },
};

const embedded: Engine = {
  name: 'embedded',
  async fresh() {
    const folder = join(mkdtempSync(join(tmpdir(), 'holdfast-office-')), 'data');
    cpSync(inject('embedded'), folder, { recursive: true });
    const reopen = () => openDatabase({ folder });
    return {
      database: await reopen(),
      reopen,
      remove: async () => rmSync(join(folder, '..'), { recursive: true, force: true }),
    };
  },
};

/** The same tests on both engines; without PostgreSQL one line says why it was left out. */
export function onBothEngines(tests: (engine: Engine) => void): void {
  describe.skipIf(noPostgres !== null)(noPostgres ?? 'on PostgreSQL', () => tests(served));
  describe('on the embedded database', () => tests(embedded));
}
