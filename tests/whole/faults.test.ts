import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Bench } from './app.ts';
import { HOWS } from './fault-inject.ts';
import { faults } from './fault-table.ts';
import { openBench, openJob, tryFault } from './faults.ts';
import { type Server, serve } from './server.ts';

// Each fault twice: the write that it meets reaches nothing, or reaches the disk and is reported as failed all the same.
// The app is the built one, the database Chromium's own; the faults are put in at its edge.

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

describe.each(faults.map((fault) => [fault.name, fault] as const))('%s', (_, fault) => {
  test.each(HOWS)(
    'fails and is %s: nothing is lost, nothing taken twice, and a sentence says what to do',
    async (how) => {
      const outcome = await tryFault(await openJob(bench), fault, how);
      expect(outcome.wrong).toEqual([]);
      if (!outcome.taken) expect(outcome.said).toMatch(fault.says);
      if (fault.tells) expect(outcome.told).not.toBe('');
    },
  );
});
