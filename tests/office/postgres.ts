import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { chownSync, existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import pg from 'pg';

/*
 * A real PostgreSQL for the tests: Debian's programs, a data folder of its own, reached by a socket in that folder. It
 * refuses to run as root, so it is started as the user that Debian made for it.
 */

const HOME = '/usr/lib/postgresql';

function programs(): string | null {
  const versions = existsSync(HOME) ? readdirSync(HOME).map(Number).filter(Number.isFinite) : [];
  const found = versions.sort((a, b) => b - a).map((version) => join(HOME, String(version), 'bin'));
  return found.find((path) => existsSync(join(path, 'postgres'))) ?? null;
}

const user = (flag: '-u' | '-g'): number =>
  Number(spawnSync('id', [flag, 'postgres'], { encoding: 'utf8' }).stdout);

const isRoot = process.getuid?.() === 0;

/** Why there is no PostgreSQL to test with, in one sentence, or null. */
export const noPostgres: string | null = programs()
  ? null
  : 'PostgreSQL is not installed: the office was tried on its embedded database only (Debian: apt-get install postgresql).';

export class Postgres {
  readonly folder: string;
  readonly #settings: readonly string[];
  #child: ChildProcess | null = null;

  /** A fresh cluster, started. `data`: where its data go when not in its own folder; `settings`: as after `-c`. */
  static async start(settings: readonly string[] = [], data?: string): Promise<Postgres> {
    const folder = mkdtempSync(join(tmpdir(), 'holdfast-postgres-'));
    const cluster = new Postgres(folder, settings, data ?? join(folder, 'data'));
    mkdirSync(cluster.#data, { recursive: true });
    for (const path of [folder, cluster.#data]) if (isRoot) chownSync(path, user('-u'), user('-g'));
    const made = cluster.#run('initdb', [
      '-D',
      cluster.#data,
      '-U',
      'office',
      '-A',
      'trust',
      '-E',
      'UTF8',
      '--no-sync',
    ]);
    let says = '';
    made.stderr?.on('data', (piece) => {
      says += String(piece);
    });
    const [code] = await once(made, 'exit');
    if (code !== 0) throw new Error(`initdb: ${says}`);
    await cluster.begin();
    return cluster;
  }

  readonly #data: string;

  private constructor(folder: string, settings: readonly string[], data: string) {
    this.folder = folder;
    this.#settings = settings;
    this.#data = data;
  }

  #run(program: string, args: readonly string[]): ChildProcess {
    const path = join(programs() ?? '', program);
    const options = { stdio: ['ignore', 'ignore', 'pipe'] as ['ignore', 'ignore', 'pipe'], cwd: '/' };
    if (!isRoot) return spawn(path, args, options);
    const who = [`--reuid=${user('-u')}`, `--regid=${user('-g')}`, '--clear-groups', '--'];
    return spawn('setpriv', [...who, path, ...args], options);
  }

  url(database = 'postgres'): string {
    return `postgres://office@localhost/${database}?host=${encodeURIComponent(this.folder)}`;
  }

  async begin(): Promise<void> {
    const set = ['listen_addresses=', 'max_connections=40', ...this.#settings].flatMap((one) => ['-c', one]);
    const child = this.#run('postgres', ['-D', this.#data, '-k', this.folder, ...set]);
    child.stderr?.resume();
    this.#child = child;
    for (let tries = 0; tries < 300; tries++) {
      if (child.exitCode !== null) break;
      const client = new pg.Client({ connectionString: this.url(), connectionTimeoutMillis: 1000 });
      try {
        await client.connect();
        await client.end();
        return;
      } catch {
        await sleep(50);
      }
    }
    throw new Error('PostgreSQL did not start.');
  }

  /** Ends it: `SIGINT` breaks off what is going on, `SIGQUIT` leaves everything as a crash does. */
  async end(how: 'SIGINT' | 'SIGQUIT' = 'SIGINT'): Promise<void> {
    const child = this.#child;
    if (!child || child.exitCode !== null) return;
    const gone = once(child, 'exit');
    child.kill(how);
    await gone;
    this.#child = null;
  }

  get runs(): boolean {
    return this.#child !== null && this.#child.exitCode === null && this.#child.signalCode === null;
  }

  async remove(): Promise<void> {
    await this.end();
    rmSync(this.folder, { recursive: true, force: true });
  }
}

/** Runs one statement on a server's own database. */
export async function statement(url: string, text: string): Promise<void> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    await client.query(text);
  } finally {
    await client.end();
  }
}
