import { beforeAll, describe, expect, test } from 'vitest';
import { toRecordFile } from '../../src/journal/file.ts';
import { hashOf } from '../../src/journal/hash.ts';
import { proofOf } from '../../src/journal/proved.ts';
import type { JournalRecord } from '../../src/journal/record.ts';
import { replay } from '../../src/journal/replay.ts';
import type { SigningKey } from '../../src/journal/seal.ts';
import { sealPayload, signSeal } from '../../src/journal/seal.ts';
import { verifyFile } from '../../src/journal/verify.ts';
import { fork, hold, oneOf, procedure, step } from '../../src/procedure/index.ts';
import type { Deed } from './play.ts';
import { makeKey, openingOf, play, press, rechained, sealed, toFork, wholeJob } from './play.ts';

let key: SigningKey;
const records = play(wholeJob);
let good: string;
beforeAll(async () => {
  key = await makeKey();
  good = await sealed(records, key);
});

const codes = async (content: string, options = {}) =>
  [...new Set((await verifyFile(content, options)).findings.map(({ code }) => code))].join();

describe('a good record', () => {
  test('holds, and says what it is about', async () => {
    const report = await verifyFile(good, { keys: { keys: [{ ...key.publicJwk }] }, prove: () => [] });
    expect(report.findings).toEqual([]);
    expect(report.remarks).toEqual([]);
    expect(report.holds).toBe(true);
    expect(report.record).toMatchObject({
      records: records.length,
      outcome: 'complete',
      sealedBy: { id: 'cyd', name: 'Cyd' },
      kid: key.kid,
      procedure: { id: 'sample', revision: 1 },
    });
  });

  test('holds as bytes too, and without keys says that the key was not checked', async () => {
    const report = await verifyFile(new TextEncoder().encode(good));
    expect(report.holds).toBe(true);
    expect(report.remarks.map(({ code }) => code)).toEqual(['key-not-checked', 'proof-not-run']);
  });

  test('of a stopped job holds without its hold points', async () => {
    const stopped = play([...toFork(), { type: 'stop', says: 'Hub is cracked.' }]);
    expect(await codes(await sealed(stopped, key))).toBe('');
  });

  test('replays to where the job ended', () => {
    const { snapshot, findings } = replay(records);
    expect(findings).toEqual([]);
    expect(snapshot.outcome).toBe('complete');
    expect(snapshot.context.notes).toHaveLength(1);
  });

  test('with a clock that was set back holds, with a remark', async () => {
    const late = records.map((record, n) =>
      n === 5 ? { ...record, at: '2026-11-18T00:00:00.000Z' } : record,
    );
    const report = await verifyFile(await sealed(rechained(late), key));
    expect(report.findings).toEqual([]);
    expect(report.remarks.map(({ code }) => code)).toContain('clock-went-back');
  });
});

describe('lines', () => {
  const lines = () => good.trimEnd().split('\n');
  test.each([
    ['', 'file-empty'],
    ['\n', 'not-json'],
    ['{}\n', 'wrong-fields'],
    ['[]\n', 'wrong-fields'],
    ['7\n', 'wrong-fields'],
    ['null\n', 'wrong-fields'],
    [`${'['.repeat(100_000)}${']'.repeat(100_000)}\n`, 'not-json'],
    ['{"__proto__":{"job":1}}\n', 'not-json'],
    ['{"a":1,"a":1}\n', 'not-canonical'],
    ['{"a": 1}\n', 'not-canonical'],
    ['{"a":1e400}\n', 'not-json'],
    ['{"a":1.0}\n', 'not-canonical'],
    ['{"a":"\\ud800"}\n', 'not-json'],
  ])('%#: %.40j is found as %s', async (content, code) => {
    expect(await codes(content)).toBe(code);
  });

  test('a byte order mark, carriage returns, a blank line and a missing line end are found', async () => {
    expect(await codes(`\ufeff${good}`)).toBe('not-json');
    expect(await codes(good.replaceAll('\n', '\r\n'))).toBe('not-canonical');
    expect(await codes(good.replace('\n', '\n\n'))).toBe('not-json');
    expect(await codes(`${good}\n`)).toContain('not-json');
    expect(await codes(good.slice(0, -1))).toBe('no-line-end');
  });

  test('bytes that are not UTF-8 are found, with their line', async () => {
    const bytes = new TextEncoder().encode(good);
    const line3 = new TextEncoder().encode(`${lines().slice(0, 2).join('\n')}\n`).length;
    bytes[line3 + 10] = 0xff;
    const [found] = (await verifyFile(bytes)).findings;
    expect(found).toMatchObject({ line: 3, code: 'not-utf8' });
  });

  test('a field too many, too few or of another kind is found', async () => {
    const [first, second, ...rest] = records as [JournalRecord, JournalRecord];
    const file = (changed: object) => toRecordFile([first, changed as JournalRecord, ...rest], 'x');
    expect(await codes(file({ ...second, extra: 1 }))).toBe('wrong-fields');
    const { via: _, ...short } = second;
    expect(await codes(file(short))).toBe('wrong-fields');
    expect(await codes(file({ ...second, at: '2026-11-18T12:00:00Z' }))).toBe('wrong-fields');
    expect(await codes(file({ ...second, at: '2026-02-30T12:00:00.000Z' }))).toBe('wrong-fields');
    expect(await codes(file({ ...second, event: { type: 'note', says: 5 } }))).toBe('wrong-fields');
    expect(await codes(file({ ...second, event: { type: 'toString' } }))).toBe('wrong-fields');
  });

  test('a seal that is not last, and one with more beside it, are found', async () => {
    const all = lines();
    const seal = all[all.length - 1] ?? '';
    expect(await codes(`${[seal, ...all].join('\n')}\n`)).toBe('seal-not-last');
    expect(await codes(good.replace('{"seal"', '{"a":1,"seal"'))).toBe('wrong-fields');
  });

  test('a sentence shows nothing that would steer a terminal', async () => {
    const loud = toRecordFile([{ ...records[0], '\u001b[2J\u202e': 1 } as unknown as JournalRecord], 'x');
    const [found] = (await verifyFile(loud)).findings;
    expect(found?.says).toContain('\u{fffd}[2J\u{fffd}');
  });
});

describe('chain and seal', () => {
  test('a record changed, dropped, moved or repeated is found at its line', async () => {
    const seal = JSON.parse(good.trimEnd().split('\n').pop() ?? '').seal as string;
    const at = async (changed: readonly JournalRecord[]) => {
      const [first] = (await verifyFile(toRecordFile(changed, seal))).findings;
      return `${first?.line} ${first?.code}`;
    };
    expect(await at(records.with(3, { ...(records[3] as JournalRecord), by: 'cyd' }))).toBe('4 hash-wrong');
    expect(await at(records.toSpliced(3, 1))).toBe('4 seq-wrong');
    expect(await at(records.slice(1))).toBe('1 not-opened');
    expect(await at(records.slice(0, -1))).toBe(`${records.length} seal-differs`);
    expect(await at(records.toSpliced(3, 0, records[3] as JournalRecord))).toBe('5 seq-wrong');
  });

  test('a record chained anew does not fit the seal that was set before', async () => {
    const seal = JSON.parse(good.trimEnd().split('\n').pop() ?? '').seal as string;
    const changed = rechained(records.with(1, { ...(records[1] as JournalRecord), via: 'touch' }));
    expect(await codes(toRecordFile(changed, seal))).toBe('seal-differs');
  });

  test('sealed with a key of somebody else it is found when keys are given', async () => {
    const foreign = await sealed(records, await makeKey());
    expect(await codes(foreign, { keys: { keys: [{ ...key.publicJwk }] } })).toBe('key-not-enrolled');
    expect(await codes(foreign, { keys: { keys: [] } })).toBe('key-not-enrolled');
  });

  test('no seal, the seal of another job, a stranger as sealer, a wrong key id', async () => {
    expect(await codes(good.slice(0, good.lastIndexOf('{"seal"')))).toBe('seal-missing');
    const other = play(wholeJob, { job: '00000000-0000-4000-8000-000000000000' });
    const seal = await signSeal(sealPayload(other, 1_795_000_900_000, 'cyd'), key);
    expect(await codes(toRecordFile(records, seal))).toBe('seal-differs');
    expect(await codes(await sealed(records, key, 'nobody'))).toBe('seal-differs');
    expect(await codes(await sealed(records, { ...key, kid: 'other' }))).toBe('key-id-wrong');
  });

  test.each(['', 'a.b', 'a.b.c', '..', '{}', 'eyJhbGciOiJub25lIn0..'])('"%s" is no seal', async (seal) => {
    expect(await codes(toRecordFile(records, seal))).toBe('seal-unreadable');
  });

  test('an open job cannot be sealed', () => {
    expect(() => sealPayload(records.slice(0, 5), 1_795_000_900_000, 'cyd')).toThrow('still open');
  });
});

describe('the procedure', () => {
  test('exchanged, its hash no longer fits', async () => {
    const opened = openingOf();
    const procedure = { ...opened.procedure, meta: { ...opened.procedure.meta, title: 'Another' } };
    const changed = rechained(
      records.with(0, { ...(records[0] as JournalRecord), event: { ...opened, procedure } }),
    );
    expect(await codes(await sealed(changed, key))).toBe('procedure-hash-wrong');
  });

  test('that fails its proof counts against the record', async () => {
    const prove = () => [{ says: 'Hold point "torque" can be walked round.' }];
    expect(await codes(good, { prove })).toBe('procedure-not-proved');
    const breaks = () => {
      throw new Error('out of paper');
    };
    expect(await codes(good, { prove: breaks })).toBe('procedure-not-proved');
  });

  test.each([
    ['after', { after: { 1000: 'slack' } }],
    ['invoke', { invoke: { src: 'x' } }],
    ['states within', { initial: 'a', states: { a: {} } }],
    ['a ring that never rests', { always: [{ target: 'refit' }] }],
    ['a way by itself that stays', { always: [{}] }],
  ])('with %s in it is refused and not run', async (_, more) => {
    const opened = openingOf();
    const refit = { ...opened.procedure.states.refit, ...more };
    const procedure = { ...opened.procedure, states: { ...opened.procedure.states, refit } } as never;
    const event = { ...opened, procedure, procedureHash: hashOf(procedure) };
    const changed = rechained(records.with(0, { ...(records[0] as JournalRecord), event }));
    expect(await codes(await sealed(changed, key))).toBe('procedure-unusable');
  });

  test.each([{}, { states: [] }, { id: 'x', meta: null }])(
    'that is none at all (%j) is refused',
    async (nothing) => {
      const event = { ...openingOf(), procedure: nothing as never, procedureHash: hashOf(nothing) };
      const changed = rechained(records.with(0, { ...(records[0] as JournalRecord), event }));
      const file = await sealed(changed, key);
      expect(await codes(file, { prove: proofOf })).toBe('procedure-unusable');
      expect((await verifyFile(file)).record).toBeNull();
    },
  );

  test('is really proved: one whose hold can be walked round is found', async () => {
    const good = procedure({
      id: 'short',
      title: 'Short',
      revision: 1,
      covers: 'Nothing real: it exists for tests.',
      facts: {},
      figures: {},
      tools: {},
      initial: 'work',
      states: {
        work: step({ say: 'Work.', next: 'look' }),
        look: hold({ say: 'Look.', phrase: 'looked at it', why: 'To see.', pass: 'complete', fail: 'again' }),
        again: step({ say: 'Again.', rework: true, next: 'look' }),
      },
    });
    const deeds: Deed[] = [{ type: 'advance' }, { type: 'confirm', evidence: press }];
    const whole = await sealed(play(deeds, { definition: good }), key);
    expect(await codes(whole, { prove: proofOf })).toBe('');
    const round = procedure({
      id: 'round',
      title: 'Round',
      revision: 1,
      covers: 'Nothing real: it exists for tests.',
      facts: { way: oneOf('Way', 'long', 'short') },
      figures: {},
      tools: {},
      initial: 'which',
      states: {
        which: fork({
          say: 'Which way?',
          fact: 'way',
          look: true,
          ways: [
            { value: 'long', phrase: 'long way', to: 'look' },
            { value: 'short', phrase: 'short cut', to: 'complete' },
          ],
        }),
        look: hold({ say: 'Look.', phrase: 'looked at it', why: 'To see.', pass: 'complete', fail: 'again' }),
        again: step({ say: 'Again.', rework: true, next: 'look' }),
      },
    });
    const walked: Deed[] = [
      { type: 'choose', value: 'long' },
      { type: 'confirm', evidence: press },
    ];
    const record = await sealed(play(walked, { definition: round, opened: { facts: {} } }), key);
    expect(await codes(record, { prove: proofOf })).toBe('procedure-not-proved');
  });
});

describe('replay', () => {
  const forge = async (line: number, change: Partial<JournalRecord>) =>
    sealed(rechained(records.with(line - 1, { ...(records[line - 1] as JournalRecord), ...change })), key);

  test('a station, an outcome or a reason that the procedure does not give is found', async () => {
    expect(await codes(await forge(3, { station: 'torque' }))).toContain('station-differs');
    expect(await codes(await forge(2, { reason: { code: 'job-paused', sentence: 'x' } }))).toBe(
      'reason-differs',
    );
    const { reason: _, ...second } = records[1] as JournalRecord;
    const accepted = rechained(records.with(1, { ...second, outcome: 'accepted' }));
    expect(await codes(await sealed(accepted, key))).toBe('outcome-differs');
  });

  test('a refusal may be worded otherwise by a later version', async () => {
    expect(
      await codes(await forge(2, { reason: { code: 'kit-not-complete', sentence: 'New words.' } })),
    ).toBe('');
  });

  test('a job opened by a stranger is found', async () => {
    expect(await codes(await forge(1, { by: 'nobody' }))).toBe('person-unknown');
  });
});
