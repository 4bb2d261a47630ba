import { createHash } from 'node:crypto';
import { expect, it } from 'vitest';
import { inclusionProof, noLeaves, rootByProof, rootOf, withLeaf } from './merkle.ts';

const bytes = (text: string) => new Uint8Array(Buffer.from(text, 'hex'));
const text = (hash: Uint8Array | null) => hash && Buffer.from(hash).toString('hex');
const rootOfLeaves = (leaves: readonly Uint8Array[]) =>
  rootOf(leaves.reduce((peaks, leaf) => withLeaf(peaks, leaf), noLeaves));

/** Leaves and roots of the trees over the first 1 to 8 of them: public test data for RFC 6962 trees, from memory. */
const leaves = [
  ...['', '00', '10', '2021', '3031', '40414243', '5051525354555657'],
  '606162636465666768696a6b6c6d6e6f',
].map(bytes);
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

/** As RFC 6962, 2.1, words it, with another implementation of SHA-256. */
function byRecursion(all: readonly Uint8Array[]): string {
  const sha = (...parts: readonly Uint8Array[]) => createHash('sha256').update(Buffer.concat(parts)).digest('hex');
  const [first] = all;
  if (!first) return sha();
  if (all.length === 1) return sha(bytes('00'), first);
  let split = 1;
  while (split * 2 < all.length) split *= 2;
  return sha(bytes('01'), bytes(byRecursion(all.slice(0, split))), bytes(byRecursion(all.slice(split))));
}

const numbered = (count: number) => Array.from({ length: count }, (_, i) => Uint8Array.of(i >> 8, i & 255));

it('gives the roots of the public test trees', () => {
  expect(text(rootOf(noLeaves))).toBe('e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855');
  for (const [i, root] of roots.entries()) expect(text(rootOfLeaves(leaves.slice(0, i + 1)))).toBe(root);
});

it('gives the roots that the words of the RFC give, up to 130 leaves', () => {
  for (let size = 0; size <= 130; size++) expect(text(rootOfLeaves(numbered(size)))).toBe(byRecursion(numbered(size)));
});

it('proves each leaf of each tree up to 33 leaves, and no other leaf, place, size or proof', () => {
  for (let size = 1; size <= 33; size++) {
    const all = numbered(size);
    const root = byRecursion(all);
    for (const [index, leaf] of all.entries()) {
      const proof = inclusionProof(all, index) ?? [];
      expect(proof.length).toBeLessThanOrEqual(Math.ceil(Math.log2(size)));
      expect(text(rootByProof({ leaf, index, size, proof }))).toBe(root);
      const wrong = [
        { leaf: Uint8Array.of(9, 9), index, size, proof },
        { leaf, index, size, proof: [...proof, bytes(root)] },
        ...(size > 1 ? [{ leaf, index: (index + 1) % size, size, proof }] : []),
        ...proof.map((_, cut) => ({ leaf, index, size, proof: proof.filter((_, i) => i !== cut) })),
        ...proof.map((_, at) => ({ leaf, index, size, proof: proof.map((h, i) => (i === at ? bytes(root) : h)) })),
      ];
      for (const one of wrong) expect(text(rootByProof(one))).not.toBe(root);
    }
  }
});

it.each([-1, 3, 0.5, Number.NaN])('has no proof for leaf %s of three', (index) => {
  expect(inclusionProof(numbered(3), index)).toBeNull();
  expect(rootByProof({ leaf: Uint8Array.of(0), index, size: 3, proof: [] })).toBeNull();
});
