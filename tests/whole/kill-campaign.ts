import { checkChain } from '../../src/journal/chain.ts';
import { replay } from '../../src/journal/replay.ts';
import { killRun } from './kills.ts';
import { serve } from './server.ts';

/*
 * npm run kills -- 300 [SEED]     kills the browser 300 times (SIGKILL), twenty times a job, and counts what was lost
 *
 * Prints one line a job and one at the end; exit 1 when anything was lost, changed or out of place.
 */

const PER_JOB = 20;

const say = (line: string) => process.stdout.write(`${line}\n`);

const [times = '20', seedGiven = '1'] = process.argv.slice(2);
const wanted = Number(times);
const seed = Number(seedGiven);
if (!Number.isSafeInteger(wanted) || wanted < 1 || !Number.isSafeInteger(seed) || seed < 1) {
  console.error('Say how often the browser is to be killed, and with which seed: npm run kills -- 300 1');
  process.exit(2);
}

const server = await serve();
const from = performance.now();
const sum = { kills: 0, shown: 0, ahead: 0, records: 0, bad: 0 };
try {
  for (let job = 0; sum.kills < wanted; job++) {
    const run = await killRun(server.origin, Math.min(PER_JOB, wanted - sum.kills), seed * 1000 + job);
    const broken = [...checkChain(run.records), ...replay(run.records).findings];
    const bad = [...run.lost, ...run.changed, ...run.astray, ...run.complaints, ...broken];
    sum.kills += run.kills;
    sum.shown += run.shown;
    sum.ahead += run.ahead;
    sum.records += run.records.length;
    sum.bad += bad.length;
    say(
      `job ${job + 1}: ${run.kills} kills, ${run.shown} states shown, ${run.lost.length} lost, ${run.ahead} written and not yet shown, ${run.records.length} records`,
    );
    for (const one of bad) say(`  ${typeof one === 'string' ? one : JSON.stringify(one)}`);
  }
} finally {
  await server.stop();
}
const minutes = ((performance.now() - from) / 60_000).toFixed(1);
say(
  `${sum.kills} kills (seed ${seed}): ${sum.shown} states shown, ${sum.ahead} written and not yet shown, ${sum.records} records, ${sum.bad} findings, ${minutes} min`,
);
process.exitCode = sum.bad > 0 ? 1 : 0;
