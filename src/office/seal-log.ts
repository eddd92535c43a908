import { createHash } from 'node:crypto';
import { EMPTY_ROOT } from '../book/log.ts';
import { leafOf } from '../book/seal-log.ts';
import { OfficeError } from '../sync/fault.ts';
import type { Included } from '../sync/wire.ts';
import type { Db } from './db/engine.ts';

/*
 * The log of seals (RFC 9162, section 2.1) in a database: beside the leaves the hash of every whole subtree is kept, so that
 * adding a seal and proving one takes as many rows as the tree is high, however many seals there are.
 */

const NODE = Uint8Array.of(1);

const nodeHash = (left: string, right: string): string =>
  createHash('sha256')
    .update(NODE)
    .update(Buffer.from(left, 'hex'))
    .update(Buffer.from(right, 'hex'))
    .digest('hex');

/** Adds a seal at the end. Inside the caller's transaction: the head's row is locked, so places are given one by one. */
export async function addSeal(db: Db, job: string, seal: string, at: number): Promise<number> {
  const head = await db
    .selectFrom('seal_head')
    .select('size')
    .where('id', '=', 1)
    .forUpdate()
    .executeTakeFirst();
  if (!head) throw new OfficeError('office-fault', { what: 'the log of seals has no head' });
  const place = head.size;
  const leaf = leafOf(seal);
  await db.insertInto('seal_entry').values({ place, job, leaf, added_at: at }).execute();
  const nodes = [{ level: 0, idx: place, hash: leaf }];
  for (let level = 0, idx = place, hash = leaf; idx % 2 === 1; level++) {
    const left = await nodeAt(db, level, idx - 1);
    hash = nodeHash(left, hash);
    idx = (idx - 1) / 2;
    nodes.push({ level: level + 1, idx, hash });
  }
  await db.insertInto('seal_node').values(nodes).execute();
  await db
    .updateTable('seal_head')
    .set({ size: place + 1 })
    .where('id', '=', 1)
    .execute();
  return place;
}

async function nodeAt(db: Db, level: number, idx: number): Promise<string> {
  const row = await db
    .selectFrom('seal_node')
    .select('hash')
    .where('level', '=', level)
    .where('idx', '=', idx)
    .executeTakeFirst();
  if (!row) throw new OfficeError('office-fault', { what: `the log of seals lacks node ${level}/${idx}` });
  return row.hash;
}

/** The largest power of two below n, for n > 1: where RFC 9162 splits a list. */
function splitOf(n: number): number {
  let half = 1;
  while (half * 2 < n) half *= 2;
  return half;
}

/** The hash of the leaves from `low` to below `high`; `low` is where such a subtree may begin. */
async function rangeHash(db: Db, low: number, high: number): Promise<string> {
  const size = high - low;
  if (size === 0) return EMPTY_ROOT;
  const level = Math.log2(size);
  if (Number.isInteger(level)) return nodeAt(db, level, low / size);
  const middle = low + splitOf(size);
  return nodeHash(await rangeHash(db, low, middle), await rangeHash(db, middle, high));
}

export async function logSize(db: Db): Promise<number> {
  const head = await db.selectFrom('seal_head').select('size').where('id', '=', 1).executeTakeFirst();
  return head?.size ?? 0;
}

/** The root over the first `size` seals. */
export const rootOf = (db: Db, size: number): Promise<string> => rangeHash(db, 0, size);

async function sizeWithin(db: Db, size: number, least: number): Promise<void> {
  const now = await logSize(db);
  if (size < least || size > now)
    throw new OfficeError('bad-request', {
      what: `the log has ${now} seals; ask for a size from ${least} to ${now}`,
    });
}

/** Section 2.1.3.1: the hashes from a job's seal up to the root over the first `size` seals. */
export async function inclusionOf(db: Db, job: string, size: number): Promise<Included> {
  const entry = await db
    .selectFrom('seal_entry')
    .select(['place', 'leaf'])
    .where('job', '=', job)
    .executeTakeFirst();
  if (!entry) throw new OfficeError('no-such-job', { job });
  await sizeWithin(db, size, entry.place + 1);
  const proof: string[] = [];
  for (let low = 0, high = size; high - low > 1; ) {
    const middle = low + splitOf(high - low);
    const inLeft = entry.place < middle;
    proof.unshift(inLeft ? await rangeHash(db, middle, high) : await rangeHash(db, low, middle));
    if (inLeft) high = middle;
    else low = middle;
  }
  return { job, index: entry.place, size, leaf: entry.leaf, proof };
}

/** Section 2.1.4.1: that the log of the first `from` seals is the beginning of that of the first `size`. */
export async function consistencyOf(db: Db, from: number, size: number): Promise<string[]> {
  await sizeWithin(db, size, 1);
  if (from < 0 || from > size)
    throw new OfficeError('bad-request', { what: `the old size must be from 0 to ${size}` });
  // An empty log begins every log, and there is nothing to show for it.
  if (from === 0) return [];
  const subproof = async (low: number, high: number, whole: boolean): Promise<string[]> => {
    if (from === high) return whole ? [] : [await rangeHash(db, low, high)];
    const middle = low + splitOf(high - low);
    return from <= middle
      ? [...(await subproof(low, middle, whole)), await rangeHash(db, middle, high)]
      : [...(await subproof(middle, high, false)), await rangeHash(db, low, middle)];
  };
  return subproof(0, size, true);
}
