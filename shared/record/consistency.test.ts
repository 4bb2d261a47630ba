import { expect, it } from 'vitest';
import { hex } from '../spec/digest.ts';
import { consistencyProof, growthHolds } from './consistency.ts';
import { noLeaves, rootOf, withLeaf } from './merkle.ts';

const leaves = Array.from({ length: 33 }, (_, i) => new Uint8Array([i, 7]));
const root = (size: number): string =>
  hex(rootOf(leaves.slice(0, size).reduce((sum, leaf) => withLeaf(sum, leaf), noLeaves)));
const state = (size: number) => ({ size, root: root(size) });

it('shows for every two states of a tree of up to 33 leaves that it only grew, and for no other roots', () => {
  for (let size = 1; size <= leaves.length; size++)
    for (let since = 1; since <= size; since++) {
      const proof = consistencyProof(leaves.slice(0, size), since);
      if (!proof) throw new Error(`${since} of ${size}`);
      const growth = { before: state(since), after: state(size) };
      expect(growthHolds(growth, proof), `${since} of ${size}`).toBe(true);
      const other = 'f'.repeat(64);
      expect(growthHolds({ ...growth, before: { size: since, root: other } }, proof)).toBe(false);
      expect(growthHolds({ ...growth, after: { size, root: other } }, proof)).toBe(false);
      expect(growthHolds(growth, [...proof, new Uint8Array(32)])).toBe(false);
      if (proof.length > 0) expect(growthHolds(growth, proof.slice(1))).toBe(false);
      if (proof.length > 1)
        expect(growthHolds(growth, [...proof].reverse())).toBe(String(proof) === String([...proof].reverse()));
      if (since > 1)
        expect(growthHolds({ ...growth, before: { size: since - 1, root: root(since) } }, proof)).toBe(false);
    }
});

it('has the proofs of the example in RFC 6962, 2.1.3', () => {
  const peaks = (from: number, to: number): string =>
    hex(rootOf(leaves.slice(from, to).reduce((sum, leaf) => withLeaf(sum, leaf), noLeaves)));
  const proof = (since: number): readonly string[] => (consistencyProof(leaves.slice(0, 7), since) ?? []).map(hex);
  // Of seven leaves: to 3 it is [c, d, g, l], to 4 it is [l], to 6 it is [i, j, k].
  expect(proof(3)).toEqual([peaks(2, 3), peaks(3, 4), peaks(0, 2), peaks(4, 7)]);
  expect(proof(4)).toEqual([peaks(4, 7)]);
  expect(proof(6)).toEqual([peaks(4, 6), peaks(6, 7), peaks(0, 4)]);
});

it('shows nothing of states that are none', () => {
  for (const since of [0, -1, 1.5, 34, Number.NaN]) expect(consistencyProof(leaves, since)).toBe(null);
  expect(growthHolds({ before: { size: 0, root: root(1) }, after: state(4) }, [])).toBe(false);
  expect(growthHolds({ before: state(5), after: state(4) }, [])).toBe(false);
});
