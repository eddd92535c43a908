import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type BrowserContext, chromium, type Page } from 'playwright-core';
import type { JournalRecord } from '../../src/journal/record.ts';
import { chromiumArgs, chromiumPath } from '../tools/chromium.ts';
import { Hands, type Knowledge } from './hands.ts';

/*
 * The built app in Debian's Chromium, served by the command behind `npm start`, with a profile on disk, driven by keys.
 *
 * Nothing in the page is replaced: the clock, the timers, IndexedDB, Web Locks and the times of the key events are the
 * browser's own, so a long press takes as long as a long press takes. No station of the jobs driven here waits longer
 * than that; a wait of minutes is tried in the tests of the element and of the procedure's engine, where time comes in
 * as a value.
 */

export interface BenchOptions {
  /** Folder of the profile; it is made, and removed at the end, when none is given. */
  readonly profile?: string;
  readonly width?: number;
  readonly height?: number;
  /** More flags for the browser: a made-up microphone, say. */
  readonly flags?: readonly string[];
}

/** One browser with its profile, and what went wrong in it. */
export class Bench {
  readonly origin: string;
  readonly profile: string;
  readonly context: BrowserContext;
  /** Errors on the console (a breach of the content security policy is one), exceptions, requests to elsewhere. */
  readonly complaints: string[] = [];
  readonly #ownProfile: boolean;

  static async open(origin: string, options: BenchOptions = {}): Promise<Bench> {
    const { width = 1280, height = 800, flags = [] } = options;
    const profile = options.profile ?? mkdtempSync(join(tmpdir(), 'holdfast-bench-'));
    const context = await chromium.launchPersistentContext(profile, {
      executablePath: chromiumPath(),
      args: [...chromiumArgs, ...flags],
      viewport: { width, height },
      acceptDownloads: true,
    });
    // tsx marks the functions that it hands to the page with a helper of its own, which the page does not have.
    await context.addInitScript('globalThis.__name ??= (value) => value');
    return new Bench(origin, profile, context, options.profile === undefined);
  }

  private constructor(origin: string, profile: string, context: BrowserContext, ownProfile: boolean) {
    this.origin = origin;
    this.profile = profile;
    this.context = context;
    this.#ownProfile = ownProfile;
    context.on('request', (request) => {
      const { protocol, origin: to } = new URL(request.url());
      if (to !== origin && protocol !== 'blob:' && protocol !== 'data:')
        this.complaints.push(`request to ${request.url()}`);
    });
    context.on('console', (message) => {
      if (message.type() === 'error') this.complaints.push(`console: ${message.text()}`);
    });
    context.on('weberror', (error) => this.complaints.push(`exception: ${error.error().message}`));
  }

  /** A window of its own on the app: the first one, or another. */
  async window(hash = ''): Promise<Page> {
    const [first] = this.context.pages();
    const page = first?.url() === 'about:blank' ? first : await this.context.newPage();
    await page.goto(`${this.origin}/${hash}`);
    return page;
  }

  async hands(knows: Knowledge = {}, hash = ''): Promise<Hands> {
    return new Hands(await this.window(hash), knows);
  }

  /** Process id of the browser itself, from the browser. */
  async pid(): Promise<number> {
    const browser = this.context.browser();
    if (!browser) throw new Error('This context has no browser.');
    const session = await browser.newBrowserCDPSession();
    const { processInfo } = await session.send('SystemInfo.getProcessInfo');
    const pid = processInfo.find(({ type }) => type === 'browser')?.id;
    await session.detach();
    if (pid === undefined) throw new Error('The browser does not say which process it is.');
    return pid;
  }

  async close(): Promise<void> {
    await this.context.close();
    if (this.#ownProfile) rmSync(this.profile, { recursive: true, force: true, maxRetries: 3 });
  }
}

/** The journal of a job as it lies in the browser's database: read past the app, so that the app cannot embellish it. */
export function journalOf(page: Page, job: string): Promise<JournalRecord[]> {
  return page.evaluate(
    (id) =>
      new Promise<JournalRecord[]>((resolve, reject) => {
        const opening = indexedDB.open('holdfast-journal');
        opening.onerror = () => reject(opening.error);
        opening.onsuccess = () => {
          const db = opening.result;
          const range = IDBKeyRange.bound([id, 0], [id, Number.POSITIVE_INFINITY]);
          const all = db.transaction('records').objectStore('records').getAll(range);
          all.onerror = () => reject(all.error);
          all.onsuccess = () => {
            db.close();
            resolve(all.result as JournalRecord[]);
          };
        };
      }),
    job,
  );
}

/** The job that a window is at, from its address. */
export function jobOf(page: Page): string {
  const job = /#job=([0-9a-f-]{36})$/.exec(page.url())?.[1];
  if (!job) throw new Error(`No job at ${page.url()}`);
  return job;
}
