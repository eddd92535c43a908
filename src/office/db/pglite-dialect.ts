import type { PGlite } from '@electric-sql/pglite';
import {
  CompiledQuery,
  type DatabaseConnection,
  type Dialect,
  type Driver,
  type Kysely,
  PostgresAdapter,
  PostgresIntrospector,
  PostgresQueryCompiler,
  type QueryResult,
} from 'kysely';

/** Kysely on the embedded database: one connection, which everybody waits for in turn. Queries are PostgreSQL's own. */
export class PgliteDialect implements Dialect {
  readonly #open: () => Promise<PGlite>;

  constructor(open: () => Promise<PGlite>) {
    this.#open = open;
  }

  createDriver = (): Driver => new PgliteDriver(this.#open);
  createQueryCompiler = () => new PostgresQueryCompiler();
  createAdapter = () => new PostgresAdapter();
  createIntrospector = (db: Kysely<unknown>) => new PostgresIntrospector(db);
}

class PgliteDriver implements Driver {
  readonly #open: () => Promise<PGlite>;
  #connection: PgliteConnection | null = null;
  /** Whoever has the connection; the next one waits for it. */
  #turn: Promise<void> = Promise.resolve();
  readonly #done = new WeakMap<DatabaseConnection, () => void>();

  constructor(open: () => Promise<PGlite>) {
    this.#open = open;
  }

  async init(): Promise<void> {
    this.#connection = new PgliteConnection(await this.#open());
  }

  async acquireConnection(): Promise<DatabaseConnection> {
    const before = this.#turn;
    let done: () => void = () => undefined;
    this.#turn = new Promise((resolve) => {
      done = resolve;
    });
    await before;
    if (!this.#connection) {
      done();
      throw new Error('The embedded database is closed.');
    }
    // A wrapper of its own for each turn, so that each turn knows how to end itself.
    const mine = this.#connection.forOneTurn();
    this.#done.set(mine, done);
    return mine;
  }

  async releaseConnection(connection: DatabaseConnection): Promise<void> {
    this.#done.get(connection)?.();
  }

  async beginTransaction(connection: DatabaseConnection): Promise<void> {
    await connection.executeQuery(CompiledQuery.raw('begin'));
  }

  async commitTransaction(connection: DatabaseConnection): Promise<void> {
    await connection.executeQuery(CompiledQuery.raw('commit'));
  }

  async rollbackTransaction(connection: DatabaseConnection): Promise<void> {
    await connection.executeQuery(CompiledQuery.raw('rollback'));
  }

  async destroy(): Promise<void> {
    this.#connection = null;
  }
}

class PgliteConnection implements DatabaseConnection {
  readonly #lite: PGlite;

  constructor(lite: PGlite) {
    this.#lite = lite;
  }

  forOneTurn = (): PgliteConnection => new PgliteConnection(this.#lite);

  async executeQuery<R>({ sql, parameters }: CompiledQuery): Promise<QueryResult<R>> {
    const { rows, affectedRows } = await this.#lite.query<R>(sql, [...parameters]);
    return { rows, numAffectedRows: BigInt(affectedRows ?? 0) };
  }

  // biome-ignore lint/correctness/useYield: what the interface asks for, and what nobody here needs.
  async *streamQuery<R>(): AsyncIterableIterator<QueryResult<R>> {
    throw new Error('The embedded database gives whole answers: page through them by key.');
  }
}
