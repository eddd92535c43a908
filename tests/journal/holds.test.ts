import { describe, expect, test } from 'vitest';
import { checkHolds } from '../../src/journal/holds.ts';
import type { JournalRecord } from '../../src/journal/record.ts';
import { replay } from '../../src/journal/replay.ts';
import type { JobEvent } from '../../src/procedure/events.ts';
import { hold, procedure, step } from '../../src/procedure/index.ts';
import { sampleInput } from '../procedure/sample.ts';
import { openingOf, play, press, rechained, toFork, wholeJob } from './play.ts';

const records = play(wholeJob);
const codes = (changed: readonly JournalRecord[]) =>
  checkHolds(changed).map(({ line, code }) => `${line} ${code}`);
const says = (changed: readonly JournalRecord[]) =>
  checkHolds(changed)
    .map((found) => found.says)
    .join(' ');

/** The last accepted record of this kind, with something else in its place: forged, and chained anew. */
function forged(type: JobEvent['type'], change: (record: JournalRecord) => Partial<JournalRecord>) {
  const index = records.findLastIndex(
    (record) => record.event.type === type && record.outcome === 'accepted',
  );
  const record = records[index] as JournalRecord;
  return { line: index + 1, records: rechained(records.with(index, { ...record, ...change(record) })) };
}
const withEvent = (type: JobEvent['type'], change: object) =>
  forged(type, ({ event }) => ({ event: { ...event, ...change } as JobEvent }));

test('a good record has nothing to find', () => expect(checkHolds(records)).toEqual([]));

describe('forged evidence with a good chain', () => {
  test.each([
    ['confirm', { evidence: { kind: 'press', heldMs: 1199 } }, '1199 ms'],
    ['confirm', { evidence: { kind: 'phrase', phrase: 'next step' } }, 'not its phrase'],
    ['reading', { unit: 'lbf·ft' }, 'instead of "N·m"'],
    ['reading', { toolId: 'T2' }, 'not called off'],
    ['reading', { toolId: 'R1' }, 'not measured with a tool of the kind'],
    ['reading', { toolId: undefined }, 'not measured with a tool of the kind'],
  ] as const)('%s %j', (type, change, why) => {
    const { line, records } = withEvent(type, JSON.parse(JSON.stringify(change)));
    const withoutTool = 'toolId' in change && change.toolId === undefined;
    const changed = withoutTool ? stripTool(records, line) : records;
    expect(codes(changed)[0]).toBe(`${line} evidence-insufficient`);
    expect(says(changed)).toContain(why);
  });

  function stripTool(all: JournalRecord[], line: number) {
    const record = all[line - 1] as JournalRecord;
    const { toolId: _, ...event } = record.event as Extract<JobEvent, { type: 'reading' }>;
    return rechained(all.with(line - 1, { ...record, event }));
  }

  test('a figure outside its limits does not pass the hold, whatever the record says came of it', () => {
    const { records } = withEvent('reading', { value: 94.6 });
    expect(codes(records)).toEqual([`${records.length} hold-not-passed`]);
  });

  test('limits count as inside, and so does the last bit', () => {
    expect(checkHolds(withEvent('reading', { value: 85.5 }).records)).toEqual([]);
    expect(codes(withEvent('reading', { value: 85.499 }).records)).toHaveLength(1);
  });

  test('a lapsed calibration', () => {
    const opened = openingOf();
    const tools = opened.tools.map((tool) =>
      tool.id === 'T1' ? { ...tool, calibratedUntil: '2020-01-01' } : tool,
    );
    const changed = rechained(
      records.with(0, { ...(records[0] as JournalRecord), event: { ...opened, tools } }),
    );
    expect(says(changed)).toContain('had lapsed');
  });

  test('a person who is not of the job, or a paused job', () => {
    expect(says(forged('confirm', () => ({ by: 'nobody' })).records)).toContain('none of the people');
    const resumed = records.findIndex(({ event }) => event.type === 'resume');
    expect(says(rechained(records.toSpliced(resumed, 1)))).toContain('paused');
  });
});

describe('witness', () => {
  const apprentice = play([
    ...toFork('ben'),
    { type: 'choose', value: 'clip', who: 'ben' },
    { type: 'confirm', evidence: press, who: 'ben' },
    { type: 'witness', evidence: press, who: 'cyd' },
  ]);
  const last = apprentice[apprentice.length - 1] as JournalRecord;
  const line = apprentice.length;
  const confirm = apprentice[line - 2] as JournalRecord;

  test('the real thing holds', () => expect(checkHolds(apprentice)).toEqual([]));

  test('oneself, an apprentice, nobody: not a witness', () => {
    const people = [...sampleInput.people, { id: 'dee', name: 'Dee', role: 'apprentice' as const }];
    const opened = { ...openingOf(), people };
    const all = apprentice.with(0, { ...(apprentice[0] as JournalRecord), event: opened });
    const by = (who: string) => says(rechained(all.with(line - 1, { ...last, by: who })));
    expect(by('ben')).toContain('the person who did the work');
    expect(by('dee')).toContain('apprentice cannot witness');
    expect(by('eve')).toContain('none of the people');
    expect(by('ada')).toBe('');
  });

  test('the hold left without its witness, or with a witness to nothing', () => {
    const left = rechained([...apprentice.slice(0, -2), { ...confirm, station: 'slack' }]);
    expect(says(left)).toContain('left without its witness');
    expect(says(rechained(apprentice.toSpliced(line - 2, 1)))).toContain('nothing to witness');
  });

  test('evidence that waited does not outlive a fail', () => {
    const fail = { ...confirm, event: { type: 'fail' } } as JournalRecord;
    expect(says(rechained(apprentice.toSpliced(line - 1, 0, fail)))).toContain('nothing to witness');
  });
});

describe('the end', () => {
  test('a hold that was jumped is missing at the end', () => {
    const confirm = records.findLastIndex(
      ({ event, outcome }) => event.type === 'confirm' && outcome === 'accepted',
    );
    const jumped = records.with(confirm - 1, {
      ...(records[confirm - 1] as JournalRecord),
      station: 'slack',
    });
    expect(codes(rechained(jumped.toSpliced(confirm, 1)))).toContain(`${records.length - 1} hold-not-passed`);
  });

  test('a hold passed before going back is not passed any more', () => {
    const open = records.findLastIndex(({ event }) => event.type === 'open');
    // Went back to the clip, and on from there without its evidence.
    const forged = records
      .toSpliced(open + 1, 1)
      .with(open, { ...(records[open] as JournalRecord), station: 'slack' });
    expect(codes(rechained(forged))).toContain(`${records.length - 1} hold-not-passed`);
  });

  test('a hold that does not apply is not asked for', () => {
    const rivet = play([
      ...toFork(),
      { type: 'choose', value: 'rivet' },
      { type: 'reading', value: 35, unit: 'mm', toolId: 'R1' },
      { type: 'reading', value: 90, unit: 'N·m', toolId: 'T1' },
    ]);
    expect(rivet[rivet.length - 1]?.station).toBe('complete');
    expect(checkHolds(rivet)).toEqual([]);
  });

  test('a machine whose guards were wrong would be found out', () => {
    // The same journal read with a procedure that asks for more: a phrase, and a witness always.
    const strict = procedure({
      id: 'strict',
      title: 'Strict',
      revision: 1,
      covers: 'Nothing real: it exists for tests.',
      facts: {},
      figures: {},
      tools: {},
      initial: 'work',
      states: {
        work: step({ say: 'Work.', next: 'look' }),
        look: hold({ say: 'Look.', phrase: 'looked', why: 'To see.', pass: 'complete', fail: 'work' }),
      },
    });
    const easy = play([{ type: 'advance' }, { type: 'confirm', evidence: press }], { definition: strict });
    expect(replay(easy).findings).toEqual([]);
    const asks = (witness: 'always') => {
      const look = { ...strict.states.look, meta: { ...strict.states.look?.meta, witness } } as never;
      const definition = { ...strict, states: { ...strict.states, look } };
      return rechained(easy.with(0, { ...(easy[0] as JournalRecord), event: openingOf({ definition }) }));
    };
    expect(codes(asks('always'))).toEqual(['3 evidence-insufficient', '3 hold-not-passed']);
  });
});
