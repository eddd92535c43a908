import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, concatBytes, hexToBytes } from '@noble/hashes/utils.js';

/*
 * A Merkle tree as RFC 9162 (Certificate Transparency 2.0), section 2.1, has it, with SHA-256. A leaf and a node are
 * hashed with different first bytes, so that neither can pass for the other. All hashes are lower-case hex.
 */

const LEAF = Uint8Array.of(0x00);
const NODE = Uint8Array.of(0x01);

/** The root of a log that holds nothing: SHA-256 of no bytes. */
export const EMPTY_ROOT = bytesToHex(sha256(new Uint8Array()));

/** Section 2.1.1: the hash of one entry. */
export const leafHash = (entry: Uint8Array): string => bytesToHex(sha256(concatBytes(LEAF, entry)));

const nodeHash = (left: string, right: string): string =>
  bytesToHex(sha256(concatBytes(NODE, hexToBytes(left), hexToBytes(right))));

/** The largest power of two below n, for n > 1: where RFC 9162 splits a list. */
function splitOf(n: number): number {
  let half = 1;
  while (half * 2 < n) half *= 2;
  return half;
}

export interface Tree {
  readonly size: number;
  /** Root of the first `size` leaves; all of them when it is left out. */
  root(size?: number): string;
  /** Section 2.1.3.1: the hashes that lead from leaf `index` up to the root of the first `size` leaves. */
  inclusion(index: number, size?: number): string[];
  /** Section 2.1.4.1: shows that the tree of the first `from` leaves is the beginning of that of the first `size`. */
  consistency(from: number, size?: number): string[];
}

/** The tree over these leaf hashes. Sizes and indexes outside it throw RangeError. */
export function treeOf(leaves: readonly string[]): Tree {
  // Subtrees are asked for again and again, and leaves never change: each is hashed once.
  const known = new Map<string, string>();

  function rootOf(low: number, high: number): string {
    if (high - low === 0) return EMPTY_ROOT;
    if (high - low === 1) return leaves[low] ?? EMPTY_ROOT;
    const key = `${low}-${high}`;
    const kept = known.get(key);
    if (kept !== undefined) return kept;
    const middle = low + splitOf(high - low);
    const made = nodeHash(rootOf(low, middle), rootOf(middle, high));
    known.set(key, made);
    return made;
  }

  function path(index: number, low: number, high: number): string[] {
    if (high - low <= 1) return [];
    const middle = low + splitOf(high - low);
    return index < middle
      ? [...path(index, low, middle), rootOf(middle, high)]
      : [...path(index, middle, high), rootOf(low, middle)];
  }

  /** SUBPROOF of section 2.1.4.1; `whole`: the subtree is one that whoever holds the old root knows already. */
  function subproof(from: number, low: number, high: number, whole: boolean): string[] {
    if (from === high) return whole ? [] : [rootOf(low, high)];
    const middle = low + splitOf(high - low);
    return from <= middle
      ? [...subproof(from, low, middle, whole), rootOf(middle, high)]
      : [...subproof(from, middle, high, false), rootOf(low, middle)];
  }

  const within = (what: string, value: number, low: number, high: number) => {
    if (!Number.isSafeInteger(value) || value < low || value > high)
      throw new RangeError(`${what} must be a whole number from ${low} to ${high}, not ${value}.`);
  };
  return {
    size: leaves.length,
    root(size = leaves.length) {
      within('The size', size, 0, leaves.length);
      return rootOf(0, size);
    },
    inclusion(index, size = leaves.length) {
      within('The size', size, 1, leaves.length);
      within('The index', index, 0, size - 1);
      return path(index, 0, size);
    },
    consistency(from, size = leaves.length) {
      within('The size', size, 1, leaves.length);
      within('The old size', from, 1, size);
      return subproof(from, 0, size, true);
    },
  };
}

const HEX_64 = /^[0-9a-f]{64}$/;

export interface Inclusion {
  readonly leaf: string;
  readonly index: number;
  readonly size: number;
  readonly proof: readonly string[];
  readonly root: string;
}

const whole = (value: number) => Number.isSafeInteger(value) && value >= 0;

/** Section 2.1.3.2: does the proof lead from the leaf to the root? Never throws. */
export function includes({ leaf, index, size, proof, root }: Inclusion): boolean {
  if (!whole(index) || !whole(size) || index >= size) return false;
  if (![leaf, root, ...proof].every((hash) => HEX_64.test(hash))) return false;
  let at = index;
  let last = size - 1;
  let hash = leaf;
  for (const next of proof) {
    if (last === 0) return false;
    if (at % 2 === 1 || at === last) {
      hash = nodeHash(next, hash);
      while (at % 2 === 0 && at !== 0) [at, last] = [at / 2, Math.floor(last / 2)];
    } else hash = nodeHash(hash, next);
    [at, last] = [Math.floor(at / 2), Math.floor(last / 2)];
  }
  return last === 0 && hash === root;
}

export interface Consistency {
  readonly from: number;
  readonly fromRoot: string;
  readonly size: number;
  readonly root: string;
  readonly proof: readonly string[];
}

const isPowerOfTwo = (n: number): boolean => n > 0 && 2 ** Math.round(Math.log2(n)) === n;

/** Section 2.1.4.2: is the smaller tree the beginning of the larger? An empty tree begins every tree. Never throws. */
export function extendsTree({ from, fromRoot, size, root, proof }: Consistency): boolean {
  if (!whole(from) || !whole(size) || from > size) return false;
  if (![fromRoot, root, ...proof].every((hash) => HEX_64.test(hash))) return false;
  if (from === size) return proof.length === 0 && fromRoot === root;
  if (from === 0) return proof.length === 0 && fromRoot === EMPTY_ROOT;
  const [first, ...rest] = isPowerOfTwo(from) ? [fromRoot, ...proof] : proof;
  if (first === undefined) return false;
  let at = from - 1;
  let last = size - 1;
  while (at % 2 === 1) [at, last] = [Math.floor(at / 2), Math.floor(last / 2)];
  let old = first;
  let now = first;
  for (const next of rest) {
    if (last === 0) return false;
    if (at % 2 === 1 || at === last) {
      old = nodeHash(next, old);
      now = nodeHash(next, now);
      while (at % 2 === 0 && at !== 0) [at, last] = [at / 2, Math.floor(last / 2)];
    } else now = nodeHash(now, next);
    [at, last] = [Math.floor(at / 2), Math.floor(last / 2)];
  }
  return last === 0 && old === fromRoot && now === root;
}
