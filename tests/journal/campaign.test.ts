import { expect, test } from 'vitest';
import { campaign, falseAlarms } from './campaign.ts';

// The whole campaign (5,000 forgeries, 1,000 good records) takes minutes: CAMPAIGN=5000 runs it.
const count = Number(process.env.CAMPAIGN ?? 230);

test('every forgery is rejected, each for a reason that fits', async () => {
  const outcomes = await campaign(count, 1);
  expect(outcomes.flatMap(({ what, odd }) => odd.map((one) => `${what}: ${one}`))).toEqual([]);
  for (const { what, tried, rejected, rightly } of outcomes) {
    expect({ what, rejected, rightly }).toEqual({ what, rejected: tried, rightly: tried });
    expect(tried, what).toBeGreaterThan(0);
  }
}, 600_000);

test('good records give no alarm', async () => {
  const { alarms, records } = await falseAlarms(Math.ceil(count / 5), 50_000);
  expect(alarms).toEqual([]);
  expect(records).toBeGreaterThan(count);
}, 600_000);
