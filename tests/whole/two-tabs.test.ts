import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from 'vitest';
import { Bench, jobOf, journalOf } from './app.ts';
import type { Hands } from './hands.ts';
import { until } from './screen.ts';
import { type Server, serve } from './server.ts';

let server: Server;
let bench: Bench;
beforeAll(async () => {
  server = await serve();
});
afterAll(() => server.stop());
beforeEach(async () => {
  bench = await Bench.open(server.origin);
});
afterEach(() => bench.close());

const SAYS = /This job is being done in another window: here it can only be read\./;

const stationOf = async (hands: Hands) => (await hands.atStation()).station;
const readsOnly = (hands: Hands) =>
  until(hands.page, 'that it can only be read', ({ job }) => SAYS.test(job?.readOnly ?? ''));
const writes = (hands: Hands) =>
  until(hands.page, 'what can be done', ({ job }) => job?.readOnly === '' && job.offers.length > 0);

test('a job in two windows: the second reads and follows, until it is taken over there', async () => {
  const first = await bench.hands();
  await first.loadDemo();
  await first.startJob(/^Renew chain and sprockets/, /^School machine 1/, /Ilse Marrok/);
  const job = jobOf(first.page);
  const second = await bench.hands({}, `#job=${job}`);
  await readsOnly(second);
  await writes(first);
  expect(await stationOf(second)).toBe(await stationOf(first));

  // What the first does, the second shows; what the second presses is nothing to the job.
  const records = async () => (await journalOf(first.page, job)).length;
  for (let step = 0; step < 3; step++) {
    const { job: now } = await first.doRight();
    await until(second.page, 'the same station', (sight) => sight.job?.station === now?.station);
    const before = await records();
    for (const key of ['PageDown', 'Enter', 'Digit1', 'KeyF', 'KeyP', 'Backspace']) await second.tap(key);
    expect(await stationOf(second)).toBe(now?.station);
    expect(await records()).toBe(before);
  }
  expect((await second.look()).job?.fault).toBe('');

  // A short press takes nothing over, a deliberate one does: then the first is the one that reads.
  await second.hold('PageDown', 800);
  await readsOnly(second);
  await second.hold();
  await writes(second);
  await readsOnly(first);
  const before = await records();
  await first.tap();
  expect(await records()).toBe(before);
  const { job: now } = await second.doRight();
  await until(first.page, 'the same station', (sight) => sight.job?.station === now?.station);
  expect(await records()).toBe(before + 1);
  expect((await first.look()).job?.fault).toBe('');

  // And back again.
  await first.hold();
  await writes(first);
  await readsOnly(second);
  await first.doRight();
  expect(bench.complaints).toEqual([]);
});

test('a window that is closed gives the job back', async () => {
  const first = await bench.hands();
  await first.loadDemo();
  await first.startJob(/^Renew chain and sprockets/, /^School machine 1/, /Ilse Marrok/);
  const hash = `#job=${jobOf(first.page)}`;
  const second = await bench.hands({}, hash);
  await readsOnly(second);
  await first.page.close();
  const third = await bench.hands({}, hash);
  await writes(third);
  await third.doRight();
  expect(bench.complaints).toEqual([]);
});
