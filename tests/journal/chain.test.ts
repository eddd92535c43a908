import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { canonicalBytes, canonicalText } from '../../src/journal/canonical.ts';
import { checkChain, hashRecord, makeRecord } from '../../src/journal/chain.ts';
import { JOURNAL_CODES, JournalError } from '../../src/journal/fault.ts';
import { fromMoment, toMoment } from '../../src/journal/moment.ts';
import type { JournalRecord } from '../../src/journal/record.ts';
import { decodeUtf8 } from '../../src/journal/utf8.ts';
import { play, wholeJob } from './play.ts';

const records = play(wholeJob);

describe('canonical form', () => {
  test.each([
    ['undefined', { a: undefined }],
    ['NaN', { a: [Number.NaN] }],
    ['Infinity', Number.NEGATIVE_INFINITY],
    ['a function', { a: () => 1 }],
    ['a bigint', 1n],
    ['a date', { a: new Date(0) }],
    ['a map', new Map()],
    ['half a surrogate pair', '\ud800'],
    ['half a surrogate pair in a key', { '\udc00': 1 }],
    ['a key that reaches prototypes', JSON.parse('{"__proto__":1}')],
    ['a hole', new Array(2)],
  ])('refuses %s', (_, value) => {
    expect(() => canonicalText(value)).toThrow(JournalError);
  });

  test('refuses what is nested too deep, without falling over', () => {
    let deep: unknown = 1;
    for (let n = 0; n < 200_000; n++) deep = [deep];
    expect(() => canonicalText(deep)).toThrow(expect.objectContaining({ code: 'not-json' }));
  });

  test('does not depend on the order of keys and survives a round trip', () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 4 }), (value) => {
        fc.pre(!/__proto__|constructor|prototype/.test(JSON.stringify(value)));
        const text = canonicalText(value);
        expect(canonicalText(JSON.parse(text))).toBe(text);
        expect(decodeUtf8(canonicalBytes(value))).toBe(text);
      }),
    );
  });
});

test('UTF-8 is decoded exactly as a strict TextDecoder does it', () => {
  const strict = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });
  const expected = (bytes: Uint8Array) => {
    try {
      return strict.decode(bytes);
    } catch {
      return null;
    }
  };
  const long = new TextEncoder().encode('½ N·m “ok” 😀 100% '.repeat(2000));
  for (const cut of [0, 1, 2, 3]) expect(decodeUtf8(long.subarray(cut))).toBe(expected(long.subarray(cut)));
  fc.assert(
    fc.property(
      fc.oneof(fc.uint8Array({ maxLength: 12 }), fc.uint8Array({ min: 0x7e, maxLength: 6 })),
      (bytes) => {
        expect(decodeUtf8(bytes)).toBe(expected(bytes));
      },
    ),
    { numRuns: 2000 },
  );
});

describe('moments', () => {
  test('there and back', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 253_402_300_799_999 }), (at) => fromMoment(toMoment(at)) === at),
    );
  });
  test.each([
    '2026-02-29T00:00:00.000Z',
    '2026-01-01T24:00:00.000Z',
    '2026-01-01T00:00:60.000Z',
    '2026-1-01T00:00:00.000Z',
  ])('%s is none', (text) => expect(fromMoment(text)).toBeNull());
  test.each([-1, 0.5, Number.NaN, 253_402_300_800_000])('%d ms cannot be written', (at) => {
    expect(() => toMoment(at)).toThrow(expect.objectContaining({ code: 'wrong-moment' }));
  });
});

describe('chain', () => {
  test('a good one has nothing to find, of any length', () => {
    for (let n = 0; n <= records.length; n++) expect(checkChain(records.slice(0, n))).toEqual([]);
  });

  test('the first follows 64 zeros and is a copy', () => {
    const fields = { ...(records[0] as JournalRecord), by: 'ada' };
    const made = makeRecord(null, fields);
    expect(made).toMatchObject({ seq: 0, prev: '0'.repeat(64) });
    expect(made.event).not.toBe(fields.event);
    expect(hashRecord(made)).toBe(made.hash);
    expect(makeRecord(made, fields)).toMatchObject({ seq: 1, prev: made.hash });
  });

  test('any record dropped (but the last), swapped, repeated or put elsewhere is found', () => {
    const index = fc.integer({ min: 0, max: records.length - 1 });
    fc.assert(
      fc.property(index, index, (from, to) => {
        const record = records[from] as JournalRecord;
        if (from < records.length - 1) expect(checkChain(records.toSpliced(from, 1))).not.toEqual([]);
        expect(checkChain(records.toSpliced(to, 0, record))).not.toEqual([]);
        if (from === to) return;
        const swapped = records.with(to, record).with(from, records[to] as JournalRecord);
        expect(checkChain(swapped)).not.toEqual([]);
        expect(checkChain(records.toSpliced(from, 1).toSpliced(to, 0, record))).not.toEqual([]);
      }),
    );
  });

  test('a cut tail does not show in the chain alone: that is what the seal and the second head are for', () => {
    expect(checkChain(records.slice(0, -1))).toEqual([]);
  });
});

test('every fault has one sentence that ends in a full stop', () => {
  for (const code of JOURNAL_CODES) expect(new JournalError(code).message).toMatch(/^[A-Z].*\.$/);
});
