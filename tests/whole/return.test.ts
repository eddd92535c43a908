import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Bench } from './app.ts';
import { journalOf } from './app.ts';
import { setClock, unbreak } from './fault-inject.ts';
import { deed, openBench, openJob } from './faults.ts';
import { look, until } from './screen.ts';
import { type Server, serve } from './server.ts';

let server: Server;
let bench: Bench;
beforeAll(async () => {
  server = await serve();
  bench = await openBench(server.origin);
});
afterAll(async () => {
  await bench.close();
  await server.stop();
});

const MIN = 60_000;

/** Everything pressed so far was written down, and the screen has drawn it. */
const written = (page: Page) =>
  page.evaluate(async () => {
    await (document.querySelector('hf-app') as unknown as { idle: Promise<unknown> }).idle;
    await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
  });

/** What lies over the station, or nothing. */
const overText = async (page: Page): Promise<string> => (await look(page)).job?.over?.text ?? '';

test('called away for half an hour: the job pauses by itself, says where we were, and goes on with a tap', async () => {
  const at = await openJob(bench);
  const { hands } = at;
  const { say } = await hands.atStation();
  await setClock(hands.page, 30 * MIN);
  const { job } = await until(hands.page, 'the pause', (sight) => sight.job?.over?.title === 'Paused');
  expect(job?.over?.text).toMatch(/Nothing was done here for 30 min\./);
  let told = '';
  for (let page = 0; page < 5 && (await overText(hands.page)) !== ''; page++) {
    told += ` ${await overText(hands.page)}`;
    await hands.tap();
    await written(hands.page);
  }
  expect(told).toContain(say);
  expect(told).toContain('Before you go on');
  await until(hands.page, 'the station', (sight) => sight.job?.over === null);
  const records = await journalOf(hands.page, at.job);
  expect(records.slice(-2).map(({ event, via, outcome }) => [event.type, via, outcome])).toEqual([
    ['pause', 'clock', 'accepted'],
    ['resume', 'keys', 'accepted'],
  ]);
  await unbreak(hands.page);
});

test('back the next day, after a reload: the last hold point is read again and acknowledged by a long press', async () => {
  const at = await openJob(bench);
  const { hands } = at;
  // On to the first station after a hold point.
  let held = '';
  for (let n = 0; n < 60; n++) {
    const sight = await hands.atStation();
    if (held !== '' && !sight.hold && sight.over === null) break;
    if (sight.hold) held = sight.say;
    await hands.doRight();
    await written(hands.page);
  }
  expect(held).not.toBe('');
  const { station } = await hands.atStation();

  // Fourteen hours on, in a fresh start of the app.
  await hands.page.addInitScript(
    (ms) => {
      const now = Date.now;
      Date.now = () => now() + ms;
    },
    14 * 60 * MIN,
  );
  await hands.page.reload();
  const { job } = await until(hands.page, 'the pause', (sight) => sight.job?.over?.title === 'Paused');
  expect(job?.station).toBe(station);
  // A press at a page that is not the last reads on: nothing is acknowledged that was not on the screen.
  for (let page = 0; page < 5 && !(await overText(hands.page)).includes(held); page++) await hands.tap();
  expect(await overText(hands.page)).toContain('Confirmed last. Read it again');
  expect(await overText(hands.page)).toContain(held);

  // A tap is not enough, nor is Enter, nor a press that is let go too soon.
  const before = (await journalOf(hands.page, at.job)).length;
  await hands.tap();
  await hands.tap('Enter');
  await hands.hold('PageDown', 900);
  expect((await journalOf(hands.page, at.job)).length).toBe(before);
  expect((await hands.atStation()).over?.title).toBe('Paused');
  await hands.hold();
  await until(hands.page, 'the station', (sight) => sight.job?.over?.title !== 'Paused');
  const [note, resume] = (await journalOf(hands.page, at.job)).slice(before);
  expect(note?.event).toMatchObject({ type: 'note', says: expect.stringContaining(held) });
  expect(note?.event).toMatchObject({ says: expect.stringMatching(/^After a break of 14 h/) });
  expect(resume?.event).toEqual({ type: 'resume' });
});

test('a press that began before another window moved the screen counts for nothing', async () => {
  const at = await openJob(bench);
  const other = await bench.hands({}, `#job=${at.job}`);
  await until(other.page, 'that it only reads', ({ job }) => (job?.readOnly ?? '') !== '');
  // The foot goes down in the reading window to take the job over; before the bar is full the first window moves on.
  await other.page.bringToFront();
  await other.page.keyboard.down('PageDown');
  await other.page.waitForTimeout(300);
  await at.hands.page.evaluate(() => {
    const app = document.querySelector('hf-app') as unknown as { pressed(gesture: unknown): void };
    app.pressed({ kind: 'tap', key: 'go', via: 'pedal', downAt: 0 });
  });
  await other.page.waitForTimeout(1300);
  await other.page.keyboard.up('PageDown');
  await other.page.waitForTimeout(200);
  const { job } = await other.look();
  expect(job?.readOnly).not.toBe('');
  // Now meant for what is shown, the same press takes it over.
  await other.hold();
  await until(other.page, 'that it writes', (sight) => sight.job?.readOnly === '');
  expect((await deed({ ...at, hands: other }, null)).taken).toBe(true);
});
