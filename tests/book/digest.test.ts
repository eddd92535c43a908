import { describe, expect, test } from 'vitest';
import { digestOf } from '../../src/book/digest.ts';
import { firstPassRates, stationHistory } from '../../src/book/history.ts';
import { firstVerdicts } from '../../src/book/verdicts.ts';
import { jobFrom } from '../../src/job/runner.ts';
import { passes } from '../../src/procedure/context.ts';
import { play, wholeJob } from '../journal/play.ts';
import { randomJob } from '../journal/random-jobs.ts';
import { eventful, START, tell, told } from './jobs.ts';

describe('a job on which most things happen', () => {
  const telling = eventful();
  const digest = digestOf(tell(telling));
  const of = (station: string) => digest.verdicts.filter((verdict) => verdict.station === station);

  test('every verdict on a hold point is kept in order: failed, passed, undone by rework, passed again', () => {
    const [failing = ''] = Object.keys(telling.before ?? {});
    expect(of(failing).map(({ what }) => what)).toEqual(['failed', 'passed', 'undone', 'passed']);
    expect(firstVerdicts(digest.verdicts).get(failing)).toBe('failed');
  });

  test('a concession stays one', () => {
    expect(of(telling.conceded)).toMatchObject([
      { what: 'conceded', pass: { evidence: { kind: 'concession' }, by: 'w-nora' } },
    ]);
  });

  test('refusals come with who, where and why', () => {
    expect(digest.refused.map(({ code, by }) => [code, by])).toEqual([
      ['hold-needs-evidence', 'w-pia'],
      ['press-too-short', 'w-pia'],
      ['wrong-phrase', 'w-pia'],
    ]);
  });

  test('troubles, their decisions and what is attached', () => {
    expect(digest.troubles.map(({ decided }) => decided?.decision)).toEqual(['rework', 'concession']);
    expect(digest.troubles[0]?.attached).toHaveLength(1);
    expect(digest.attachments).toMatchObject([{ kind: 'photo', media: 'image/png' }]);
  });

  test('each signature has its name, time, meaning, and how the person had signed on', () => {
    const [opening] = digest.signatures;
    expect(opening).toMatchObject({ seq: 0, at: '2026-03-02T08:00:00.000Z' });
    expect(opening?.meaning).toMatch(/^Responsibility/);
    expect(digest.signatures.every(({ identified }) => /^PIN, 2026-03-02 /.test(identified))).toBe(true);
    const conceding = digest.signatures.find(({ meaning }) => meaning.includes('CONCEDED'));
    expect(conceding).toMatchObject({ person: { id: 'w-nora', role: 'supervisor' } });
    // A witness or a decision needs a sign-on of the last ten minutes.
    for (const { at, identified, meaning } of digest.signatures.filter(({ meaning }) =>
      /^(Verif|Appr)/.test(meaning),
    )) {
      const signedOn = Date.parse(`${identified.slice(5).replace(' ', 'T')}Z`);
      expect([meaning, Date.parse(at) - signedOn <= 600_000]).toEqual([meaning, true]);
    }
  });
});

describe('where nobody signs on', () => {
  test('the signature says that a name was chosen', () => {
    const [opening] = told().signatures;
    expect(opening?.identified).toBe('name chosen, no sign-on');
  });
});

describe('the sample job', () => {
  const digest = digestOf(play(wholeJob));

  test('readings: those outside their limits are kept, and only the last one of its name stands', () => {
    const slack = digest.readings.filter(({ name }) => name === 'slack');
    expect(slack.map(({ value, within, stands }) => [value, within, stands])).toEqual([
      [50, false, false],
      [35, true, false],
      [40, true, true],
    ]);
    expect(slack[0]).toMatchObject({ min: 30, max: 40, limits: '30 to 40 mm', tool: 'R1', unit: 'mm' });
  });

  test('tools: what was called off or measured with, and its calibration on that day', () => {
    expect(digest.tools.map(({ tool, readings, inDate }) => [tool.id, readings, inDate])).toEqual([
      ['T1', 2, true],
      ['R1', 3, null],
    ]);
  });
});

test('times at the stations and pauses add up to the time that passed, whatever happened', () => {
  for (let seed = 1; seed <= 25; seed++) {
    const digest = digestOf(randomJob(seed));
    const { stations, elapsed, paused } = digest.times;
    const spent = [...stations.values()].reduce((sum, ms) => sum + ms, 0);
    expect(spent + paused).toBe(elapsed);
    expect(elapsed).toBe(Date.parse(digest.lastAt) - Date.parse(digest.openedAt));
  }
});

test('what the verdicts leave standing is what the job itself holds for passed, whatever happened', () => {
  for (let seed = 30; seed <= 60; seed++) {
    const records = randomJob(seed);
    const { verdicts } = digestOf(records);
    const standing = new Set<string>();
    for (const { station, what } of verdicts) {
      if (what === 'undone') standing.delete(station);
      else if (what !== 'failed') standing.add(station);
    }
    expect([...standing].sort()).toEqual(Object.keys(passes(jobFrom(records).snapshot.context)).sort());
  }
});

describe('history', () => {
  const jobs = [10, 20, 30, 40].map((seconds, n) =>
    told({
      job: `5d0b3f52-6c1e-4a8e-9a55-1f2f6c0e1a0${n}`,
      pace: seconds * 1000,
      at: START + n * 86_400_000,
    }),
  );

  test('median and 80th percentile of each station, the job itself left out', () => {
    const [first] = jobs;
    const station = [...(first?.times.stations.keys() ?? [])].find(
      (name) => first?.definition.states[name]?.meta?.kind === 'step',
    );
    const all = stationHistory(jobs, 'final-drive');
    expect(all.get(station ?? '')).toEqual({ jobs: 4, median: 25_000, p80: 34_000 });
    const others = stationHistory(jobs, 'final-drive', first?.job);
    expect(others.get(station ?? '')).toEqual({ jobs: 3, median: 30_000, p80: 36_000 });
    expect(stationHistory(jobs, 'something else').size).toBe(0);
  });

  test('a job that was left open or stopped says nothing about usual times', () => {
    const stopped = told({ until: 'standFirm' });
    expect(stopped.outcome).toBe('open');
    expect(stationHistory([stopped], 'final-drive').size).toBe(0);
  });

  test('first-pass rates with Wilson limits: a failed hold counts against, a refusal does not', () => {
    const telling = eventful();
    const [failing = ''] = Object.keys(telling.before ?? {});
    const rates = firstPassRates([...jobs, digestOf(tell(telling))]);
    expect(rates.find(({ station }) => station === failing)).toMatchObject({
      jobs: 5,
      passed: 4,
      conceded: 0,
    });
    const conceded = rates.find(({ station }) => station === telling.conceded);
    expect(conceded).toMatchObject({ jobs: 5, passed: 4, conceded: 1 });
    // Hand-computed for 4 of 5 at z = 1.96.
    expect(conceded?.limits.low).toBeCloseTo(0.3755, 3);
    expect(conceded?.limits.high).toBeCloseTo(0.9638, 3);
  });
});
