import type { Workshop } from '../job/workshop.ts';
import { canonicalText } from '../journal/canonical.ts';
import { toMoment } from '../journal/moment.ts';
import type { JournalStore } from '../journal/port.ts';
import type { Author } from '../journal/published.ts';
import type { JournalRecord } from '../journal/record.ts';
import type { Revision } from '../procedure/publish/published.ts';
import { mayPassLater, OfficeError } from './fault.ts';
import { fetchRecords, localJob } from './fetch.ts';
import { bringFile, namedIn, type ReadsFiles } from './files.ts';
import type { OfficeCalls } from './office-calls.ts';
import { batches, isSettled, planJob, type Trouble } from './plan.ts';
import { weighSent } from './procedures.ts';
import { type Complaint, complained, learnt, type SyncState } from './state.ts';
import { historyHolds, openRoot, openSettings, openShutOut, sealIsIn } from './trust.ts';
import {
  MOST_BYTES,
  MOST_FILES_ASKED,
  MOST_HEADS,
  MOST_RECORDS,
  type OfficeHead,
  type PublishedProcedure,
  type Settings,
} from './wire.ts';

export interface RoundPorts {
  readonly store: JournalStore;
  readonly calls: OfficeCalls;
  /** Wall clock, ms since 1970. */
  now(): number;
  /** Remembers; called after every step, so that a round that is cut short goes on where it was. */
  save(state: SyncState): Promise<void>;
  /** Photos and voice notes on this bench. */
  readonly files: ReadsFiles;
  /** Thumbprint of this bench's own key. */
  readonly bench: string;
  /** Takes a workshop that came down, in place of the one before. */
  keepWorkshop(workshop: Workshop, pins: NonNullable<Settings['pins']>): Promise<void>;
  /** The procedures that came down, for new jobs. */
  readonly shelf: TakesProcedures;
}

/** Where a bench keeps procedures that its office published. */
export interface TakesProcedures {
  has(procedure: PublishedProcedure): Promise<boolean>;
  /** Null when it was taken, else the sentence that says why not. */
  keep(revision: Revision, author: Author, publishedAt: string): Promise<string | null>;
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
    try {
      await this.#run();
    } catch (error) {
      if (error instanceof OfficeError && error.code === 'key-revoked') await this.#shutOut(error);
      throw error;
    }
  }

  /** Only the office's own word counts: whoever sits on the line could say so too. */
  async #shutOut({ detail }: OfficeError): Promise<void> {
    const said = await openShutOut(detail.jws, this.state.office, this.#ports.bench);
    if (!said) return;
    this.state = { ...this.state, shutOut: { at: said.at, why: said.why } };
    await this.#ports.save(this.state);
  }

  async #run(): Promise<void> {
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
      await this.#files(job);
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
      const names = namedIn(records.slice(from - batch.length, from)).length > 0;
      await this.#learn(job, { count: from, hash, fence, trouble: null, ...(names ? { filed: false } : {}) });
    }
  }

  /** Brings the photos and voice notes of records that the office has; what it has already is not sent again. */
  async #files(job: string): Promise<void> {
    const known = this.state.jobs[job];
    if (!known || known.filed || known.count === 0) return;
    const { store, calls } = this.#ports;
    const named = namedIn((await store.read(job)).slice(0, known.count));
    const asked = named.map(({ sha256 }) => sha256).slice(0, MOST_FILES_ASKED);
    const lacking = asked.length === 0 ? [] : await calls.lacking(asked);
    let filed = named.length <= MOST_FILES_ASKED;
    for (const { sha256, have } of lacking) {
      const file = named.find((one) => one.sha256 === sha256);
      const came = file ? await bringFile(this.#ports, file, have) : 'whole';
      filed &&= came === 'whole';
      // A job that was taken over names files that are on another bench: that one brings them.
      if (came === 'altered' || (came === 'missing' && known.fence === 1))
        await this.complain('file-lost', FILE_LOST, job);
      if (came === 'refused') await this.complain('file-refused', FILE_REFUSED, job);
    }
    if (filed) await this.#learn(job, { filed });
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
    const {
      workshop: name,
      version,
      machines,
      people,
      tools,
      badges,
      shutOut = [],
      parts,
      pins = {},
    } = opened.value;
    await keepWorkshop({ name, machines, people, tools, badges, shutOut, ...(parts ? { parts } : {}) }, pins);
    for (const named of opened.value.procedures) await this.#procedure(named, opened.value);
    this.state = { ...this.state, settings: version };
    await this.#ports.save(this.state);
  }

  /** A procedure that was published: it must be the one that was signed for, and hold its proof here too. */
  async #procedure(named: PublishedProcedure, { workshop, at }: Settings): Promise<void> {
    const { calls, shelf } = this.#ports;
    if (await shelf.has(named)) return;
    const weighed = weighSent(await calls.procedure(named.hash), named);
    const author: Author = { name: workshop, kid: this.state.office };
    const refused =
      'refused' in weighed
        ? weighed.refused
        : await shelf.keep(weighed.revision, author, named.publishedAt ?? at);
    if (refused !== null)
      await this.complain(
        'procedure-refused',
        `“${named.title}”, revision ${named.revision}, came from the office and was not taken: ${refused}`,
      );
  }
}

const TAKEN = 'Another bench goes on with this job: it can be read here, and written there.';
const RESTORED =
  'Records of this job were missing on this bench, as after a restored backup; they were brought back from the office. Have the supervisor look.';

const FILE_LOST =
  'A photo or voice note of this job is not on this bench any more, or not as it was taken, and the office does not have it: have the supervisor look.';
const FILE_REFUSED =
  'The office does not take a photo or voice note of this job: it stays on this bench, have the supervisor look.';

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

/** Runs one round from what is remembered; returns what is to be remembered then. Throws when the office is away. */
export async function syncRound(ports: RoundPorts, state: SyncState): Promise<SyncState> {
  const round = new Round(ports, state);
  await round.run();
  return round.state;
}
