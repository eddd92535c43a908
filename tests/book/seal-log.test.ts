import { base64url } from 'jose';
import { expect, test } from 'vitest';
import { logAtSealing } from '../../src/bench/sealing.dom.ts';
import {
  extended,
  type KeptSeal,
  logFaults,
  logTree,
  rewritten,
  rootCode,
  sealedAt,
} from '../../src/book/seal-log.ts';
import { MemoryStore } from '../journal/memory-store.ts';

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

test('the moment of a seal is read from it; what cannot be read has none', () => {
  const jws = (payload: unknown) => `x.${base64url.encode(JSON.stringify(payload))}.y`;
  expect(sealedAt(jws({ sealedAt: '2026-03-01T08:00:00.000Z' }))).toBe('2026-03-01T08:00:00.000Z');
  for (const strange of ['', 'a.b.c', 'x.%%%.y', jws(null), jws({}), jws({ sealedAt: 7 })])
    expect(sealedAt(strange)).toBe('');
});

test('a log that cannot even be fetched does not undo the seal: it is said, with what to do', async () => {
  const said = await logAtSealing(new MemoryStore(), () => Promise.reject(new TypeError('gone')));
  expect(said).toEqual({
    code: null,
    says: [
      'The record is sealed and kept, but the log of seals could not be written: tap to try again, or open the record book.',
    ],
  });
});
