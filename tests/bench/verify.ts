import { performance } from 'node:perf_hooks';
import finalDrive from '../../procedures/final-drive/index.ts';
import { checkChain } from '../../src/journal/chain.ts';
import { proofOf } from '../../src/journal/proved.ts';
import { verifyFile } from '../../src/journal/verify.ts';
import type { Deed } from '../journal/play.ts';
import { makeKey, play, sealed, wholeJob } from '../journal/play.ts';
import { randomJob } from '../journal/random-jobs.ts';

export interface Row {
  readonly what: string;
  readonly p50: number;
  readonly p95: number;
  readonly unit: string;
  readonly budget?: string;
}

const RUNS = 30;

async function timed(what: string, budget: string, work: () => unknown): Promise<Row> {
  await work();
  const times: number[] = [];
  for (let n = 0; n < RUNS; n++) {
    const from = performance.now();
    await work();
    times.push(performance.now() - from);
  }
  times.sort((a, b) => a - b);
  // Nearest rank: the smallest time that so many per cent of the runs did not exceed.
  const rank = (percent: number) => times[Math.ceil((percent / 100) * RUNS) - 1] ?? Number.NaN;
  return { what, p50: rank(50), p95: rank(95), unit: 'ms', budget };
}

/** Verifying record files: a whole job, and one of 1,000 records (a whole job with many refusals and notes). */
export async function rows(): Promise<Row[]> {
  const key = await makeKey();
  const options = { keys: { keys: [{ ...key.publicJwk }] }, prove: proofOf };
  const whole = await sealed(play(wholeJob), key);
  const note = (n: number): Deed =>
    n % 2
      ? { type: 'note', says: `Note number ${n}.` }
      : { type: 'confirm', evidence: { kind: 'press', heldMs: n } };
  const before = 1000 - wholeJob.length - 1;
  const long = play([...Array.from({ length: before }, (_, n) => note(n)), ...wholeJob]);
  const file = await sealed(long, key);
  const bytes = new TextEncoder().encode(file);
  const drive = randomJob(3, [finalDrive]);
  const driveFile = await sealed(drive, key, drive[0]?.by ?? '');
  const verified = async (content: string | Uint8Array) => {
    const { holds, findings } = await verifyFile(content, options);
    if (!holds) throw new Error(`A good record was refused: ${findings[0]?.says}`);
  };
  return [
    await timed(`verify a whole job (${wholeJob.length + 1} records)`, '—', () => verified(whole)),
    await timed(
      `verify a chain-and-sprocket job (${drive.length} records), its procedure proved anew`,
      '—',
      () => verified(driveFile),
    ),
    await timed('verify 1,000 records', '≤ 1000 ms', () => verified(bytes)),
    await timed('check the chain of 1,000 records', '—', () => checkChain(long)),
  ];
}
