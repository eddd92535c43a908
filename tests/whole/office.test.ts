import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type BrowserContext, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { OfficeProcess } from '../office/office-process.ts';
import { chromiumArgs, chromiumPath } from '../tools/chromium.ts';
import { Bench, jobOf, journalOf } from './app.ts';
import type { Hands } from './hands.ts';
import { until } from './screen.ts';

// Two benches and the office, each in a browser of its own, the office as anybody would start it.

let folder: string;
let office: OfficeProcess;
const closing: (() => Promise<unknown>)[] = [];

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'holdfast-office-'));
  office = await OfficeProcess.start({ folder, build: true });
});
afterAll(async () => {
  for (const close of closing.reverse()) await close();
  await office.end('SIGTERM');
  rmSync(folder, { recursive: true, force: true });
});

async function deskPage(): Promise<Page> {
  const browser = await chromium.launch({ executablePath: chromiumPath(), args: [...chromiumArgs] });
  closing.push(() => browser.close());
  const context: BrowserContext = await browser.newContext({ acceptDownloads: true });
  // The browser's own dialog for a place on the disk cannot be driven: without it the page takes the way of downloads.
  await context.addInitScript(() => {
    Reflect.deleteProperty(window, 'showSaveFilePicker');
  });
  return context.newPage();
}

/** The link that enrols a new bench, from the desk's page. */
async function invitation(desk: Page, name: string): Promise<string> {
  await desk.getByRole('button', { name: 'Devices' }).click();
  await desk.getByLabel('Name of the new bench').fill(name);
  await desk.locator('#new-bench').click();
  const shown = desk.locator('.code');
  await shown.filter({ hasText: encodeURIComponent(name) }).waitFor();
  return new URL((await shown.textContent())?.trim() ?? '').hash;
}

async function joinedBench(desk: Page, name: string): Promise<{ bench: Bench; hands: Hands }> {
  const bench = await Bench.open(office.origin);
  closing.push(() => bench.close());
  const hands = await bench.hands({}, await invitation(desk, name));
  await hands.loadDemo();
  expect(hands.page.url()).not.toContain('office=');
  await hands.take(/^The office/);
  await until(
    hands.page,
    'who this bench is',
    ({ heading, text }) => heading === 'The office' && text.includes(name),
  );
  await hands.tap('Escape');
  await until(hands.page, 'the shelf', ({ heading }) => heading === 'Low Fold Riding School');
  return { bench, hands };
}

const row = (desk: Page, job: string) => desk.locator(`tr[data-job="${job}"]`);

test('a job begun at one bench, paused and taken over at another, is followed at the desk to its record', async () => {
  const desk = await deskPage();
  const link = await office.deskLink();
  await desk.goto(link);
  await desk.getByLabel('Name of this desk').fill('Desk 1');
  await desk.getByRole('button', { name: 'Let this desk in' }).click();
  await desk.getByText('Nobody is at work').waitFor();
  expect(desk.url()).not.toContain('code=');

  const first = await joinedBench(desk, 'Bench 1');
  const second = await joinedBench(desk, 'Bench 2');

  await first.hands.startJob(/^Renew chain and sprockets/, /^School machine 1/, /mechanic/);
  await first.hands.doRight();
  const job = jobOf(first.hands.page);
  await desk.getByRole('button', { name: 'At the benches' }).click();
  await row(desk, job).getByText('At work').waitFor({ timeout: 30_000 });
  expect(await row(desk, job).textContent()).toContain('Bench 1');

  // The office is away for a while: the bench works on.
  await office.end('SIGKILL');
  await first.hands.doRight();
  await first.hands.tap('KeyP');
  await until(first.hands.page, 'the pause', (sight) => sight.job?.over?.title === 'Paused');
  await office.begin();
  await row(desk, job).getByText('Paused').waitFor({ timeout: 60_000 });
  const before = await journalOf(first.hands.page, job);

  await second.hands.take(/^The office/);
  await second.hands.take(/Renew chain and sprockets, School machine 1/);
  const there = await second.hands.atStation();
  expect(there.over?.title).toBe('Paused');
  expect(await journalOf(second.hands.page, job)).toEqual(before);
  await second.hands.tap();
  await row(desk, job).getByText('Bench 2').waitFor({ timeout: 30_000 });

  // The old bench hears of it, and does not go on.
  await first.hands.tap('Escape');
  await until(
    first.hands.page,
    'the job at another bench',
    ({ options }) => options.some(({ text }) => /School machine 1/.test(text)),
    30_000,
  );
  // A machine that is slow may open the job before the office has answered, and learns of it in the next round.
  for (let tries = 0; tries < 5; tries++) {
    await first.hands.take(/School machine 1/);
    const { screen } = await until(
      first.hands.page,
      'the job, or why not',
      (sight) => sight.screen === 'job' || /Another bench goes on/.test(sight.text),
    );
    if (screen !== 'job') break;
    await first.hands.tap('Escape');
    await until(first.hands.page, 'the shelf', ({ heading }) => heading === 'Low Fold Riding School');
  }
  expect((await first.hands.look()).text).toContain('Another bench goes on');

  await desk.getByRole('button', { name: 'Record book' }).click();
  await row(desk, job).getByText('Open').waitFor();
  const downloading = desk.waitForEvent('download');
  await desk.getByRole('button', { name: 'Save as a table' }).click();
  const table = join(folder, 'jobs.csv');
  await (await downloading).saveAs(table);
  expect(readFileSync(table, 'utf8')).toContain(job);
  await desk.getByRole('button', { name: 'Figures' }).click();
  await desk.getByText('Time at each station').waitFor();

  const expected = /ERR_CONNECTION_REFUSED|409 \(Conflict\)/;
  for (const { bench } of [first, second])
    expect(bench.complaints.filter((one) => !expected.test(one))).toEqual([]);
});
