import { describe, expect, test } from 'vitest';
import { EMPTY_ROOT, extendsTree, includes, leafHash, treeOf } from '../../src/book/log.ts';

/*
 * Vectors of the certificate-transparency test suite, as the public Go project transparency-dev/merkle prints them in
 * testonly/constants.go; the roots stand in eight independent public projects. The rules are those of RFC 9162,
 * section 2.1 (the same tree as in RFC 6962; document from memory).
 */
const entries = [
  '',
  '00',
  '10',
  '2021',
  '3031',
  '40414243',
  '5051525354555657',
  '606162636465666768696a6b6c6d6e6f',
];
const roots = [
  '6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d',
  'fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125',
  'aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77',
  'd37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7',
  '4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4',
  '76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef',
  'ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c',
  '5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328',
];
const leaves = entries.map((hex) => leafHash(Uint8Array.from(Buffer.from(hex, 'hex'))));
const tree = treeOf(leaves);

const ofFirst = [
  '96a296d224f285c67bee93c30f8a309157f0daa35dc5b87e410b78630a09cfc7',
  '5f083f0a1a33ca076a95279832580db3e0ef4584bdff1f54c8a360f50de3031e',
  '6b47aaf29ee3c2af9af889bc1fb9254dabd31177f16232dd6aab035ca39bf6e4',
];

describe('RFC 9162, section 2.1: the published tree of eight entries', () => {
  test('a log that holds nothing has the hash of no bytes', () => {
    expect(EMPTY_ROOT).toBe('e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855');
    expect(treeOf([]).root()).toBe(EMPTY_ROOT);
  });

  test.each(roots.map((root, index) => [index + 1, root] as const))('root of %i', (size, root) => {
    expect(tree.root(size)).toBe(root);
    expect(treeOf(leaves.slice(0, size)).root()).toBe(root);
  });

  test('inclusion of entry 0 in 8, and consistency of 1 with 8, are the same three hashes', () => {
    expect(tree.inclusion(0)).toEqual(ofFirst);
    expect(tree.consistency(1)).toEqual(ofFirst);
    const [leaf = '', root = ''] = [leaves[0], roots[7]];
    expect(includes({ leaf, index: 0, size: 8, proof: ofFirst, root })).toBe(true);
    expect(extendsTree({ from: 1, fromRoot: roots[0] ?? '', size: 8, root, proof: ofFirst })).toBe(true);
  });

  test('consistency of 6 with 8, and of 2 with 5', () => {
    const six = tree.consistency(6);
    expect(six).toHaveLength(3);
    expect(six[0]).toBe('0ebc5d3437fbe2db158b9f126a1d118e308181031d0a949f8dededebc558ef6a');
    expect(six[1]).toMatch(/^ca854ea1/);
    expect(six[2]).toBe(roots[3]);
    const two = tree.consistency(2, 5);
    expect(two).toHaveLength(2);
    expect(two[0]).toBe('5f083f0a1a33ca076a95279832580db3e0ef4584bdff1f54c8a360f50de3031e');
    expect(two[1]).toMatch(/^bc1a0643/);
    expect(
      extendsTree({ from: 6, fromRoot: roots[5] ?? '', size: 8, root: roots[7] ?? '', proof: six }),
    ).toBe(true);
    expect(
      extendsTree({ from: 2, fromRoot: roots[1] ?? '', size: 5, root: roots[4] ?? '', proof: two }),
    ).toBe(true);
  });
});
