import { expect, test } from 'vitest';
import { extended, type KeptSeal, logFaults, logTree, rewritten, rootCode } from '../../src/book/seal-log.ts';

const seal = (job: string, sealedAt: string): KeptSeal => ({ job, sealedAt, seal: `head.${job}.sig` });
const first = seal('a', '2026-03-01T08:00:00.000Z');
const second = seal('b', '2026-03-02T08:00:00.000Z');
// Sealed after the clock had been set back.
const third = seal('c', '2026-02-01T08:00:00.000Z');

test('new seals are added in the order of sealing; those that are known keep their place', () => {
  const log = extended([], [second, first]);
  expect(log.map(({ job }) => job)).toEqual(['a', 'b']);
  expect(extended(log, [third, second, first]).map(({ job }) => job)).toEqual(['a', 'b', 'c']);
  expect(extended(log, [first, second])).toEqual(log);
});

test('a removed and a replaced job are named', () => {
  const log = extended([], [first, second]);
  expect(logFaults(log, [first, second])).toEqual([]);
  expect(logFaults(log, [second])).toMatchObject([{ place: 1, job: 'a', code: 'seal-gone' }]);
  const forged = { ...second, seal: 'head.other.sig' };
  expect(logFaults(log, [first, forged])).toMatchObject([{ place: 2, job: 'b', code: 'seal-replaced' }]);
});

test('a root seen before must be one of the past of the log', () => {
  const log = extended([], [first, second, third]);
  const seen = { count: 2, root: logTree(log).root(2) };
  expect(rewritten(log, seen)).toBeNull();
  expect(rewritten(log.slice(0, 1), seen)?.says).toContain('had 2 seals and has 1');
  expect(rewritten([...log.slice(1), ...log.slice(0, 1)], seen)?.code).toBe('log-rewritten');
  expect(rootCode(seen)).toMatch(/^2 · [0-9a-f]{4} [0-9a-f]{4} [0-9a-f]{4}$/);
});
