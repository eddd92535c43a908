import { expect, test } from 'vitest';
import finalDrive from '../../procedures/final-drive/index.ts';
import recheck from '../../procedures/final-drive-recheck/index.ts';
import { openedJob } from './training-machine.ts';
import { walk } from './walk.ts';
import { wholeJobTests } from './whole-job.ts';

wholeJobTests(recheck, 12);

test('it is the follow-up that the renewal names, and asks for nothing that the renewal did not know', () => {
  expect(finalDrive.meta.followUp?.procedure).toBe(recheck.id);
  expect(finalDrive.meta.figures).toMatchObject(recheck.meta.figures);
  expect(finalDrive.meta.facts).toMatchObject(recheck.meta.facts);
});

test('it looks before it tightens: a wrench would hide what has turned', () => {
  const facts = { retainer: 'bolt', link: 'clip', adapter: false };
  const { stations } = walk(recheck, openedJob(recheck, facts), { doer: 'p1' });
  for (const tightened of ['boltTight', 'rearTight', 'axleTight'])
    expect(stations.indexOf('linesWhole')).toBeLessThan(stations.indexOf(tightened));
});
