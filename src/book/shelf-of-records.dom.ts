import type { PasskeyDoor } from '../job/passkey/door.ts';
import type { Pins } from '../job/pins.dom.ts';
import type { Workshop } from '../job/workshop.ts';
import { checkChain } from '../journal/chain.ts';
import type { JournalStore } from '../journal/port.ts';
import type { JournalRecord } from '../journal/record.ts';
import { openSeal, type SigningKey } from '../journal/seal.ts';
import { type Digest, digestOf, type Sealed } from './digest.ts';
import type { LogMemory, LogState } from './log-memory.dom.ts';
import { type KeptSeal, sealedAt } from './seal-log.ts';

/** What the book needs from the bench. */
export interface BookDesk {
  readonly store: JournalStore;
  readonly settings: { workshop(): Promise<Workshop | undefined> };
  readonly pins: Pick<Pins, 'check'>;
  readonly passkeys?: PasskeyDoor;
  readonly files: { read(sha256: string): Promise<Blob | undefined> };
  /** ms since 1970. */
  now(): number;
  key(): Promise<SigningKey>;
}

/** A job that cannot be read or does not hold together, and why: in the words of the journal. */
export interface Unreadable {
  readonly job: string;
  readonly says: string;
}

export interface Records {
  /** The latest first. */
  readonly digests: readonly Digest[];
  readonly unreadable: readonly Unreadable[];
  readonly log: LogState;
}

const says = (error: unknown): string => (error instanceof Error ? error.message : String(error));

async function sealedBy(jws: string | null): Promise<Sealed | null> {
  if (jws === null) return null;
  const { opened } = await openSeal(jws);
  return opened ? { ...opened, jws } : null;
}

/** Digests of jobs as they stood, by the hash of their last record: a journal is only ever added to. */
const known = new Map<string, Digest>();

/** What is wrong with the records of a job as they are kept, in one sentence, or null. */
function doubt(records: readonly JournalRecord[], sealed: Sealed | null): string | null {
  const [found] = checkChain(records);
  if (found) return `Record ${found.line - 1}: ${found.says}`;
  const last = records[records.length - 1];
  const other = sealed && (sealed.payload.head !== last?.hash || sealed.payload.count !== records.length);
  return other ? 'Its seal closes another record than the one that is kept.' : null;
}

function digestOnce(records: readonly JournalRecord[], sealed: Sealed | null): Digest {
  const last = records[records.length - 1];
  const key = `${last?.hash} ${sealed?.jws}`;
  const digest = known.get(key) ?? digestOf(records, sealed);
  known.set(key, digest);
  return digest;
}

/** Reads every job of the bench. `progress` is told how many of how many are done. */
export async function readRecords(
  { store }: Pick<BookDesk, 'store'>,
  memory: LogMemory,
  progress: (done: number, all: number) => void = () => undefined,
): Promise<Records> {
  const heads = await store.heads();
  const digests: Digest[] = [];
  const unreadable: Unreadable[] = [];
  const seals: KeptSeal[] = [];
  for (const [done, { job }] of heads.entries()) {
    progress(done, heads.length);
    try {
      const jws = await store.seal(job);
      const sealed = await sealedBy(jws);
      if (jws !== null) seals.push({ job, seal: jws, sealedAt: sealedAt(jws) });
      if (jws !== null && !sealed)
        unreadable.push({ job, says: 'Its seal cannot be opened: it is not as it was set.' });
      const records = await store.read(job);
      const doubted = doubt(records, sealed);
      if (doubted) unreadable.push({ job, says: doubted });
      digests.push(digestOnce(records, sealed));
    } catch (error) {
      unreadable.push({ job, says: says(error) });
    }
    // Long journals take a while: let the screen be painted and keys be heard in between.
    await new Promise((resolve) => setTimeout(resolve));
  }
  digests.sort((a, b) => b.lastAt.localeCompare(a.lastAt));
  return { digests, unreadable, log: await memory.look(seals) };
}
