import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { Bench } from './app.ts';
import { axeFinds } from './axe.ts';
import { type Hands, onShelf } from './hands.ts';
import { until } from './screen.ts';
import { type Server, serve } from './server.ts';

/* The log of seals in the built app: it grows when a job is sealed, and says what was done to its past. */

let server: Server;
let bench: Bench;
let hands: Hands;
beforeAll(async () => {
  server = await serve();
  bench = await Bench.open(server.origin);
  hands = await bench.hands();
  await hands.loadDemo();
});
afterAll(async () => {
  await bench.close();
  await server.stop();
});

const CODE = /Log of seals: (\d+ · [0-9a-f]{4} [0-9a-f]{4} [0-9a-f]{4})/;

/** Starts a job and stops it: it is closed and sealed. Returns what is on the screen when the log was looked at. */
async function sealOne(): Promise<string> {
  await hands.startJob(/^Renew chain/, /School machine/, /Tomas/);
  await hands.tap('KeyS');
  await until(hands.page, 'the reasons', ({ job }) => (job?.over?.options.length ?? 0) > 0);
  await hands.tap('Digit1');
  const { text } = await until(hands.page, 'the log', (sight) =>
    /Log of seals|could not be written/.test(sight.text),
  );
  return text;
}

async function toShelf(): Promise<void> {
  await hands.tap('Escape');
  await until(hands.page, 'the shelf', onShelf);
}

/** Somebody who has the browser's databases open, past the app. */
const meddle = (page: Page, work: 'take a seal away' | 'block the log' | 'free the log') =>
  page.evaluate(
    (what) =>
      new Promise<void>((resolve, reject) => {
        if (what === 'free the log') {
          (globalThis as unknown as { held: IDBDatabase }).held.close();
          const deleting = indexedDB.deleteDatabase('holdfast-log');
          deleting.onsuccess = () => resolve();
          deleting.onerror = () => reject(deleting.error);
          return;
        }
        const opening =
          what === 'block the log' ? indexedDB.open('holdfast-log', 9) : indexedDB.open('holdfast-heads');
        opening.onerror = () => reject(opening.error);
        opening.onsuccess = () => {
          const db = opening.result;
          if (what === 'block the log') {
            Object.assign(globalThis, { held: db });
            return resolve();
          }
          const transaction = db.transaction('seals', 'readwrite');
          const seals = transaction.objectStore('seals');
          seals.getAllKeys().onsuccess = (event) => {
            seals.delete((event.target as IDBRequest<IDBValidKey[]>).result[0] ?? '');
          };
          transaction.oncomplete = () => {
            db.close();
            resolve();
          };
        };
      }),
    work,
  );

test('the code at the end of a job is the one that the record book has, without the book having been opened', async () => {
  const [, first = ''] = CODE.exec(await sealOne()) ?? [];
  expect(first).not.toBe('');
  expect(await axeFinds(hands.page)).toEqual([]);
  await toShelf();
  const [, second = ''] = CODE.exec(await sealOne()) ?? [];
  expect(Number.parseInt(second, 10)).toBe(Number.parseInt(first, 10) + 1);
  await toShelf();
  await hands.take(/^Open the record book/);
  await hands.page.getByRole('button', { name: 'Log of seals' }).click();
  await hands.page.getByText('Nothing has changed in what was seen before').waitFor();
  expect(await hands.page.locator('hf-book-log .code').first().textContent()).toBe(second);
  await hands.page.getByRole('button', { name: 'Close the book' }).click();
  await until(hands.page, 'the shelf', onShelf);
});

test('a log that cannot be written undoes no seal: it is said, and a tap makes it good', async () => {
  await meddle(hands.page, 'block the log');
  const text = await sealOne();
  expect(text).toContain('the log of seals could not be written');
  expect(text).toMatch(/Sealed: \d+ records, code [0-9a-f]{4} /);
  expect(text).not.toMatch(CODE);
  await meddle(hands.page, 'free the log');
  await Promise.all([hands.page.waitForEvent('download'), hands.tap()]);
  const mended = await until(hands.page, 'the code', (sight) => CODE.test(sight.text));
  expect(mended.text).not.toContain('could not be written');
  await toShelf();
});

test('a seal that was taken away is said at the end of the next job', async () => {
  await meddle(hands.page, 'take a seal away');
  const text = await sealOne();
  expect(text).toContain(
    'The past of the log of seals was changed. Have the supervisor look in the record book.',
  );
  expect(text).toMatch(/Seal \d+ of the log is gone: job [0-9a-f-]{36} was removed\./);
  expect(await axeFinds(hands.page)).toEqual([]);
  await toShelf();
  expect(bench.complaints).toEqual([]);
});
