import { describe, expect, test } from 'vitest';
import finalDrive from '../../procedures/final-drive/index.ts';
import { parts } from '../../seeds/parts.ts';
import { askedAfter, nextInTalk } from '../../src/bench/talk.ts';
import { meaningOf } from '../../src/bench/typed.ts';
import { toCsv } from '../../src/book/csv.ts';
import { digestOf } from '../../src/book/digest.ts';
import { partsPart } from '../../src/book/report-parts.ts';
import { recordInWords } from '../../src/book/story.ts';
import { partsTable } from '../../src/book/tables.ts';
import { jobFrom, step } from '../../src/job/runner.ts';
import { spokenAt } from '../../src/job/spoken.ts';
import { viewOf } from '../../src/job/view.ts';
import { toRecordFile } from '../../src/journal/file.ts';
import { replay } from '../../src/journal/replay.ts';
import { verifyFile } from '../../src/journal/verify.ts';
import { type Deed, openWorkshop, START, tell } from '../book/jobs.ts';
import { rechained } from '../journal/play.ts';

const codeOf = (says: string): string => {
  const part = parts.find((one) => one.says.startsWith(says));
  if (!part) throw new Error(`No part "${says}".`);
  return part.code;
};
const gs1 = (says: string, rest = '') => `(01)${codeOf(says).padStart(14, '0')}${rest}`;

const chain = gs1('Roller chain', '(10)B24-7(21)0031');
const front14 = codeOf('Front sprocket, 14');
const front13 = codeOf('Front sprocket, 13');

const scans: Readonly<Record<string, readonly Deed[]>> = {
  kit: [
    { type: 'callOff', item: 'chain', label: front14, via: 'scanner' },
    { type: 'callOff', item: 'chain', label: '(01)07300011000017', via: 'scanner' },
    { type: 'callOff', item: 'chain', label: '7300011000018', via: 'scanner' },
    { type: 'callOff', item: 'chain', label: chain, via: 'scanner' },
    { type: 'callOff', item: 'front', label: front13, via: 'scanner' },
    { type: 'callOff', item: 'front', label: front14, via: 'scanner' },
    { type: 'callOff', item: 'stand', label: front14, via: 'scanner' },
  ],
};

const fitting = Object.keys(finalDrive.states).filter((name) => {
  const meta = finalDrive.states[name]?.meta;
  return meta?.kind === 'step' && meta.fits !== undefined;
});
const scanAt = (name: string) => {
  const meta = finalDrive.states[name]?.meta;
  return meta?.kind === 'step' ? meta.fits : undefined;
};
const frontStation = fitting.find((name) => scanAt(name) === 'front') ?? '';
const chainStation = fitting.find((name) => scanAt(name) === 'chain') ?? '';

const records = tell({
  before: {
    ...scans,
    [frontStation]: [
      { type: 'scan', label: front13, via: 'scanner' },
      { type: 'scan', label: front14, via: 'scanner' },
    ],
    [chainStation]: [{ type: 'scan', label: gs1('Roller chain', '(10)B24-8'), via: 'scanner' }],
  },
});
const refused = records.filter(({ outcome }) => outcome === 'refused');

describe('labels of parts in a whole job', () => {
  test('right parts are taken, wrong and unknown ones refused with what was scanned and what was asked for', () => {
    expect(records.at(-1)?.station).toBe('complete');
    expect(refused.map(({ reason }) => reason?.code)).toEqual([
      'part-wrong',
      'part-unknown',
      'label-unreadable',
      'part-wrong',
      'not-here',
      'part-wrong',
    ]);
    expect(refused[0]?.reason?.sentence).toBe(
      'Wrong part. Scanned: Front sprocket, 14 teeth, for 12.7 mm. Asked for: Roller chain, 12.7 mm, open. Lay it aside and scan the right one.',
    );
    expect(refused[1]?.reason?.sentence).toContain('"07300011000017" is on no parts list, and New chain');
  });

  test('the record, the story, the report and the table tell code, batch, serial and which label stands', () => {
    const digest = digestOf(records);
    expect(digest.parts.map(({ asked, batch, serial, stands }) => [asked, batch, serial, stands])).toEqual([
      ['New chain', 'B24-7', '0031', false],
      ['New front sprocket', null, null, true],
      ['New front sprocket', null, null, true],
      ['New chain', 'B24-8', null, true],
    ]);
    const report = partsPart(digest).html;
    for (const words of ['B24-7', '0031', 'done again', codeOf('Roller chain')])
      expect(report).toContain(words);
    const csv = toCsv(partsTable([digest]));
    expect(csv).toContain(
      `New chain,"Roller chain, 12.7 mm, open",${codeOf('Roller chain').padStart(14, '0')},B24-7`,
    );
    const story = records.map((record, at) => recordInWords(digest, record, records[at - 1]?.station ?? ''));
    expect(story).toContain(
      `called off New chain, GTIN ${codeOf('Roller chain').padStart(14, '0')}, batch B24-7, serial 0031`,
    );
    expect(story.filter((words) => words.startsWith('part scanned: '))).toHaveLength(3);
  });

  test('the file verifies; a label changed to that of another part, a part taken off the list, a refusal turned round: found', async () => {
    const findings = async (all: typeof records) =>
      (await verifyFile(toRecordFile(all, ''))).findings.map(({ code }) => code);
    expect(replay(records).findings).toEqual([]);
    expect(await findings([...records])).not.toContain('outcome-differs');
    const changed = (from: string, to: string) =>
      rechained(
        records.map((record) => {
          const { event } = record;
          const mine = event.type === 'callOff' && event.label === from && record.outcome === 'accepted';
          return mine ? { ...record, event: { ...event, label: to } } : record;
        }),
      );
    expect(await findings(changed(chain, front13))).toContain('outcome-differs');
    const opened = records[0];
    if (opened?.event.type !== 'job.opened') throw new Error('No opening.');
    const event = {
      ...opened.event,
      parts: (opened.event.parts ?? []).filter(({ item }) => item !== 'chain'),
    };
    expect(await findings(rechained([{ ...opened, event }, ...records.slice(1)]))).toContain(
      'outcome-differs',
    );
    const turned = records.map((record) => {
      if (record.reason?.code !== 'part-wrong') return record;
      const { reason: _, ...rest } = record;
      return { ...rest, outcome: 'accepted' as const };
    });
    expect(await findings(rechained(turned))).toContain('outcome-differs');
  });
});

describe('a scan at the bench', () => {
  const atKit = jobFrom(tell({ until: 'kit' }));
  const meaning = (text: string, state = atKit) =>
    meaningOf(text, viewOf(state, 'w-tomas'), {}, state.snapshot.context);

  test('calls off the part that it is right for, whichever is asked for next', () => {
    expect(meaning(front14)).toEqual({
      kind: 'event',
      event: { type: 'callOff', item: 'front', label: front14 },
    });
  });

  test('a part of another machine is held against a part that is asked for, and refused', () => {
    const given = meaning(front13);
    expect(given).toMatchObject({ kind: 'event', event: { item: 'chain', label: front13 } });
    if (given.kind !== 'event') throw new Error('No event.');
    const { state } = step(atKit, given.event, { at: START + 1e7, by: 'w-tomas', via: 'scanner' });
    expect(state.records.at(-1)).toMatchObject({
      outcome: 'refused',
      via: 'scanner',
      reason: { code: 'part-wrong' },
    });
  });

  test('a code that nobody knows asks whether it is kept as a note; what is kept says what it was scanned for', () => {
    const label = 'XX-4711';
    const { state } = step(
      atKit,
      { type: 'callOff', item: 'chain', label },
      { at: START + 1e7, by: 'w-tomas', via: 'keys' },
    );
    const asked = askedAfter(state.records.at(-1));
    if (!asked) throw new Error('Nothing is asked.');
    const around = {
      view: viewOf(state, 'w-tomas'),
      people: [],
      worker: 'w-tomas',
      visited: [],
      fresh: () => true,
    };
    const question = nextInTalk(asked, around);
    if (question.kind !== 'list') throw new Error('No list.');
    expect(question.heading).toBe('XX-4711 is on no parts list. What now?');
    const answers = [0, 1].map((index) => question.take(index));
    const events = answers.map((answer) => typeof answer === 'object' && nextInTalk(answer, around));
    expect(events).toMatchObject([
      { kind: 'done', event: { type: 'note', says: expect.stringContaining('XX-4711') } },
      { kind: 'done', event: null },
    ]);
  });

  test('a text where no part is asked for stays what it was: nothing', () => {
    expect(meaning('XX-1', jobFrom(tell().slice(0, 1)))).toMatchObject({ kind: 'nothing' });
  });

  test('a workshop without labels is asked for none, and nothing of it is in its records', () => {
    const { parts: _, ...without } = openWorkshop;
    const state = jobFrom(tell({ workshop: without, until: 'kit' }));
    const opened = state.records[0]?.event;
    expect(opened?.type === 'job.opened' && 'parts' in opened).toBe(false);
    expect(viewOf(state, 'w-tomas').kit?.next?.scans).toBe(false);
    expect(spokenAt(viewOf(state, 'w-tomas')).join(' ')).not.toContain('label');
  });

  test('at the station that fits a part the label that was laid out is shown, and a new scan takes its place', () => {
    const laid = jobFrom(tell({ before: scans, until: chainStation }));
    expect(viewOf(laid, 'w-tomas').fit).toMatchObject({
      item: 'chain',
      here: false,
      label: expect.stringContaining('B24-7'),
    });
    const { state } = step(
      laid,
      { type: 'scan', label: codeOf('Roller chain') },
      { at: START + 1e8, by: 'w-tomas', via: 'keys' },
    );
    expect(viewOf(state, 'w-tomas').fit).toMatchObject({ here: true });
    expect(state.snapshot.station).toBe(chainStation);
  });
});
