import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { EMPTY_ROOT, extendsTree, includes, leafHash, treeOf } from '../../src/book/log.ts';

const MOST = 40;
const leaves = Array.from({ length: MOST }, (_, n) => leafHash(Uint8Array.of(n)));
const tree = treeOf(leaves);

const flipped = (hash: string, bit: number): string => {
  const at = bit >> 2;
  const digit = Number.parseInt(hash[at] ?? '0', 16) ^ (1 << (bit & 3));
  return hash.slice(0, at) + digit.toString(16) + hash.slice(at + 1);
};

test('every leaf of every size is shown to be in, and is not once any hash has one bit changed', () => {
  for (let size = 1; size <= MOST; size++) {
    const root = tree.root(size);
    for (let index = 0; index < size; index++) {
      const leaf = leaves[index] ?? '';
      const proof = tree.inclusion(index, size);
      const told = { leaf, index, size, proof, root };
      expect(includes(told)).toBe(true);
      const bit = (size * 7 + index) % 256;
      for (let at = 0; at < proof.length; at++) {
        const bent = proof.map((hash, n) => (n === at ? flipped(hash, bit) : hash));
        expect(includes({ ...told, proof: bent })).toBe(false);
      }
      expect(includes({ ...told, leaf: flipped(leaf, bit) })).toBe(false);
      expect(includes({ ...told, root: flipped(root, bit) })).toBe(false);
      expect(includes({ ...told, proof: [...proof, root] })).toBe(false);
      expect(includes({ ...told, proof: proof.slice(1) })).toBe(size === 1);
    }
  }
});

test('every size is shown to be the beginning of every later one, and not once a bit is changed', () => {
  for (let size = 1; size <= MOST; size++) {
    for (let from = 1; from <= size; from++) {
      const proof = tree.consistency(from, size);
      const told = { from, fromRoot: tree.root(from), size, root: tree.root(size), proof };
      expect(extendsTree(told)).toBe(true);
      const bit = (size * 11 + from) % 256;
      for (let at = 0; at < proof.length; at++) {
        const bent = proof.map((hash, n) => (n === at ? flipped(hash, bit) : hash));
        expect(extendsTree({ ...told, proof: bent })).toBe(false);
      }
      expect(extendsTree({ ...told, fromRoot: flipped(told.fromRoot, bit) })).toBe(false);
      expect(extendsTree({ ...told, root: flipped(told.root, bit) })).toBe(false);
      expect(extendsTree({ ...told, proof: [...proof, told.root] })).toBe(false);
    }
  }
});

describe('a log in which one entry was exchanged or left out', () => {
  test('does not extend a root seen before, whatever proof is given', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: MOST }),
        fc.nat(),
        fc.boolean(),
        fc.nat(),
        (size, which, remove, later) => {
          const from = 1 + (later % size);
          const at = which % from;
          const changed = leaves.slice(0, size).flatMap((leaf, n) => {
            if (n !== at) return [leaf];
            return remove ? [] : [flipped(leaf, 5)];
          });
          const other = treeOf(changed);
          if (other.size < from) return;
          const proof = other.consistency(from);
          expect(
            extendsTree({ from, fromRoot: tree.root(from), size: other.size, root: other.root(), proof }),
          ).toBe(false);
        },
      ),
      { numRuns: 300 },
    );
  });
});

test('nonsense is refused and never thrown on', () => {
  const root = tree.root();
  expect(includes({ leaf: leaves[0] ?? '', index: MOST, size: MOST, proof: [], root })).toBe(false);
  expect(includes({ leaf: leaves[0] ?? '', index: -1, size: MOST, proof: [], root })).toBe(false);
  expect(includes({ leaf: 'no hash', index: 0, size: 1, proof: [], root })).toBe(false);
  expect(extendsTree({ from: 2, fromRoot: root, size: 1, root, proof: [] })).toBe(false);
  expect(extendsTree({ from: 0, fromRoot: EMPTY_ROOT, size: 3, root: tree.root(3), proof: [] })).toBe(true);
  expect(extendsTree({ from: 3, fromRoot: tree.root(3), size: 5, root: tree.root(5), proof: ['x'] })).toBe(
    false,
  );
  expect(() => tree.root(MOST + 1)).toThrow(RangeError);
  expect(() => tree.inclusion(5, 5)).toThrow(RangeError);
  expect(() => tree.consistency(6, 5)).toThrow(RangeError);
});
