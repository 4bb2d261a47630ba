import { type Sha256, sha256 } from './sha256.ts';

// Merkle tree hash of RFC 6962, 2.1 (same as RFC 9162, 2.1.1), from memory; the vectors in merkle.test.ts pin it.

/** Peaks of the tree over some leaves: the root hash of each perfect subtree, one for each binary digit 1 of `size`. */
export interface Peaks {
  /** Number of leaves. */
  readonly size: number;
  /** The narrowest; null without leaves. */
  readonly last: Peak | null;
}

/** Root hash of a perfect subtree, 32 bytes, and the next wider one. A chain, so that a leaf more copies nothing. */
interface Peak {
  readonly hash: Uint8Array;
  readonly wider: Peak | null;
}

/** No leaves yet. */
export const noLeaves: Peaks = { size: 0, last: null };

/** Prefixes that keep a leaf from passing for a node (RFC 6962, 2.1). */
const LEAF = 0;
const NODE = 1;

const leafHash = (leaf: Uint8Array, hash: Sha256): Uint8Array => {
  const bytes = new Uint8Array(1 + leaf.length);
  bytes[0] = LEAF;
  bytes.set(leaf, 1);
  return hash.ofBytes(bytes);
};

/** Hash of a node over two hashes. */
export const nodeHash = (left: Uint8Array, right: Uint8Array, hash: Sha256): Uint8Array => {
  const bytes = new Uint8Array(1 + left.length + right.length);
  bytes[0] = NODE;
  bytes.set(left, 1);
  bytes.set(right, 1 + left.length);
  return hash.ofBytes(bytes);
};

/** The same with one leaf more, given as its bytes. */
export function withLeaf({ size, last }: Peaks, leaf: Uint8Array, hash: Sha256 = sha256): Peaks {
  let whole = leafHash(leaf, hash);
  let wider = last;
  for (let rest = size; rest % 2 === 1 && wider; rest = (rest - 1) / 2) {
    whole = nodeHash(wider.hash, whole, hash);
    wider = wider.wider;
  }
  return { size: size + 1, last: { hash: whole, wider } };
}

/** Root hash, 32 bytes; that of no leaves is the SHA-256 of nothing. */
export function rootOf({ last }: Peaks, hash: Sha256 = sha256): Uint8Array {
  if (!last) return sha256.ofBytes(new Uint8Array());
  let root = last.hash;
  for (let { wider } = last; wider; wider = wider.wider) root = nodeHash(wider.hash, root, hash);
  return root;
}

const rootOfAll = (leaves: readonly Uint8Array[]): Uint8Array =>
  rootOf(leaves.reduce((peaks, leaf) => withLeaf(peaks, leaf), noLeaves));

/**
 * What somebody needs besides a leaf and the root to see that the leaf is in the tree: the hashes beside its way up, lowest
 * first (RFC 6962, 2.1.1). `index` counts from 0; null when there is no such leaf.
 */
export function inclusionProof(leaves: readonly Uint8Array[], index: number): readonly Uint8Array[] | null {
  if (!Number.isInteger(index) || index < 0 || index >= leaves.length) return null;
  if (leaves.length === 1) return [];
  const split = 2 ** Math.floor(Math.log2(leaves.length - 1));
  const [left, right] = [leaves.slice(0, split), leaves.slice(split)];
  return index < split
    ? [...(inclusionProof(left, index) ?? []), rootOfAll(right)]
    : [...(inclusionProof(right, index - split) ?? []), rootOfAll(left)];
}

/** A leaf, where it is said to stand, and the proof of it. */
export interface Inclusion {
  readonly leaf: Uint8Array;
  /** From 0. */
  readonly index: number;
  /** Leaves in the tree. */
  readonly size: number;
  readonly proof: readonly Uint8Array[];
}

/** The root that a proof leads to, 32 bytes; null when it is too long or too short for that place (RFC 9162, 2.1.3.2). */
export function rootByProof({ leaf, index, size, proof }: Inclusion): Uint8Array | null {
  if (!Number.isInteger(index) || index < 0 || index >= size) return null;
  let [at, last] = [index, size - 1];
  let hash = leafHash(leaf, sha256);
  for (const beside of proof) {
    if (last === 0) return null;
    if (at % 2 === 1 || at === last) {
      hash = nodeHash(beside, hash, sha256);
      while (at % 2 === 0 && at > 0) [at, last] = [at / 2, Math.floor(last / 2)];
    } else hash = nodeHash(hash, beside, sha256);
    [at, last] = [Math.floor(at / 2), Math.floor(last / 2)];
  }
  return last === 0 ? hash : null;
}
