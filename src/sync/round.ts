import type { Workshop } from '../job/workshop.ts';
import { canonicalText } from '../journal/canonical.ts';
import { checkChain } from '../journal/chain.ts';
import { toMoment } from '../journal/moment.ts';
import type { JournalStore } from '../journal/port.ts';
import type { JournalRecord } from '../journal/record.ts';
import { recordShape } from '../journal/record-shape.ts';
import { misfitIn } from '../journal/shape.ts';
import { mayPassLater, OfficeError } from './fault.ts';
import type { OfficeCalls } from './office-calls.ts';
import { batches, isSettled, type LocalJob, planJob, type Trouble } from './plan.ts';
import { type Complaint, complained, learnt, type SyncState } from './state.ts';
import { historyHolds, openRoot, openSettings, sealIsIn } from './trust.ts';
import { MOST_BYTES, MOST_HEADS, MOST_RECORDS, type OfficeHead } from './wire.ts';

export interface RoundPorts {
  readonly store: JournalStore;
  readonly calls: OfficeCalls;
  /** Wall clock, ms since 1970. */
  now(): number;
  /** Remembers; called after every step, so that a round that is cut short goes on where it was. */
  save(state: SyncState): Promise<void>;
  /** Takes a workshop that came down. */
  keepWorkshop(workshop: Workshop): Promise<void>;
}

/** One round: what this bench has and the office lacks goes up, what was published comes down. */
class Round {
  readonly #ports: RoundPorts;
  state: SyncState;

  constructor(ports: RoundPorts, state: SyncState) {
    this.#ports = ports;
    this.state = state;
  }

  async #learn(job: string, what: Parameters<typeof learnt>[2]): Promise<void> {
    this.state = learnt(this.state, job, what);
    await this.#ports.save(this.state);
  }

  async complain(code: Complaint['code'], says: string, job: string | null = null): Promise<void> {
    const next = complained(this.state, { code, job, says, at: toMoment(Math.trunc(this.#ports.now())) });
    if (next === this.state) return;
    this.state = next;
    await this.#ports.save(next);
  }

  async run(): Promise<void> {
    const { store, calls } = this.#ports;
    const all = await store.heads();
    const asked = all.filter((head) => !isSettled(head, this.state.jobs[head.job]));
    let version = 0;
    for (let from = 0; from === 0 || from < asked.length; from += MOST_HEADS) {
      const mine = asked.slice(from, from + MOST_HEADS);
      const { jobs, settings } = await calls.heads(
        mine.map(({ job, count, hash }) => ({ job, count, hash })),
      );
      version = settings;
      const here = new Set(all.map(({ job }) => job));
      const theirs = new Map(jobs.map((head) => [head.job, head]));
      for (const { job } of mine) await this.#oneJob(job, theirs.get(job));
      for (const head of jobs) if (!here.has(head.job)) await this.#oneJob(head.job, head);
    }
    await this.#log();
    if (version > this.state.settings) await this.#settings();
  }

  /** A job that is refused stops only itself; an office that is away stops the round. */
  async #oneJob(job: string, theirs: OfficeHead | undefined): Promise<void> {
    try {
      await this.#bring(job, theirs);
    } catch (error) {
      if (!(error instanceof OfficeError) || mayPassLater(error.code)) throw error;
      const trouble = troubleOf(error);
      if (trouble === null) throw error;
      await this.#learn(job, { trouble });
      await this.complain(trouble, error.message, job);
    }
  }

  async #bring(job: string, theirs: OfficeHead | undefined): Promise<void> {
    const { store } = this.#ports;
    const records = await store.read(job);
    const mine = await localJob(store, records);
    const act = planJob(mine, theirs, this.state.jobs[job]);
    switch (act.kind) {
      case 'push':
        await this.#push(job, records, act.from, act.fence);
        if (mine?.sealed) await this.#seal(job);
        return;
      case 'restore':
        return this.#restore(job, records, act.from, theirs);
      case 'seal':
        return this.#seal(job);
      case 'leave':
        if (this.state.jobs[job]?.trouble === act.trouble) return;
        await this.#learn(job, { trouble: act.trouble });
        return this.complain(act.trouble, TAKEN, job);
      case 'nothing':
        if (mine && theirs?.agrees)
          await this.#learn(job, {
            count: mine.count,
            hash: mine.hash,
            fence: theirs.fence,
            sealed: theirs.sealed,
            ...(theirs.holder === 'you' ? { trouble: null } : {}),
          });
    }
  }

  /** Sends batch after batch; each that is confirmed is remembered, so that a cut line costs one batch. */
  async #push(job: string, records: readonly JournalRecord[], start: number, fence: number): Promise<void> {
    const { calls } = this.#ports;
    const lines = records.slice(start).map((record) => `${canonicalText(record)}\n`);
    const most = { records: MOST_RECORDS, bytes: MOST_BYTES * 0.75 };
    let from = start;
    for (const batch of batches(lines, (line) => line.length, most)) {
      await calls.push(job, from, fence, batch.join(''));
      from += batch.length;
      const hash = records[from - 1]?.hash ?? '';
      await this.#learn(job, { count: from, hash, fence, trouble: null });
    }
  }

  async #seal(job: string): Promise<void> {
    const { store, calls } = this.#ports;
    const seal = await store.seal(job);
    if (seal === null) return;
    await calls.seal(job, seal);
    await this.#learn(job, { sealed: true });
  }

  /** Brings back records that this bench wrote once and has no more. The chain says whether they are the right ones. */
  async #restore(
    job: string,
    records: readonly JournalRecord[],
    from: number,
    theirs: OfficeHead | undefined,
  ): Promise<void> {
    await this.complain('restored', RESTORED, job);
    await fetchRecords(this.#ports, job, records, from);
    if (theirs)
      await this.#learn(job, { count: theirs.count, hash: theirs.head, fence: theirs.fence, trouble: null });
  }

  /** The log of seals: its past must be the one that was seen, and the seals of this bench must be in it. */
  async #log(): Promise<void> {
    const { calls, store } = this.#ports;
    const opened = await openRoot(await calls.root(), this.state.office);
    if ('distrust' in opened) return this.complain(opened.distrust.code, opened.distrust.says);
    const root = opened.value;
    const { seen } = this.state;
    const grown = seen !== null && seen.size > 0 && seen.size < root.size;
    const proof = grown ? await calls.consistency(seen.size, root.size) : [];
    const broken = historyHolds(seen, root, proof);
    // The root that was seen stays: it is what the complaint rests on.
    if (broken) {
      // An office that was restored from an old copy has lost what it confirmed: everything is asked after again.
      if (broken.code === 'log-shrank') await this.#forgetConfirmed();
      return this.complain(broken.code, broken.says);
    }
    this.state = { ...this.state, seen: { size: root.size, root: root.root } };
    await this.#ports.save(this.state);
    for (const [job, known] of Object.entries(this.state.jobs)) {
      if (!known.sealed || known.logged) continue;
      const seal = await store.seal(job);
      if (seal === null) continue;
      const missing = sealIsIn(seal, await calls.inclusion(job, root.size), root);
      if (missing) await this.complain(missing.code, missing.says, job);
      else await this.#learn(job, { logged: true });
    }
  }

  async #forgetConfirmed(): Promise<void> {
    const jobs = Object.entries(this.state.jobs).map(([job, known]) => [
      job,
      { ...known, sealed: false, logged: false },
    ]);
    this.state = { ...this.state, jobs: Object.fromEntries(jobs) };
    await this.#ports.save(this.state);
  }

  async #settings(): Promise<void> {
    const { calls, keepWorkshop } = this.#ports;
    const { jws } = await calls.settings();
    if (jws === null) return;
    const opened = await openSettings(jws, this.state.office, this.state.settings);
    if ('distrust' in opened) return this.complain(opened.distrust.code, opened.distrust.says);
    const { workshop, machines, people, tools, badges, version } = opened.value;
    await keepWorkshop({ name: workshop, machines, people, tools, badges });
    this.state = { ...this.state, settings: version };
    await this.#ports.save(this.state);
  }
}

const TAKEN = 'Another bench goes on with this job: it can be read here, and written there.';
const RESTORED =
  'Records of this job were missing on this bench, as after a restored backup; they were brought back from the office. Have the supervisor look.';

/** What a refusal means for a job; null: it is not about the job. */
function troubleOf({ code }: OfficeError): Trouble | null {
  switch (code) {
    case 'fork':
    case 'rewrite':
      return 'forked';
    case 'fence-old':
      return 'taken';
    case 'batch-wrong':
    case 'chain-broken':
    case 'procedure-unusable':
    case 'gap':
    case 'sealed':
    case 'seal-wrong':
    case 'not-finished':
    case 'too-large':
      return 'refused';
    default:
      return null;
  }
}

async function localJob(
  store: JournalStore,
  records: readonly JournalRecord[],
): Promise<LocalJob | undefined> {
  const last = records[records.length - 1];
  if (!last) return undefined;
  const closed = last.station === 'complete' || last.station === 'stopped';
  const sealed = closed && (await store.seal(last.job)) !== null;
  return { job: last.job, count: records.length, hash: last.hash, closed, sealed };
}

/** Fetches records of a job that are not here yet and appends them; only what continues this chain is taken. */
export async function fetchRecords(
  { store, calls }: Pick<RoundPorts, 'store' | 'calls'>,
  job: string,
  records: readonly JournalRecord[],
  from: number,
): Promise<void> {
  const texts = (await calls.pull(job, from)).split('\n').filter((line) => line !== '');
  const fetched = texts.map((line): JournalRecord => {
    const value: unknown = JSON.parse(line);
    const misfit = misfitIn(recordShape, value);
    if (misfit) throw new OfficeError('batch-wrong', { what: misfit });
    return value as JournalRecord;
  });
  const [bad] = checkChain([...records.slice(0, from), ...fetched]);
  if (bad) throw new OfficeError('chain-broken', { line: bad.line, what: bad.says });
  for (const record of fetched) await store.append(record);
}

/** Runs one round from what is remembered; returns what is to be remembered then. Throws when the office is away. */
export async function syncRound(ports: RoundPorts, state: SyncState): Promise<SyncState> {
  const round = new Round(ports, state);
  await round.run();
  return round.state;
}

/**
 * Takes a job over from another bench: first the lease, then the records. When the line is cut between the two, the next
 * round brings the records, because the office then says that this bench holds a job it does not have.
 */
export async function takeOver(
  ports: RoundPorts,
  state: SyncState,
  job: string,
  fence: number,
): Promise<SyncState> {
  const { calls, store } = ports;
  const taken = await calls.take(job, fence);
  const records = await store.read(job);
  if (records.length < taken.count) await fetchRecords(ports, job, records, records.length);
  const next = learnt(state, job, {
    count: taken.count,
    hash: taken.head,
    fence: taken.fence,
    trouble: null,
  });
  await ports.save(next);
  return next;
}
