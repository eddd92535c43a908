import { afterAll, beforeAll, expect, test } from 'vitest';
import { Bench, jobOf, journalOf } from './app.ts';
import type { Hands } from './hands.ts';
import { until } from './screen.ts';
import { type Server, serve } from './server.ts';

/* A fault found half-way: raised, decided by somebody who may, work handed over; all by keys and all in the journal. */

let server: Server;
let bench: Bench;
beforeAll(async () => {
  server = await serve();
  bench = await Bench.open(server.origin);
});
afterAll(async () => {
  await bench.close();
  await server.stop();
});

const titled = (hands: Hands, title: RegExp) =>
  until(hands.page, String(title), ({ job }) => title.test(job?.over?.title ?? ''));

/** Answers the question over the station by the line that begins so. */
async function answer(hands: Hands, question: RegExp, wanted: RegExp): Promise<void> {
  const { job } = await titled(hands, question);
  const at = (job?.over?.options ?? []).findIndex(({ text }) => wanted.test(text));
  expect(at, `${wanted} in ${job?.over?.options.map(({ text }) => text).join(' | ')}`).toBeGreaterThanOrEqual(
    0,
  );
  await hands.tap(`Digit${at + 1}`);
}

async function signsOn(hands: Hands): Promise<void> {
  const { job } = await titled(hands, /^Sign on/);
  await hands.givePin(job?.over?.text ?? '');
}

test('a trouble stops the work until it is decided; work is handed over in a pause', async () => {
  const hands = await bench.hands();
  await hands.loadDemo();
  await hands.startJob(/^Renew chain/, /School machine/, /Tomas/);
  const first = (await hands.atStation()).station;
  for (let n = 0; n < 5; n++) await hands.doRight();
  const later = await hands.readAll();
  expect(later.station).not.toBe(first);

  await hands.tap('KeyT');
  await answer(hands, /^What is wrong/, /^A part is damaged/);
  const asked = await titled(hands, /What is decided/);
  expect(asked.job?.over?.options.map(({ text }) => text).join()).not.toMatch(/Concession/);
  await answer(hands, /What is decided/, /^Rework/);
  const { job } = await titled(hands, /^Back to where/);
  const lines = job?.over?.options ?? [];
  expect(lines.length).toBeGreaterThan(1);
  await hands.tap(`Digit${Math.min(lines.length, 9)}`);
  await answer(hands, /^For what reason/, /^It is done again/);
  await answer(hands, /^Who decides/, /Nora/);
  await signsOn(hands);
  const back = await until(hands.page, 'the station to do again', (sight) => sight.job?.over === null);
  expect(back.job?.station).not.toBe(later.station);

  await hands.tap('KeyP');
  await titled(hands, /^Paused/);
  await hands.tap('Digit1');
  await answer(hands, /^Who goes on/, /Ilse/);
  await signsOn(hands);
  await titled(hands, /^Paused/);
  await hands.tap();
  await until(hands.page, 'the job again', (sight) => sight.job?.over === null);
  await hands.doRight();

  const records = await journalOf(hands.page, jobOf(hands.page));
  const told = records
    .filter(({ event }) => ['trouble', 'decide', 'handOver', 'signOn'].includes(event.type))
    .map(({ event, by, outcome }) => [event.type, by, outcome]);
  expect(told).toEqual([
    ['signOn', 'w-tomas', 'accepted'],
    ['trouble', 'w-tomas', 'accepted'],
    ['signOn', 'w-nora', 'accepted'],
    ['decide', 'w-nora', 'accepted'],
    ['signOn', 'w-ilse', 'accepted'],
    ['handOver', 'w-ilse', 'accepted'],
  ]);
  expect(records.at(-1)?.by).toBe('w-ilse');
  expect(bench.complaints).toEqual([]);
});
