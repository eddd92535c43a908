import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from 'vitest';
import { Bench, jobOf, journalOf } from './app.ts';
import { onShelf } from './hands.ts';
import { type Relay, relay } from './relay.ts';
import { until } from './screen.ts';
import { type Server, serve } from './server.ts';

let server: Server;
let network: Relay;
let bench: Bench;
beforeAll(async () => {
  server = await serve();
});
afterAll(() => server.stop());
beforeEach(async () => {
  network = await relay(server.origin);
  bench = await Bench.open(network.origin);
});
afterEach(async () => {
  await bench.close();
  await network.cut();
});

/** The worker has everything it needs: from now on no network is needed. */
const ready = (page: Page) => page.evaluate(async () => void (await navigator.serviceWorker.ready));

const markOf = (page: Page) =>
  page.evaluate(() => document.querySelector('meta[name=version]')?.getAttribute('content') ?? null);

test('after the first load the app needs no network: reload, the open job by its address, and work', async () => {
  const hands = await bench.hands();
  await ready(hands.page);
  await hands.loadDemo();
  await hands.startJob(/^Renew chain and sprockets/, /^School machine 1/, /Tomas Reedle/);
  await hands.doRight();
  const job = jobOf(hands.page);
  const { station } = await hands.atStation();

  await network.cut();
  await bench.context.setOffline(true);
  await hands.page.reload();
  expect((await hands.atStation()).station).toBe(station);
  await hands.doRight();

  const other = await bench.hands({}, `#job=${job}`);
  const reading = await other.atStation();
  expect(reading.readOnly).not.toBe('');
  await hands.page.close();
  await other.page.reload();
  const before = (await journalOf(other.page, job)).length;
  const { job: now } = await other.doRight();
  expect(now?.fault).toBe('');
  expect((await journalOf(other.page, job)).length).toBe(before + 1);

  // The whole app, not only the page that was open: the shelf, and another job from the lists.
  await other.tap('Escape');
  await other.startJob(/^Renew chain and sprockets/, /^Road machine 7/, /Tomas Reedle/);
  expect(bench.complaints.filter((line) => !line.includes('net::ERR_'))).toEqual([]);
});

test('a later version waits while a job is open, and comes when the job is left', async () => {
  const hands = await bench.hands();
  await ready(hands.page);
  await hands.loadDemo();
  await hands.startJob(/^Renew chain and sprockets/, /^School machine 1/, /Tomas Reedle/);
  const { page } = hands;
  const waiting = () =>
    page.evaluate(async () => (await navigator.serviceWorker.getRegistration())?.waiting?.state ?? null);

  network.release('later');
  let loads = 0;
  page.on('framenavigated', () => {
    loads++;
  });
  await page.reload();
  await hands.atStation();
  for (let tries = 0; (await waiting()) === null && tries < 200; tries++) await page.waitForTimeout(50);
  expect(await waiting()).toBe('installed');
  expect(await markOf(page)).toBeNull();

  // More than the time after which the app looks again whether it may: the job is not touched.
  loads = 0;
  const until7s = performance.now() + 7000;
  while (performance.now() < until7s) await hands.doRight();
  expect(loads).toBe(0);
  expect(await waiting()).toBe('installed');
  expect(await markOf(page)).toBeNull();

  const { hash } = new URL(page.url());
  await hands.tap('Escape');
  await until(page, 'the shelf', onShelf);
  for (let tries = 0; (await markOf(page).catch(() => null)) === null && tries < 200; tries++)
    await page.waitForTimeout(50);
  expect(await markOf(page)).toBe('later');

  // The job goes on in the later version where it stood.
  await hands.take(/^Go on: Renew chain and sprockets, School machine 1/);
  await hands.doRight();
  expect(new URL(page.url()).hash).toBe(hash);
  expect(bench.complaints).toEqual([]);
});
