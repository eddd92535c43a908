import { expect, test } from 'vitest';
import { makeKey, play, sealed, wholeJob } from './play.ts';
import { randomJob } from './random-jobs.ts';
import { checkAsStranger } from './stranger.ts';

test('somebody with SHA-256 and a JOSE library alone can check a record', async () => {
  const key = await makeKey();
  const records = play(wholeJob);
  expect(await checkAsStranger(await sealed(records, key))).toMatchObject({
    job: records[0]?.job,
    count: records.length,
    head: records[records.length - 1]?.hash,
    outcome: 'complete',
    sealedBy: 'cyd',
  });
  for (let seed = 1; seed <= 20; seed++) {
    const job = randomJob(seed);
    const by = job[0]?.by ?? '';
    expect(await checkAsStranger(await sealed(job, key, by))).toMatchObject({ count: job.length });
  }
});

test('and sees what was changed', async () => {
  const file = await sealed(play(wholeJob), await makeKey());
  const lines = file.trimEnd().split('\n');
  const changed = (edit: (lines: string[]) => string[]) => `${edit(lines).join('\n')}\n`;
  await expect(checkAsStranger(file.replace('"value":35', '"value":36'))).rejects.toThrow(
    /Line 3\d: wrong hash/,
  );
  await expect(checkAsStranger(changed((all) => all.toSpliced(4, 1)))).rejects.toThrow(
    'Line 5: does not follow',
  );
  await expect(checkAsStranger(changed((all) => all.toSpliced(-2, 1)))).rejects.toThrow('another record');
  await expect(checkAsStranger(file.replace(/"}\n$/, 'A"}\n'))).rejects.toThrow();
});
