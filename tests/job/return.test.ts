import { describe, expect, test } from 'vitest';
import {
  AWAY_MS,
  LONG_BREAK_MS,
  pauseDue,
  readAgainNote,
  returnOf,
  spell,
  spokenReturn,
} from '../../src/job/return.ts';
import { type JobState, step } from '../../src/job/runner.ts';
import { followUps, type JobCard } from '../../src/job/shelf.ts';
import { toMoment } from '../../src/journal/moment.ts';
import type { JobEvent, Via } from '../../src/procedure/events.ts';
import { jobAt } from '../browser/bench-job.ts';

const MIN = 60_000;
const lastAt = ({ records }: JobState) => Date.parse(records[records.length - 1]?.at ?? '');
const give = (state: JobState, event: JobEvent, at: number, via: Via = 'pedal') =>
  step(state, event, { at, by: 'ada', via }).state;

describe('nobody is there', () => {
  test('after 20 minutes the bench pauses by itself, says for how long, and not a moment before', () => {
    const state = jobAt('clipWay');
    const at = lastAt(state);
    expect(pauseDue(state, 0, at + AWAY_MS - 1)).toBeNull();
    expect(pauseDue(state, 0, at + 34 * MIN)).toEqual({
      type: 'pause',
      says: 'Nothing was done here for 34 min.',
    });
  });

  test('a press that changed nothing is somebody being there', () => {
    const state = jobAt('clipWay');
    const at = lastAt(state);
    expect(pauseDue(state, at + 15 * MIN, at + 30 * MIN)).toBeNull();
  });

  test('a wait is no idleness: it counts from its end', () => {
    const state = jobAt('cure');
    const arrived = lastAt(state);
    expect(pauseDue(state, 0, arrived + 10 * MIN + AWAY_MS - 1)).toBeNull();
    expect(pauseDue(state, 0, arrived + 10 * MIN + AWAY_MS)).not.toBeNull();
  });

  test('a paused or closed job is not paused again', () => {
    const at = lastAt(jobAt('clipWay'));
    const paused = give(jobAt('clipWay'), { type: 'pause' }, at);
    expect(pauseDue(paused, 0, at + 5 * AWAY_MS)).toBeNull();
    const stopped = give(jobAt('clipWay'), { type: 'stop', says: 'a part is missing' }, at);
    expect(pauseDue(stopped, 0, at + 5 * AWAY_MS)).toBeNull();
  });

  test('its pause is accepted by the job, and says that it was the clock', () => {
    const state = jobAt('clipWay');
    const at = lastAt(state) + 34 * MIN;
    const event = pauseDue(state, 0, at);
    if (!event) throw new Error('No pause.');
    const next = give(state, event, at, 'clock');
    expect(next.records.at(-1)).toMatchObject({ via: 'clock', outcome: 'accepted', event });
    expect(returnOf(next, at + 5 * MIN)).toMatchObject({
      byItself: 'Nothing was done here for 34 min.',
      away: 39 * MIN,
      since: at - 34 * MIN,
    });
  });
});

describe('coming back', () => {
  const paused = (station: string, minutes: number) => {
    const state = jobAt(station);
    const at = lastAt(state) + 1000;
    const back = returnOf(give(state, { type: 'pause' }, at), at + minutes * MIN);
    if (!back) throw new Error('Not paused.');
    return back;
  };

  test('nothing is said while the job goes on', () => {
    expect(returnOf(jobAt('slack'), lastAt(jobAt('slack')) + LONG_BREAK_MS)).toBeNull();
  });

  test('after a telephone call: where we were, what was done and confirmed last, what to look at', () => {
    expect(paused('slack', 7)).toMatchObject({
      away: 7 * MIN,
      byItself: null,
      stands: 'Measure the slack.',
      last: { by: 'Ada' },
      confirmed: {
        says: 'Check the clip: its open end must trail.',
        opened: expect.stringMatching(/^pedal held|^“/),
        by: 'Ada',
        phrase: 'open end trails',
      },
      look: ['Measure it anew: a figure that was not given before the break does not count.'],
      readAgain: null,
    });
  });

  test('after an hour the last hold point is to be read again, and the note says so', () => {
    const back = paused('slack', 190);
    expect(back.readAgain).toBe('Check the clip: its open end must trail.');
    expect(back.look).toContain('Has anybody worked on this machine meanwhile? Ask, and look.');
    expect(readAgainNote(back)).toEqual({
      type: 'note',
      says: 'After a break of 3 h 10 min the last hold point was read again: Check the clip: its open end must trail.',
    });
    expect(spokenReturn(back).at(-1)).toMatch(
      /^Read again .*open end must trail\. Hold the pedal down to go on\.$/,
    );
    expect(paused('slack', 59).readAgain).toBeNull();
  });

  test('note and resume are taken while the job is paused, and the job goes on', () => {
    const state = jobAt('slack');
    const at = lastAt(state);
    let next = give(state, { type: 'pause' }, at);
    const back = returnOf(next, at + 2 * LONG_BREAK_MS);
    if (!back) throw new Error('Not paused.');
    next = give(next, readAgainNote(back), at + 2 * LONG_BREAK_MS);
    next = give(next, { type: 'resume' }, at + 2 * LONG_BREAK_MS);
    expect(next.records.slice(-2).map(({ outcome }) => outcome)).toEqual(['accepted', 'accepted']);
    expect(returnOf(next, at + 2 * LONG_BREAK_MS)).toBeNull();
  });

  test('in the middle of a round the count is told, with what to do when in doubt', () => {
    let state = jobAt('bolts');
    state = give(state, { type: 'advance' }, lastAt(state) + 1000);
    const at = lastAt(state);
    const back = returnOf(give(state, { type: 'pause' }, at), at + MIN);
    expect(back?.look[0]).toMatch(
      /^1 of [\d.]+ were counted in this pass .*go over the whole pass once more\.$/,
    );
  });

  test('during a wait, what is left of it is told', () => {
    expect(paused('cure', 4).look[0]).toMatch(/^The wait has 5 min to go\.$/);
    expect(paused('cure', 14).look[0]).toBe('The wait is over.');
  });

  test.each([
    [900, '0 s'],
    [59_000, '59 s'],
    [34 * MIN, '34 min'],
    [60 * MIN, '1 h'],
    [190 * MIN, '3 h 10 min'],
    [72 * 60 * MIN, '3 days'],
  ])('%i ms are spelt %s', (ms, says) => expect(spell(ms)).toBe(says));
});

describe('follow-up jobs', () => {
  const card: JobCard = {
    job: 'a',
    title: 'Renew',
    procedure: 'final-drive',
    machine: { id: 'm', says: 'Machine 1' },
    by: 'ada',
    openedAt: toMoment(0),
    lastAt: toMoment(10 * 3_600_000),
    outcome: 'complete',
    progress: { place: 1, stations: 1 } as JobCard['progress'],
    records: 9,
    follows: null,
    followUp: { procedure: 'again', says: 'Look again', afterHours: 48 } as JobCard['followUp'],
  };
  const follower = (outcome: JobCard['outcome']): JobCard => ({
    ...card,
    job: 'b',
    follows: 'a',
    followUp: null,
    outcome,
  });

  test('come due so many hours after the job was finished', () => {
    expect(followUps([card])).toMatchObject([{ follows: 'a', dueAt: toMoment(58 * 3_600_000) }]);
  });

  test('are gone once they are opened, and come again when they were stopped', () => {
    expect(followUps([card, follower('open')])).toEqual([]);
    expect(followUps([card, follower('complete')])).toEqual([]);
    expect(followUps([card, follower('stopped')])).toHaveLength(1);
  });

  test('do not come from a job that was stopped or is still open', () => {
    expect(
      followUps([
        { ...card, outcome: 'stopped' },
        { ...card, job: 'c', outcome: 'open' },
      ]),
    ).toEqual([]);
  });
});
