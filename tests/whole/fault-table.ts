import type { Bench } from './app.ts';
import { breakEar, evict, type How, listen, muted, setClock, spoilRecord } from './fault-inject.ts';
import { type Hands, onShelf } from './hands.ts';
import { until } from './screen.ts';

/** A job on the way, and the hands at it. */
export interface AtJob {
  readonly bench: Bench;
  readonly job: string;
  hands: Hands;
}

/** One fault, injected at the edge of the built app in a real browser while a job is open. */
export interface Fault {
  readonly name: string;
  /** What is injected, in words. */
  readonly injected: string;
  /** The error with which writing the next record fails at the same time; null: writing is left alone. */
  readonly write: string | null;
  /** The connection to the database is closed with it. */
  readonly closes?: true;
  break?(at: AtJob, how: How): Promise<void>;
  /** What the screen says when the press that follows is not taken. */
  readonly says: RegExp;
  /** The press is not taken even where a write that was reported as failed is stored. */
  readonly refusedAnyway?: true;
  /** Records of work that the break itself brings: another window's. */
  readonly brings?: number;
  /** Where else the app tells of it, and what it says there. Ends at the job again. */
  tells?(at: AtJob): Promise<string>;
  mend?(at: AtJob): Promise<void>;
}

const HOUR = 3_600_000;
const AGAIN = /could not be written to this device: do it again, and restart the app if it fails twice\./;

/** Opens the job anew by its address. */
async function reopen(at: AtJob): Promise<void> {
  const old = at.hands.page;
  at.hands = await at.bench.hands({}, `#job=${at.job}`);
  await old.close();
  await at.hands.atStation();
}

/** Leaves the job, takes a line of the screen "This bench" and reads what it says then; goes back to the job. */
async function atThisBench(at: AtJob, part: string, says: RegExp): Promise<string> {
  const { hands } = at;
  await hands.tap('Escape');
  await until(hands.page, 'the shelf', onShelf);
  await hands.take(/^This bench/);
  await until(hands.page, 'this bench', ({ text }) => text.startsWith('This bench'));
  const names = ['storage', 'clock', 'microphone', 'pedal', 'wake', 'full', 'offline', 'key', 'line'];
  await hands.tap(`Digit${names.indexOf(part) + 1}`);
  const { text } = await until(hands.page, String(says), (sight) => says.test(sight.text), 8000);
  await hands.tap('Escape');
  await until(hands.page, 'the shelf', onShelf);
  await reopen(at);
  return says.exec(text)?.[0] ?? '';
}

/** What the screen of the job itself says besides. */
const onScreen = async ({ hands: { page } }: AtJob, says: RegExp): Promise<string> =>
  says.exec((await until(page, String(says), ({ text }) => says.test(text))).text)?.[0] ?? '';

export const faults: readonly Fault[] = [
  {
    name: 'storage full',
    injected: 'the commit fails with QuotaExceededError',
    write: 'QuotaExceededError',
    says: /There is no room left on this device: export finished records, free some space, then do it again\./,
  },
  {
    name: 'connection closed',
    injected: 'the connection is closed under the write',
    write: 'InvalidStateError',
    closes: true,
    says: AGAIN,
  },
  {
    name: 'transaction aborted',
    injected: 'the transaction is aborted after its requests succeeded, every time',
    write: 'AbortError',
    says: AGAIN,
  },
  {
    name: 'two windows',
    injected: 'a second window writes; this one, which was not told, believes to have the right still',
    write: null,
    async break(at, how) {
      const stale = await at.bench.context.newPage();
      await muted(stale);
      await stale.goto(`${at.bench.origin}/#job=${at.job}`);
      const first = at.hands;
      const { Hands } = await import('./hands.ts');
      at.hands = new Hands(stale);
      await at.hands.atStation();
      const { deed } = await import('./faults.ts');
      await deed({ ...at, hands: first }, how === 'stored' ? 'AbortError' : null);
      await first.page.close();
    },
    brings: 1,
    says: /The journal of this job has moved on or was cut: load the job again before you go on\./,
    refusedAnyway: true,
    mend: reopen,
  },
  {
    name: 'clock set back',
    injected: 'the wall clock goes back two hours, and the write fails',
    write: 'AbortError',
    break: ({ hands: { page } }) => setClock(page, -2 * HOUR),
    says: AGAIN,
  },
  {
    name: 'clock set forward',
    injected: 'the wall clock goes forward two hours (or the device slept), and the write fails',
    write: 'AbortError',
    break: ({ hands: { page } }) => setClock(page, 2 * HOUR),
    says: AGAIN,
  },
  {
    name: 'worker crash',
    injected: 'every worker of the page breaks down while it listens, and the write fails',
    write: 'AbortError',
    async break({ hands: { page }, bench }) {
      await listen(page);
      await breakEar(page, 'worker');
      const session = await bench.context.newCDPSession(page);
      await session.send('ServiceWorker.enable');
      await session.send('ServiceWorker.stopAllWorkers');
      await session.detach();
    },
    says: AGAIN,
    tells: (at) => onScreen(at, /Listening broke down\. Load the page again, or go on with pedal and keys\./),
  },
  {
    name: 'microphone gone',
    injected: 'the microphone is pulled out while the app listens, and the write fails',
    write: 'AbortError',
    async break({ hands: { page } }) {
      await listen(page);
      await breakEar(page, 'microphone');
    },
    says: AGAIN,
    tells: (at) => onScreen(at, /The microphone is gone\. Plug it in again, or go on with pedal and keys\./),
  },
  {
    name: 'permission withdrawn',
    injected: 'the person takes back the microphone, and the write fails',
    write: 'AbortError',
    // What is not granted then is denied.
    break: ({ bench }) => bench.context.grantPermissions(['notifications'], { origin: bench.origin }),
    says: AGAIN,
    tells: (at) =>
      atThisBench(at, 'microphone', /The browser does not let this app listen\. Allow the microphone/),
    mend: ({ bench }) => bench.context.clearPermissions(),
  },
  {
    name: 'app updated mid-job',
    injected: 'another version takes control and the files of this one are gone, and the write fails',
    write: 'AbortError',
    async break({ hands: { page } }) {
      await page.evaluate(async () => {
        for (const name of await caches.keys()) await caches.delete(name);
        navigator.serviceWorker.dispatchEvent(new Event('controllerchange'));
      });
    },
    says: AGAIN,
  },
  {
    name: 'corrupt record at rest',
    injected: 'a stored record is changed, and the write fails',
    write: 'AbortError',
    break: ({ hands: { page }, job }) => spoilRecord(page, job, 1, 'somebody else'),
    says: AGAIN,
    async tells(at) {
      const { page } = at.hands;
      const { by } = await page.evaluate(() => ({ by: (globalThis as { spoilt?: string }).spoilt ?? '' }));
      await page.goto(`${at.bench.origin}/?again#job=${at.job}`);
      const broken =
        /✕ cannot be read: job [0-9a-f]{8}.*give it|✕ cannot be read: job [0-9a-f]{8}[^✕]*save what is left\./;
      const { text } = await until(page, 'the shelf', (sight) => broken.test(sight.text));
      const downloading = page.waitForEvent('download');
      await at.hands.take(/cannot be read/);
      const name = (await downloading).suggestedFilename();
      await until(page, 'where it was saved', (sight) => sight.text.includes(name));
      await spoilRecord(page, at.job, 1, by);
      await reopen(at);
      return broken.exec(text)?.[0] ?? '';
    },
  },
  {
    name: 'eviction not ruled out',
    injected: 'the browser refuses to promise that it keeps the records, and the write fails',
    write: 'AbortError',
    says: AGAIN,
    tells: (at) =>
      atThisBench(
        at,
        'storage',
        /The browser does not promise to keep the records: install the app on this device, and save each record when its job is finished\./,
      ),
  },
  {
    name: 'records evicted',
    injected: 'all records of the bench are cleared under the running job, and the write fails',
    write: 'AbortError',
    break: ({ hands: { page } }) => evict(page, ['holdfast-journal', 'holdfast-heads']),
    says: AGAIN,
    refusedAnyway: true,
  },
  {
    name: 'records evicted, heads left',
    injected: 'the records alone are cleared under the running job, and the write fails',
    write: 'AbortError',
    break: ({ hands: { page } }) => evict(page, ['holdfast-journal']),
    says: AGAIN,
    refusedAnyway: true,
  },
];
