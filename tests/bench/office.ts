import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { parseArgs } from 'node:util';
import { toMoment } from '../../src/journal/moment.ts';
import { signSeal } from '../../src/journal/seal.ts';
import { json } from '../../src/sync/courier.dom.ts';
import { OfficeError } from '../../src/sync/fault.ts';
import { batches } from '../../src/sync/plan.ts';
import { MOST_BYTES, MOST_RECORDS } from '../../src/sync/wire.ts';
import { killOffice } from '../office/faults.ts';
import { OfficeProcess } from '../office/office-process.ts';
import { noPostgres, Postgres } from '../office/postgres.ts';
import type { Member } from '../office/world.ts';
import { jobMaker } from './office-jobs.ts';

/*
 * npm run office-load -- [--records N] [--minutes M] [--benches B] [--kills K] [--engine embedded|PostgreSQL] [--json FILE]
 * Loads both engines of the office with valid jobs, one after the other, and measures; then kills it as often as is asked
 * for. The office is the command behind `npm run office`, in a process of its own.
 */

const { values: args } = parseArgs({
  options: {
    records: { type: 'string', default: '100000' },
    minutes: { type: 'string', default: '10' },
    benches: { type: 'string', default: '4' },
    kills: { type: 'string', default: '0' },
    engine: { type: 'string' },
    json: { type: 'string' },
  },
});

/** Nearest rank: the smallest value that so many per cent do not exceed. */
const rank = (times: readonly number[], percent: number): number =>
  [...times].sort((a, b) => a - b)[Math.max(0, Math.ceil((percent / 100) * times.length) - 1)] ?? Number.NaN;

const sleep = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

/** Asks again when the office says that it is too much at once. */
async function patiently<T>(work: () => Promise<T>): Promise<T> {
  for (;;) {
    try {
      return await work();
    } catch (error) {
      if (!(error instanceof OfficeError) || error.code !== 'too-many') throw error;
      await sleep(Number(error.detail.seconds ?? 1) * 1000);
    }
  }
}

function memory(pid: number, field: 'VmRSS' | 'VmHWM'): number {
  const line = new RegExp(`${field}:\\s+(\\d+) kB`).exec(readFileSync(`/proc/${pid}/status`, 'utf8'));
  return Number(line?.[1] ?? 0) / 1024;
}

/** What the database's processes use, shared pages counted once, MB. */
function shared(folder: string): number {
  let kilobytes = 0;
  for (const pid of readdirSync('/proc').filter((name) => /^\d+$/.test(name))) {
    try {
      if (!readFileSync(`/proc/${pid}/cmdline`, 'utf8').includes('postgres')) continue;
      if (!readFileSync(`/proc/${pid}/environ`, 'utf8').includes(folder) && !ours(pid, folder)) continue;
      kilobytes += Number(/Pss:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/smaps_rollup`, 'utf8'))?.[1] ?? 0);
    } catch {
      // It ended meanwhile, or is not ours to look at.
    }
  }
  return kilobytes / 1024;
}

function ours(pid: string, folder: string): boolean {
  const cwd = execFileSync('readlink', [`/proc/${pid}/cwd`], { encoding: 'utf8' });
  return cwd.startsWith(folder);
}

const megabytes = (path: string): number =>
  Number(execFileSync('du', ['-sm', path], { encoding: 'utf8' }).split('\t')[0]);

interface Measured {
  readonly engine: string;
  readonly rows: Record<string, string | number>;
}

async function load(engine: 'embedded' | 'PostgreSQL'): Promise<Measured> {
  const folder = mkdtempSync(join(tmpdir(), 'holdfast-load-'));
  const postgres = engine === 'PostgreSQL' ? await Postgres.start(['max_wal_size=1GB']) : null;
  const office = await OfficeProcess.start({ folder, ...(postgres ? { url: postgres.url() } : {}) });
  try {
    const desk = await office.desk();
    const benches: Member[] = [];
    for (let n = 0; n < Number(args.benches); n++) benches.push(await office.bench(desk, `Bench ${n + 1}`));
    const rows: Measured['rows'] = await ingested(benches);
    rows['office, largest, MB'] = Math.round(memory(office.pid, 'VmHWM'));
    if (postgres) rows['database server, MB'] = Math.round(shared(postgres.folder));
    rows['on disk, MB'] = megabytes(postgres ? postgres.folder : folder);
    Object.assign(rows, await asked(desk, benches[0] as Member));
    return { engine, rows };
  } finally {
    await office.end('SIGTERM');
    await postgres?.remove();
    rmSync(folder, { recursive: true, force: true });
  }
}

async function ingested(benches: readonly Member[]): Promise<Measured['rows']> {
  const make = jobMaker();
  const wanted = Number(args.records);
  const until = performance.now() + Number(args.minutes) * 60_000;
  const pushes: number[] = [];
  let next = 0;
  let records = 0;
  const from = performance.now();
  const most = { records: MOST_RECORDS, bytes: MOST_BYTES * 0.75 };
  await Promise.all(
    benches.map(async (bench) => {
      while (records < wanted && performance.now() < until) {
        const { job, lines, head, outcome, by, lastAt } = make(next++);
        records += lines.length;
        let at = 0;
        for (const batch of batches(lines, (line) => line.length, most)) {
          const started = performance.now();
          await patiently(() => bench.calls.push(job, at, 1, batch.join('')));
          pushes.push(performance.now() - started);
          at += batch.length;
        }
        const payload = {
          job,
          count: lines.length,
          head,
          outcome,
          sealedAt: toMoment(lastAt + 1000),
          sealedBy: by,
        };
        const seal = await signSeal(payload, bench.key);
        await patiently(() => bench.calls.seal(job, seal));
      }
    }),
  );
  const seconds = (performance.now() - from) / 1000;
  return {
    records,
    jobs: next,
    'ingest, records/s': Math.round(records / seconds),
    'ingest, jobs/s (each replayed and sealed)': Number((next / seconds).toFixed(1)),
    'one batch, p50 ms': Math.round(rank(pushes, 50)),
    'one batch, p95 ms': Math.round(rank(pushes, 95)),
  };
}

/** How long the questions of a desk and of a bench take on a full office. */
async function asked(desk: Member, bench: Member): Promise<Measured['rows']> {
  const job = (n: number) => `aaaaaaaa-0000-4000-8000-${n.toString(16).padStart(12, '0')}`;
  const { jws } = await desk.courier.ask<{ jws: string }>('GET', '/log/root');
  const { size } = JSON.parse(Buffer.from(jws.split('.')[1] ?? '', 'base64url').toString()) as {
    size: number;
  };
  const some = (n: number) => job(Math.floor((n * 7919) % size));
  const ends = 'from=2025-10-01&to=2025-10-31';
  const heads = Array.from({ length: 50 }, (_, n) => ({ job: some(n), count: 5, hash: 'a'.repeat(64) }));
  const questions: Record<string, (n: number) => Promise<unknown>> = {
    'live benches': () => desk.courier.ask('GET', '/live'),
    'first page of the book': () => desk.courier.ask('GET', '/book'),
    'book, a month of one procedure': () => desk.courier.ask('GET', `/book?${ends}&procedure=final-drive`),
    'book, words in all jobs': (n) => desk.courier.ask('GET', `/book?text=${some(n).slice(-7)}`),
    'charts of a month': () => desk.courier.ask('GET', `/charts?${ends}`),
    'charts of nearly a year': () => desk.courier.ask('GET', '/charts?from=2025-09-03&to=2026-08-20'),
    'charts of everything': () => desk.courier.ask('GET', '/charts'),
    'records of one job': (n) => desk.courier.text('GET', `/jobs/${some(n)}/records`),
    'where 50 jobs stand': () => bench.courier.ask('POST', '/heads', json({ heads })),
    'inclusion of a seal': (n) => desk.courier.ask('GET', `/log/inclusion/${some(n)}?size=${size}`),
    'consistency with half': () =>
      desk.courier.ask('GET', `/log/consistency?from=${Math.ceil(size / 2)}&size=${size}`),
  };
  const rows: Measured['rows'] = {};
  // Sums up every week that there is; afterwards only what was added to.
  const first = performance.now();
  await desk.courier.ask('GET', '/charts');
  rows['charts of everything, the first time, ms'] = Math.round(performance.now() - first);
  for (const [what, ask] of Object.entries(questions)) {
    const times: number[] = [];
    for (let n = 0; n < (what.includes('everything') ? 20 : 40); n++) {
      const from = performance.now();
      await patiently(() => ask(n));
      times.push(performance.now() - from);
    }
    rows[`${what}, p95 ms`] = Math.round(rank(times, 95));
  }
  const from = performance.now();
  const csv = await desk.courier.text('GET', '/export?as=csv');
  rows['every job as a table, s'] = Number(((performance.now() - from) / 1000).toFixed(1));
  if (csv.trimEnd().split('\r\n').length <= size) throw new Error('The table lacks jobs.');
  return rows;
}

async function kill(engine: 'embedded' | 'PostgreSQL', kills: number): Promise<Measured['rows']> {
  const folder = mkdtempSync(join(tmpdir(), 'holdfast-kill-'));
  const postgres = engine === 'PostgreSQL' ? await Postgres.start() : null;
  const office = await OfficeProcess.start({ folder, ...(postgres ? { url: postgres.url() } : {}) });
  try {
    const { midBatch, records, lost, doubled, complaints } = await killOffice(office, kills, 90_000);
    return {
      'killed with SIGKILL': kills,
      'of these in mid-batch': midBatch,
      'records written by the benches': records,
      lost,
      doubled,
      complaints: complaints.length,
    };
  } finally {
    await office.end('SIGKILL');
    await postgres?.remove();
    rmSync(folder, { recursive: true, force: true });
  }
}

const engines = (['embedded', 'PostgreSQL'] as const).filter(
  (engine) =>
    (args.engine === undefined || args.engine === engine) && (engine === 'embedded' || noPostgres === null),
);
if (noPostgres) console.log(noPostgres);
const measured: Measured[] = [];
for (const engine of engines) {
  const { rows } = Number(args.records) > 0 ? await load(engine) : { rows: {} };
  const kills = Number(args.kills) > 0 ? await kill(engine, Number(args.kills)) : {};
  measured.push({ engine, rows: { ...rows, ...kills } });
}
const names = [...new Set(measured.flatMap(({ rows }) => Object.keys(rows)))];
console.log(
  `| | ${measured.map(({ engine }) => engine).join(' | ')} |\n| --- |${' ---: |'.repeat(measured.length)}`,
);
for (const name of names)
  console.log(`| ${name} | ${measured.map(({ rows }) => rows[name] ?? '–').join(' | ')} |`);
if (args.json) writeFileSync(args.json, `${JSON.stringify(measured, null, 2)}\n`);
