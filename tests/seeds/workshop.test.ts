import { expect, test } from 'vitest';
import finalDrive from '../../procedures/final-drive/index.ts';
import { demoJobs } from '../../seeds/demo.ts';
import { workshop, workshopAt } from '../../seeds/workshop.ts';

const YEAR = 365 * 86_400_000;
const WRITTEN = Date.UTC(2026, 10, 25);

test('on the day it was written the demo workshop is as written', () => {
  expect(workshopAt(WRITTEN)).toEqual(workshop);
});

test.each([0, 1, 7])('the demo jobs can be done %i years later', (years) => {
  const jobs = demoJobs([finalDrive], WRITTEN + years * YEAR, 'test');
  expect(jobs.map((records) => records.at(-1)?.station)).toEqual([
    'complete',
    'complete',
    expect.any(String),
  ]);
  expect(jobs[2]?.at(-1)?.station).not.toBe('complete');
});
