import { hex } from '../spec/digest.ts';
import { nodeHash, noLeaves, rootOf, withLeaf } from './merkle.ts';
import { type Sha256, sha256 } from './sha256.ts';

// Consistency proofs of RFC 6962, 2.1.2, and their verification as RFC 9162, 2.1.4.2, words it (from memory); consistency.test.ts holds
// them against the definition for all small trees.

const rootOver = (leaves: readonly Uint8Array[], hash: Sha256): Uint8Array =>
  rootOf(
    leaves.reduce((peaks, leaf) => withLeaf(peaks, leaf, hash), noLeaves),
    hash,
  );

/** Greatest power of two below the number of leaves. */
const splitOf = (size: number): number => 2 ** Math.floor(Math.log2(size - 1));

/**
 * What somebody who kept the root of the first `since` leaves needs to see that they are still the first leaves of this tree. Null unless
 * since is a number of leaves from 1 to all.
 */
export function consistencyProof(
  leaves: readonly Uint8Array[],
  since: number,
  hash: Sha256 = sha256,
): readonly Uint8Array[] | null {
  if (!Number.isInteger(since) || since < 1 || since > leaves.length) return null;
  return subproof(leaves, { since, whole: true, hash });
}

interface Part {
  readonly since: number;
  /** Whether the old tree is a whole subtree here, whose root its keeper has. */
  readonly whole: boolean;
  readonly hash: Sha256;
}

function subproof(leaves: readonly Uint8Array[], { since, whole, hash }: Part): readonly Uint8Array[] {
  if (since === leaves.length) return whole ? [] : [rootOver(leaves, hash)];
  const split = splitOf(leaves.length);
  const [left, right] = [leaves.slice(0, split), leaves.slice(split)];
  return since <= split
    ? [...subproof(left, { since, whole, hash }), rootOver(right, hash)]
    : [...subproof(right, { since: since - split, whole: false, hash }), rootOver(left, hash)];
}

/** Two states of one tree. */
export interface Growth {
  /** Leaves and root (hex) then. */
  readonly before: { readonly size: number; readonly root: string };
  /** And now. */
  readonly after: { readonly size: number; readonly root: string };
}

/** True if the proof shows that the tree only grew from one state to the other. Never throws. */
export function growthHolds({ before, after }: Growth, proof: readonly Uint8Array[], hash: Sha256 = sha256): boolean {
  if (before.size < 1 || before.size > after.size) return false;
  if (before.size === after.size) return proof.length === 0 && before.root === after.root;
  let [at, last] = [before.size - 1, after.size - 1];
  while (at % 2 === 1) [at, last] = [(at - 1) / 2, Math.floor(last / 2)];
  // An old tree that is one perfect subtree is where the proof begins: its root is known and not sent.
  const path = at === 0 ? [bytesOf(before.root), ...proof] : proof;
  const [first, ...rest] = path;
  if (!first) return false;
  let [old, now] = [first, first];
  for (const beside of rest) {
    if (last === 0) return false;
    if (at % 2 === 1 || at === last) {
      [old, now] = [nodeHash(beside, old, hash), nodeHash(beside, now, hash)];
      while (at % 2 === 0 && at > 0) [at, last] = [at / 2, Math.floor(last / 2)];
    } else now = nodeHash(now, beside, hash);
    [at, last] = [Math.floor(at / 2), Math.floor(last / 2)];
  }
  return last === 0 && hex(old) === before.root && hex(now) === after.root;
}

const bytesOf = (text: string): Uint8Array =>
  new Uint8Array((text.match(/../g) ?? []).map((pair) => Number.parseInt(pair, 16)));
