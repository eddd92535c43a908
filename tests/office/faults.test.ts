import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, inject, test } from 'vitest';
import { FaultBench, killOffice, summed } from './faults.ts';
import { OfficeProcess } from './office-process.ts';
import { noPostgres, Postgres } from './postgres.ts';

const cleanUps: (() => unknown)[] = [];
afterEach(async () => {
  for (const cleanUp of cleanUps.splice(0).reverse()) await cleanUp();
});

function folder(): string {
  const made = mkdtempSync(join(tmpdir(), 'holdfast-fault-'));
  cleanUps.push(() => rmSync(made, { recursive: true, force: true }));
  return made;
}

async function officeIn(data: string, url?: string): Promise<OfficeProcess> {
  // An empty database that was made before: making one takes seconds.
  if (!url) cpSync(inject('embedded'), join(data, 'data'), { recursive: true });
  const office = await OfficeProcess.start({ folder: data, ...(url ? { url } : {}) });
  cleanUps.push(() => office.end('SIGKILL'));
  return office;
}

async function server(settings: readonly string[] = [], data?: string): Promise<Postgres> {
  const postgres = await Postgres.start(settings, data);
  cleanUps.push(() => postgres.remove());
  return postgres;
}

const nothingWrong = { lost: 0, doubled: 0, complaints: [] };

/** A disk of a few MB, or null where this user may not make one. */
function smallDisk(megabytes: number): string | null {
  const at = folder();
  const made = spawnSync('mount', ['-t', 'tmpfs', '-o', `size=${megabytes}m,mode=755`, 'tmpfs', at]);
  if (made.status !== 0) return null;
  cleanUps.push(() => spawnSync('umount', ['-l', at]));
  return at;
}

/** Fills the disk to its last byte. Gives back the way to make room again. */
function fill(disk: string): () => void {
  const path = join(disk, 'filler');
  spawnSync('dd', ['if=/dev/zero', `of=${path}`, 'bs=64k'], { stdio: 'ignore' });
  expect(statSync(path).size).toBeGreaterThan(0);
  return () => rmSync(path);
}

/** Benches work on while the disk is full; when there is room again everything arrives. */
async function fullDisk(office: OfficeProcess, disk: string, mend = async () => {}) {
  const desk = await office.desk();
  const bench = new FaultBench(await office.bench(desk, 'Bench 1'), office.office);
  await bench.work(1);
  await bench.settle();
  const makeRoom = fill(disk);
  const refused: (string | undefined)[] = [];
  for (let seed = 2; seed < 14; seed++) {
    await bench.work(seed);
    await bench.round().catch((error: { code?: string }) => refused.push(error.code));
  }
  expect(refused).not.toEqual([]);
  for (const code of refused) expect(['storage-full', 'database-away']).toContain(code);
  makeRoom();
  await mend();
  await bench.settle();
  await bench.settle();
  return summed({ faults: refused.length, midBatch: refused.length }, [bench]);
}

describe('killed with SIGKILL in the middle of a batch', () => {
  test('the embedded database loses nothing and doubles nothing', async () => {
    const result = await killOffice(await officeIn(folder()), 2, 4000);
    expect(result).toMatchObject(nothingWrong);
    expect(result.records).toBeGreaterThan(100);
  }, 120_000);

  test.skipIf(noPostgres !== null)(
    'with PostgreSQL nothing is lost and nothing is doubled',
    async () => {
      const postgres = await server();
      const result = await killOffice(await officeIn(folder(), postgres.url()), 2, 5000);
      expect(result).toMatchObject(nothingWrong);
    },
    120_000,
  );
});

test.skipIf(noPostgres !== null)(
  'a database that crashes and comes back: benches wait, nothing is lost',
  async () => {
    const postgres = await server();
    const office = await officeIn(folder(), postgres.url());
    const desk = await office.desk();
    const bench = new FaultBench(await office.bench(desk, 'Bench 1'), office.office);
    let away = 0;
    for (let n = 0; n < 3; n++) {
      await bench.work(6000 + n);
      const round = bench.round().catch((error: { code?: string }) => {
        if (error.code === 'database-away') away++;
      });
      await postgres.end('SIGQUIT');
      await round;
      await expect(bench.round()).rejects.toMatchObject({ code: 'database-away' });
      await postgres.begin();
      await bench.settle();
    }
    await bench.settle();
    expect(await summed({ faults: 3, midBatch: away }, [bench])).toMatchObject(nothingWrong);
  },
  120_000,
);

describe('a full disk', () => {
  test('under the embedded database: refused clearly, nothing lost', async (context) => {
    const disk = smallDisk(120);
    if (!disk) return context.skip('A small disk can only be made by root: this was left out.');
    const office = await officeIn(join(disk, 'office'));
    expect(await fullDisk(office, disk)).toMatchObject(nothingWrong);
  }, 120_000);

  test.skipIf(noPostgres !== null)(
    'under PostgreSQL: refused clearly, nothing lost',
    async (context) => {
      const disk = smallDisk(120);
      if (!disk) return context.skip('A small disk can only be made by root: this was left out.');
      const postgres = await server(['max_wal_size=32MB'], join(disk, 'data'));
      const office = await officeIn(folder(), postgres.url());
      const mend = async () => {
        await postgres.end('SIGQUIT');
        await postgres.begin();
      };
      expect(await fullDisk(office, disk, mend)).toMatchObject(nothingWrong);
    },
    120_000,
  );
});
