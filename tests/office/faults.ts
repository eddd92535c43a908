import { setTimeout as sleep } from 'node:timers/promises';
import type { JournalRecord } from '../../src/journal/record.ts';
import { syncRound } from '../../src/sync/round.ts';
import { joined, type SyncState } from '../../src/sync/state.ts';
import { MemoryStore } from '../journal/memory-store.ts';
import { drawFrom, randomJob } from '../journal/random-jobs.ts';
import { sample } from '../procedure/sample.ts';
import type { OfficeProcess } from './office-process.ts';
import { jobWith, noise, photoOf } from './photos.ts';
import { type Member, sealFor } from './world.ts';

/** What a fault did to the records. Everything but the first three must be nothing. */
export interface FaultResult {
  readonly faults: number;
  /** How many of them fell while a batch was on its way. */
  readonly midBatch: number;
  readonly records: number;
  readonly lost: number;
  readonly doubled: number;
  readonly complaints: readonly string[];
}

/** A bench outside the office's process, that goes on working whatever becomes of the office. */
export class FaultBench {
  readonly member: Member;
  readonly store = new MemoryStore();
  readonly files = new Map<string, Blob>();
  readonly written: JournalRecord[][] = [];
  state: SyncState;
  /** A batch or a seal is on its way. */
  busy = false;

  constructor(member: Member, office: string) {
    this.member = member;
    this.state = joined(office, member.name);
  }

  /** A whole job; every third one is stopped over a trouble that was photographed. */
  async work(seed: number): Promise<void> {
    const records = seed % 3 === 0 ? this.#photographed(seed) : randomJob(seed, [sample]);
    this.written.push(records);
    for (const record of records) await this.store.append(record);
    await this.store.putSeal(records[0]?.job ?? '', await sealFor(records, this.member.key));
  }

  #photographed(seed: number): JournalRecord[] {
    const photo = photoOf(noise(seed, 700_000));
    this.files.set(photo.sha256, photo.blob);
    return jobWith(`33333333-0000-4000-8000-${String(seed).padStart(12, '0')}`, [photo], true);
  }

  async round(): Promise<void> {
    const { calls } = this.member;
    const marked =
      <A extends unknown[], R>(call: (...given: A) => Promise<R>) =>
      async (...given: A) => {
        this.busy = true;
        try {
          return await call(...given);
        } finally {
          this.busy = false;
        }
      };
    const ports = {
      store: this.store,
      calls: { ...calls, push: marked(calls.push), seal: marked(calls.seal), putPart: marked(calls.putPart) },
      now: Date.now,
      save: async (state: SyncState) => {
        this.state = state;
      },
      files: { read: async (sha256: string) => this.files.get(sha256) },
      bench: this.member.kid,
      keepWorkshop: async () => undefined,
      shelf: { has: async () => true, keep: async () => null },
    };
    this.state = await syncRound(ports, this.state);
  }

  /** Tries until a round goes through; gives up after so many ms. */
  async settle(ms = 60_000): Promise<void> {
    const from = performance.now();
    for (;;) {
      try {
        return await this.round();
      } catch (error) {
        if (performance.now() - from > ms) throw error;
        await sleep(100);
      }
    }
  }

  /** Holds everything that was written against what the office has. */
  async compare(): Promise<Pick<FaultResult, 'records' | 'lost' | 'doubled' | 'complaints'>> {
    let records = 0;
    let lost = 0;
    let doubled = 0;
    for (const job of this.written) {
      const text = await this.member.calls.pull(job[0]?.job ?? '', 0);
      const there = text
        .trimEnd()
        .split('\n')
        .map((line) => JSON.parse(line) as JournalRecord);
      records += job.length;
      const hashes = new Set(there.map(({ hash }) => hash));
      lost += job.filter(({ hash }) => !hashes.has(hash)).length;
      doubled += there.length - hashes.size + Math.max(0, there.length - job.length);
    }
    const spoilt: string[] = [];
    for (const sha256 of this.files.keys()) {
      const there = await this.member.courier.stream('GET', `/files/${sha256}`, null).then(
        (response) => response.arrayBuffer(),
        () => new ArrayBuffer(),
      );
      if (photoOf(new Uint8Array(there)).sha256 !== sha256)
        spoilt.push(`${sha256} is not there as it was taken`);
    }
    const unlogged = this.written.filter((job) => this.state.jobs[job[0]?.job ?? '']?.logged !== true);
    const complaints = [
      ...this.state.complaints.map(({ code, says }) => `${code}: ${says}`),
      ...spoilt,
      ...unlogged.map((job) => `${job[0]?.job} is not in the log`),
    ];
    return { records, lost, doubled, complaints };
  }
}

/** Kills the office with SIGKILL, at moments drawn anew, while two benches bring records; starts it again each time. */
export async function killOffice(office: OfficeProcess, kills: number, seed: number): Promise<FaultResult> {
  const draw = drawFrom(seed);
  const desk = await office.desk();
  const benches = [
    new FaultBench(await office.bench(desk, 'Bench 1'), office.office),
    new FaultBench(await office.bench(desk, 'Bench 2'), office.office),
  ];
  let midBatch = 0;
  for (let kill = 0; kill < kills; kill++) {
    for (const [index, bench] of benches.entries()) await bench.work(seed + 2 * kill + index);
    const rounds = benches.map((bench) => bench.round().catch(() => undefined));
    // Wait until something is on its way, then a little at random: before, in and after the commit.
    for (let tries = 0; tries < 400 && !benches.some(({ busy }) => busy); tries++) await sleep(1);
    await sleep(draw(40));
    if (benches.some(({ busy }) => busy)) midBatch++;
    await office.end('SIGKILL');
    await Promise.all(rounds);
    await office.begin();
  }
  for (const bench of benches) await bench.settle();
  // A second round: what the first one sealed is now shown to be in the log.
  for (const bench of benches) await bench.settle();
  return summed({ faults: kills, midBatch }, benches);
}

export async function summed(
  what: Pick<FaultResult, 'faults' | 'midBatch'>,
  benches: readonly FaultBench[],
): Promise<FaultResult> {
  const results = await Promise.all(benches.map((bench) => bench.compare()));
  const total = (of: 'records' | 'lost' | 'doubled') => results.reduce((sum, one) => sum + one[of], 0);
  return {
    ...what,
    records: total('records'),
    lost: total('lost'),
    doubled: total('doubled'),
    complaints: results.flatMap(({ complaints }) => complaints),
  };
}
