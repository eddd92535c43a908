import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Bench } from './app.ts';
import { openBench, openJob } from './faults.ts';
import { type Hands, onShelf } from './hands.ts';
import { until } from './screen.ts';
import { ROOT, type Server, serve } from './server.ts';

let server: Server;
let bench: Bench;
let folder: string;
beforeAll(async () => {
  server = await serve();
  bench = await openBench(server.origin);
  folder = mkdtempSync(join(tmpdir(), 'holdfast-enrol-'));
});
afterAll(async () => {
  await bench.close();
  await server.stop();
  rmSync(folder, { recursive: true, force: true });
});

const verify = (...args: string[]): Promise<{ code: number; out: string }> =>
  new Promise((resolve) => {
    const command = ['--import', 'tsx', 'src/cli/verify.ts', ...args];
    execFile(process.execPath, command, { cwd: ROOT }, (error, out) =>
      resolve({ code: error === null ? 0 : Number(error.code), out }),
    );
  });

/** What a press brings into the downloads, kept in the folder. */
async function saved(page: Page, press: () => Promise<void>): Promise<string> {
  const [download] = await Promise.all([page.waitForEvent('download'), press()]);
  const file = join(folder, download.suggestedFilename());
  await download.saveAs(file);
  return file;
}

/** Stops the job for the first reason: a stopped job is closed and sealed too. */
async function stop(hands: Hands): Promise<string> {
  await hands.tap('KeyS');
  await until(hands.page, 'the reasons', ({ job }) => (job?.over?.options.length ?? 0) > 0);
  await hands.tap('Digit1');
  await until(hands.page, 'the seal', ({ end }) => (end?.code ?? '') !== '');
  return saved(hands.page, () => hands.tap());
}

test('the key that this bench saves is the one by which its records verify, and no other is', async () => {
  const { hands } = await openJob(bench);
  const record = await stop(hands);
  await hands.tap('Escape');
  await until(hands.page, 'the shelf', onShelf);
  await hands.take(/^This bench/);
  await until(hands.page, 'this bench', ({ text }) => text.startsWith('This bench'));
  const keys = await saved(hands.page, () => hands.tap('Digit9'));

  const set = JSON.parse(readFileSync(keys, 'utf8'));
  expect(set.keys).toHaveLength(1);
  expect(Object.keys(set.keys[0]).sort()).toEqual(['alg', 'crv', 'kid', 'kty', 'use', 'x', 'y']);
  const { text } = await until(hands.page, 'the code of the key', (sight) =>
    /signs with the key/.test(sight.text),
  );
  expect(text.replaceAll(' ', '')).toContain(set.keys[0].kid);

  const good = await verify(record, '--keys', keys);
  expect(good.out).toContain('holds (');
  expect(good.out).not.toContain('was not checked');
  expect(good.code).toBe(0);

  const strange = join(folder, 'strange.json');
  const { publicKey } = await crypto.subtle.generateKey({ name: 'ECDSA', namedCurve: 'P-256' }, true, [
    'sign',
    'verify',
  ]);
  writeFileSync(strange, JSON.stringify({ keys: [await crypto.subtle.exportKey('jwk', publicKey)] }));
  const bad = await verify(record, '--keys', strange);
  expect(bad.code).toBe(1);
  expect(bad.out).toContain('is not enrolled');
});
