import { createStore, get, set } from 'idb-keyval';
import type { Head, JournalStore } from '../journal/port.ts';
import { keyId, type SigningKey } from '../journal/seal.ts';
import { pauseAfter, REST_MS } from './backoff.ts';
import { Courier, json } from './courier.dom.ts';
import { OfficeError } from './fault.ts';
import { takeOver } from './fetch.ts';
import type { ReadsFiles } from './files.ts';
import { officeCalls } from './office-calls.dom.ts';
import type { OfficeCalls } from './office-calls.ts';
import { type RoundPorts, syncRound, type TakesProcedures } from './round.ts';
import { type Complaint, joined, type SyncState } from './state.ts';
import type { Enrolled, Offered } from './wire.ts';

/** How long a bench on which nothing happens leaves its office alone, ms. */
const QUIET_MS = 20_000;
/** How long somebody who opens a job waits to hear whether another bench has taken it over, ms. */
const ASKING_MS = 1_500;
/** One window of a bench speaks to the office at a time. */
const LOCK = 'holdfast-office';

export interface LinkPorts {
  readonly store: JournalStore;
  key(): Promise<SigningKey>;
  /** Wall clock, ms since 1970. */
  now(): number;
  /** Photos and voice notes on this bench. */
  readonly files: ReadsFiles;
  /** Takes a workshop that the office published. */
  keepWorkshop: RoundPorts['keepWorkshop'];
  /** Where procedures that the office published are kept. */
  readonly shelf: TakesProcedures;
  /** Something to show has changed. */
  changed(): void;
}

export interface LinkStatus {
  readonly name: string;
  /** Records that the office has not confirmed. */
  readonly waiting: number;
  /** Jobs whose photos and voice notes the office does not have all. */
  readonly unfiled: number;
  /** The last round went through. */
  readonly reached: boolean;
  /** One sentence on why it did not. */
  readonly fault: string | null;
  readonly complaints: readonly Complaint[];
  /** The supervisor shut this bench out: one sentence that says so. */
  readonly shutOut: string | null;
}

const SHUT_OUT = (why: string): string =>
  `The supervisor shut this bench out (${why}): nothing can be done here any more. Everything written here is kept; ask the supervisor.`;

const kept = () => createStore('holdfast-office', 'state');

/** This bench's line to its office. Works in the background: nothing on the bench waits for it. */
export class OfficeLink {
  readonly #ports: LinkPorts;
  readonly #calls: OfficeCalls;
  #state: SyncState;
  #timer = 0;
  #failures = 0;
  #fault: string | null = null;
  #waiting = 0;
  #before = '';
  #told = '';
  #roundAt = Number.NEGATIVE_INFINITY;

  /** The line that was joined before, or null. */
  static async open(ports: LinkPorts): Promise<OfficeLink | null> {
    const state = await get<SyncState>('state', kept());
    return state ? new OfficeLink(ports, state) : null;
  }

  /** Joins the office that this page comes from, by a code that is good once. Throws OfficeError, NoAnswer. */
  static async join(ports: LinkPorts, code: string, name: string): Promise<OfficeLink> {
    const answer = await courier(ports, '').ask<Enrolled>('POST', '/enrol', json({ code, name }));
    const state = joined(await keyId(answer.office), answer.name);
    await set('state', state, kept());
    return new OfficeLink(ports, state);
  }

  private constructor(ports: LinkPorts, state: SyncState) {
    this.#ports = ports;
    this.#state = state;
    this.#calls = officeCalls(courier(ports, state.office));
  }

  get status(): LinkStatus {
    const { name, complaints, shutOut, jobs } = this.#state;
    return {
      name,
      unfiled: Object.values(jobs).filter(({ count, filed }) => count > 0 && filed === false).length,
      shutOut: shutOut ? SHUT_OUT(shutOut.why) : null,
      waiting: this.#waiting,
      reached: this.#failures === 0 && this.#roundAt > 0,
      fault: this.#fault,
      complaints,
    };
  }

  /**
   * Does another bench go on with this job? Asks the office when it can be reached at once; a bench that is alone goes by
   * what it heard last, and its late records are then refused by the number of the lease.
   */
  async elsewhere(job: string): Promise<boolean> {
    if (this.#state.jobs[job] === undefined) return false;
    const asked = this.#alone(async (ports) => {
      this.#state = await syncRound(ports, this.#state);
    }).catch(() => false);
    await Promise.race([asked, new Promise((resolve) => setTimeout(resolve, ASKING_MS))]);
    return this.isElsewhere(job);
  }

  /** The same by what was heard last, without asking. */
  isElsewhere(job: string): boolean {
    return this.#state.jobs[job]?.trouble === 'taken';
  }

  start(): void {
    const soon = () => {
      if (!document.hidden) this.nudge();
    };
    window.addEventListener('online', soon);
    document.addEventListener('visibilitychange', soon);
    this.nudge();
  }

  /** Tries now and not only when the pause is over. */
  nudge(): void {
    window.clearTimeout(this.#timer);
    this.#roundAt = Number.NEGATIVE_INFINITY;
    this.#timer = window.setTimeout(() => this.#turn(), 0);
  }

  offered(): Promise<readonly Offered[]> {
    return this.#calls.offered();
  }

  /** Takes a job over from another bench; resolves when its records are here. */
  async takeOver(offer: Offered): Promise<void> {
    await this.#alone(async (ports) => {
      this.#state = await takeOver(ports, this.#state, offer.job, offer.fence);
    });
  }

  async #turn(): Promise<void> {
    let asked = 0;
    try {
      const heads = await this.#ports.store.heads();
      const now = JSON.stringify(heads);
      this.#waiting = waitingIn(heads, this.#state);
      const due = this.#ports.now() - this.#roundAt >= QUIET_MS;
      if (due || now !== this.#before) {
        const ran = await this.#alone(async (ports) => {
          this.#state = await syncRound(ports, this.#state);
        });
        if (ran) {
          this.#roundAt = this.#ports.now();
          this.#before = now;
          this.#waiting = waitingIn(heads, this.#state);
        }
      }
      this.#failures = 0;
      this.#fault = null;
    } catch (error) {
      this.#failures++;
      this.#fault = error instanceof Error ? error.message : String(error);
      if (error instanceof OfficeError) asked = Number(error.detail.seconds ?? 0) * 1000;
    }
    this.#tell();
    const pause = this.#failures === 0 ? REST_MS : pauseAfter(this.#failures, Math.random(), asked);
    this.#timer = window.setTimeout(() => this.#turn(), pause);
  }

  #tell(): void {
    const now = JSON.stringify(this.status);
    if (now === this.#told) return;
    this.#told = now;
    this.#ports.changed();
  }

  /** Runs while no other window of this bench speaks to the office, on what was remembered last. False: another does. */
  #alone(work: (ports: RoundPorts) => Promise<void>): Promise<boolean> {
    return navigator.locks.request(LOCK, { ifAvailable: true }, async (lock) => {
      if (!lock) return false;
      this.#state = (await get<SyncState>('state', kept())) ?? this.#state;
      const { store, files, shelf, keepWorkshop, key } = this.#ports;
      await work({
        store,
        files,
        shelf,
        keepWorkshop,
        bench: (await key()).kid,
        calls: this.#calls,
        now: () => this.#ports.now(),
        save: async (state) => {
          this.#state = state;
          await set('state', state, kept());
        },
      });
      return true;
    });
  }
}

/** Records of this bench that were never confirmed. */
function waitingIn(heads: readonly Head[], { jobs }: SyncState): number {
  return heads.reduce((sum, { job, count }) => sum + Math.max(0, count - (jobs[job]?.count ?? 0)), 0);
}

const courier = ({ key, now }: LinkPorts, office: string): Courier =>
  new Courier({ origin: '', office, key, now, fetch: (url, init) => fetch(url, init) });
