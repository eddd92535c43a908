import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { FIRST_PAUSE_MS, LONGEST_PAUSE_MS, pauseAfter, REST_MS } from '../../src/sync/backoff.ts';
import { OFFICE_CODES, sentenceOf, statusOf } from '../../src/sync/fault.ts';
import { batches, type KnownJob, type LocalJob, mayForget, planJob } from '../../src/sync/plan.ts';
import type { OfficeHead } from '../../src/sync/wire.ts';

const JOB = '00000000-0000-4000-8000-000000000001';
const hash = fc.constantFrom('a', 'b', 'c');
const mine = fc.record<LocalJob>({
  job: fc.constant(JOB),
  count: fc.integer({ min: 1, max: 6 }),
  hash,
  closed: fc.boolean(),
  sealed: fc.boolean(),
});
const theirs = fc.record<OfficeHead>({
  job: fc.constant(JOB),
  count: fc.integer({ min: 1, max: 6 }),
  head: hash,
  fence: fc.integer({ min: 1, max: 4 }),
  holder: fc.constantFrom('you', 'other', 'nobody'),
  agrees: fc.constantFrom(true, false, null),
  sealed: fc.boolean(),
});
const known = fc.option(
  fc.record<KnownJob>({
    count: fc.integer({ min: 0, max: 6 }),
    hash,
    fence: fc.integer({ min: 1, max: 4 }),
    sealed: fc.boolean(),
    logged: fc.boolean(),
    filed: fc.boolean(),
    trouble: fc.constantFrom(null, 'forked', 'taken', 'refused'),
  }),
  { nil: undefined },
);

describe('the plan for one job', () => {
  test('never sends from beyond what the office has, and never asks for what is here', () => {
    fc.assert(
      fc.property(mine, theirs, known, (here, there, before) => {
        const act = planJob(here, there, before);
        if (act.kind === 'push') expect(act.from).toBeLessThanOrEqual(Math.min(there.count, here.count));
        if (act.kind === 'restore') expect(act.from).toBe(here.count);
      }),
    );
  });

  test('sends nothing more of a job that went astray and was told of', () => {
    fc.assert(
      fc.property(mine, theirs, (here, there) => {
        const astray = {
          count: 0,
          hash: '',
          fence: 1,
          sealed: false,
          logged: false,
          trouble: 'forked' as const,
        };
        const act = planJob(here, { ...there, agrees: false }, astray);
        expect(act).toEqual({ kind: 'leave', trouble: 'forked' });
      }),
    );
  });

  test('never takes records from the office for a job that another bench holds', () => {
    fc.assert(
      fc.property(mine, theirs, known, (here, there, before) => {
        const act = planJob(here, { ...there, holder: 'other' }, before);
        expect(act.kind).not.toBe('restore');
      }),
    );
  });

  test('sends a new job whole, and fetches a lost one whole', () => {
    fc.assert(
      fc.property(mine, theirs, known, (here, there, before) => {
        expect(planJob(here, undefined, before)).toEqual({ kind: 'push', from: 0, fence: 1 });
        const lost = planJob(undefined, { ...there, holder: 'you' }, before);
        expect(lost).toEqual({ kind: 'restore', from: 0 });
      }),
    );
  });
});

test('a job may be forgotten only when every record, every photo, the seal and its place in the log are confirmed', () => {
  fc.assert(
    fc.property(mine, known, (here, before) => {
      const may = mayForget(here, before);
      const whole =
        before !== undefined &&
        before.count === here.count &&
        before.hash === here.hash &&
        before.trouble === null;
      expect(may).toBe(
        whole && before.sealed && before.logged && before.filed === true && here.closed && here.sealed,
      );
    }),
    { numRuns: 2000 },
  );
});

test('batches hold everything once, in order, within both limits', () => {
  const most = { records: 5, bytes: 100 };
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 1, max: 150 })), (sizes) => {
      const cut = batches(sizes, (size) => size, most);
      expect(cut.flat()).toEqual(sizes);
      for (const batch of cut) {
        expect(batch.length).toBeGreaterThan(0);
        expect(batch.length).toBeLessThanOrEqual(most.records);
        const bytes = batch.reduce((sum, size) => sum + size, 0);
        expect(bytes <= most.bytes || batch.length === 1).toBe(true);
      }
    }),
  );
});

test('pauses grow with failures, stay within their bounds, and heed what the office asks for', () => {
  const chance = fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true });
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 5000 }),
      chance,
      fc.integer({ min: 0, max: 900_000 }),
      (failures, by, asked) => {
        const pause = pauseAfter(failures, by, asked);
        expect(pause).toBeGreaterThanOrEqual(Math.max(asked, FIRST_PAUSE_MS / 2));
        expect(pause).toBeLessThanOrEqual(Math.max(asked, LONGEST_PAUSE_MS));
        expect(pauseAfter(failures + 1, by)).toBeGreaterThanOrEqual(pauseAfter(failures, by));
      },
    ),
  );
  expect(pauseAfter(0, 0.5)).toBe(REST_MS);
});

test('every refusal has a status of its kind and one sentence that says what to do', () => {
  for (const code of OFFICE_CODES) {
    expect(statusOf(code)).toBeGreaterThanOrEqual(400);
    expect(sentenceOf(code), code).toMatch(/^[A-Z][^.]+[:,][^.]+\.$/);
  }
});
