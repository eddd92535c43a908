import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { keyId } from '../../src/journal/seal.ts';
import { Courier, json } from '../../src/sync/courier.dom.ts';
import { officeCalls } from '../../src/sync/office-calls.dom.ts';
import type { DeviceKind, Enrolled } from '../../src/sync/wire.ts';
import { makeKey } from '../journal/play.ts';
import type { Member } from './world.ts';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

export interface OfficeProcessOptions {
  /** Data folder; the key of the office is in it whichever the database. */
  readonly folder: string;
  readonly url?: string;
  /** Builds app and page when they are older than their sources. */
  readonly build?: boolean;
}

/** The command behind `npm run office`, in a process of its own that can be killed and started again at its address. */
export class OfficeProcess {
  readonly options: OfficeProcessOptions;
  origin = '';
  office = '';
  #child: ChildProcess | null = null;
  #port = 0;

  static async start(options: OfficeProcessOptions): Promise<OfficeProcess> {
    const made = new OfficeProcess(options);
    await made.begin();
    return made;
  }

  private constructor(options: OfficeProcessOptions) {
    this.options = options;
  }

  async begin(): Promise<void> {
    const { folder, url } = this.options;
    const child = spawn(
      process.execPath,
      ['--import', 'tsx', 'src/cli/office.ts', '--quiet', ...(this.options.build ? [] : ['--no-build'])],
      {
        cwd: ROOT,
        env: {
          ...process.env,
          PORT: String(this.#port),
          OFFICE_DATA: folder,
          ...(url === undefined ? { DATABASE_URL: '' } : { DATABASE_URL: url }),
        },
        stdio: ['ignore', 'pipe', 'pipe'],
      },
    );
    this.#child = child;
    let says = '';
    child.stderr?.on('data', (piece) => {
      says += String(piece);
    });
    for await (const line of createInterface({ input: child.stdout as NodeJS.ReadableStream })) {
      const origin = /https?:\/\/\S+/.exec(line)?.[0];
      if (!origin) continue;
      this.origin = origin.replace('localhost', '127.0.0.1');
      this.#port = Number(new URL(this.origin).port);
      child.stdout?.resume();
      return;
    }
    throw new Error(`The office ended before it said where it serves: ${says}`);
  }

  get pid(): number {
    return this.#child?.pid ?? 0;
  }

  async end(how: 'SIGKILL' | 'SIGTERM'): Promise<void> {
    const child = this.#child;
    this.#child = null;
    if (!child || child.exitCode !== null || child.signalCode !== null) return;
    const gone = once(child, 'exit');
    child.kill(how);
    await gone;
  }

  /** The link that enrols the first desk, as it is told to whoever started the office. */
  async deskLink(): Promise<string> {
    for (let tries = 0; tries < 100; tries++) {
      await new Promise((resolve) => setTimeout(resolve, 50));
      try {
        const link = readFileSync(join(this.options.folder, 'desk-code.txt'), 'utf8').trim();
        if (link !== '') return link;
      } catch {
        // It is written a moment after the address was told.
      }
    }
    throw new Error('The office told no code for a desk.');
  }

  /** The desk that the first start makes a code for. */
  async desk(): Promise<Member> {
    const code = /#code=(\S+)/.exec(await this.deskLink())?.[1] ?? '';
    return this.enrol(code, 'Desk');
  }

  async bench(desk: Member, name: string, kind: DeviceKind = 'bench'): Promise<Member> {
    const { code } = await desk.courier.ask<{ code: string }>('POST', '/codes', json({ kind }));
    return this.enrol(code, name);
  }

  async enrol(code: string, name: string): Promise<Member> {
    const key = await makeKey();
    const courier = (office: string) =>
      new Courier({
        origin: this.origin,
        office,
        key: async () => key,
        now: Date.now,
        fetch: (url, init) => fetch(url, init),
      });
    const answer = await courier('').ask<Enrolled>('POST', '/enrol', json({ code, name }));
    this.office = await keyId(answer.office);
    const known = courier(this.office);
    return { key, courier: known, calls: officeCalls(known), kid: key.kid, name };
  }
}
