import { afterAll, beforeAll, expect, test } from 'vitest';
import { checkChain } from '../../src/journal/chain.ts';
import { replay } from '../../src/journal/replay.ts';
import { killRun } from './kills.ts';
import { type Server, serve } from './server.ts';

/*
 * What this shows: the browser may die at any instant, and everything that its screen had shown as taken is in the
 * journal of the next start, in order, unchanged, and the job goes on from there. "Shown" is told from outside: a state
 * counts once it was painted and another frame followed, and its news had left the browser before the kill.
 * Tried the other way round, with every write put off by 40 ms, five of twelve kills lost what had been shown.
 *
 * What it does not show: that the records outlive a power cut. The operating system lives on and with it its cache, so
 * a write that had only reached the cache survives here as well. That records are asked onto the disk itself (strict
 * durability, one fsync a transaction) is a matter of the store and its tests.
 */

let server: Server;
beforeAll(async () => {
  server = await serve();
});
afterAll(() => server.stop());

test('killed at 20 instants of a job, the browser has lost nothing that it had shown', async () => {
  const run = await killRun(server.origin, 20, 20261125);
  expect(run.lost).toEqual([]);
  expect(run.changed).toEqual([]);
  expect(run.astray).toEqual([]);
  expect(run.complaints).toEqual([]);
  // The run was worth something: states were shown in every life of the browser, and the job moved on.
  expect(run.shown).toBeGreaterThan(2 * run.kills);
  expect(run.records.filter(({ outcome }) => outcome === 'accepted').length).toBeGreaterThan(run.kills);
  expect(checkChain(run.records)).toEqual([]);
  expect(replay(run.records).findings).toEqual([]);
});
