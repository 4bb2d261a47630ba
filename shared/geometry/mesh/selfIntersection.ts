import { degenerateFaces } from './faces.ts';
import { fanParted } from './sureParting.ts';
import { foldedOver, segmentMeets, trianglesMeet } from './triangleCrossing.ts';
import type { TriangleMesh } from './triangleMesh.ts';
import type { TriangleTree } from './triangleTree.ts';
import { DEEPEST, triangleTree } from './triangleTree.ts';

/** Pairs of triangles that cross or overlap. */
export interface CrossingPairs {
  /** Triangle numbers in pairs, the lower first in each; at most `maxPairs` pairs. */
  readonly pairs: Uint32Array;
  /** False when the search was stopped at a limit. */
  readonly complete: boolean;
  /** Exact tests done. */
  readonly tests: number;
}

/** Limits of the search. Own: far above any part worth repairing, low enough to end in seconds on a hostile one. */
export const CROSSING_LIMITS = { maxPairs: 1_000_000, maxTests: 200_000_000 } as const;

/**
 * All pairs of triangles that have more in common than the corners and edges they share by vertex number. Exact.
 * Triangles without area are passed over; they are counted elsewhere. Two on the same three vertices are a pair.
 * @param mesh welded: corners count as shared only when their vertex numbers are equal
 */
export function crossingPairs(
  mesh: TriangleMesh,
  limits: { readonly maxPairs?: number; readonly maxTests?: number } = {},
  tree: TriangleTree = triangleTree(mesh),
): CrossingPairs {
  const search: Search = {
    mesh,
    tree,
    flat: degenerateFaces(mesh),
    boxes: leafBoxes(tree),
    found: [],
    tests: 0,
    room: limits.maxPairs ?? CROSSING_LIMITS.maxPairs,
    testsLeft: limits.maxTests ?? CROSSING_LIMITS.maxTests,
  };
  const complete = mesh.indices.length === 0 || walk(search);
  return { pairs: Uint32Array.from(search.found), complete, tests: search.tests };
}

interface Search {
  readonly mesh: TriangleMesh;
  readonly tree: TriangleTree;
  /** Triangles without area. */
  readonly flat: Uint8Array;
  /** Box of each triangle in leaf order. */
  readonly boxes: Float64Array;
  readonly found: number[];
  tests: number;
  room: number;
  testsLeft: number;
}

function leafBoxes({ count, corners }: TriangleTree): Float64Array {
  const boxes = new Float64Array(6 * count);
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < 3; k++) {
      const a = corners[9 * i + k] ?? 0;
      const b = corners[9 * i + 3 + k] ?? 0;
      const c = corners[9 * i + 6 + k] ?? 0;
      boxes[6 * i + k] = Math.min(a, b, c);
      boxes[6 * i + 3 + k] = Math.max(a, b, c);
    }
  }
  return boxes;
}

/** Two boxes at offsets have a point in common. */
function overlap(boxes: Float64Array, a: number, b: number): boolean {
  return (
    (boxes[a] ?? 0) <= (boxes[b + 3] ?? 0) &&
    (boxes[b] ?? 0) <= (boxes[a + 3] ?? 0) &&
    (boxes[a + 1] ?? 0) <= (boxes[b + 4] ?? 0) &&
    (boxes[b + 1] ?? 0) <= (boxes[a + 4] ?? 0) &&
    (boxes[a + 2] ?? 0) <= (boxes[b + 5] ?? 0) &&
    (boxes[b + 2] ?? 0) <= (boxes[a + 5] ?? 0)
  );
}

/** Walks all pairs of nodes whose boxes overlap; false when a limit stopped it. */
function walk(search: Search): boolean {
  const { tree } = search;
  // A pair opens into at most three, so the stack is never deeper than three times both depths.
  const stack = new Int32Array(16 * DEEPEST);
  let top = 2;
  while (top > 0) {
    const b = stack[--top] ?? 0;
    const a = stack[--top] ?? 0;
    if ((tree.held[a] ?? 0) > 0 && (tree.held[b] ?? 0) > 0) {
      if (!testLeaves(search, a, b)) return false;
      continue;
    }
    top = a === b ? openSame(tree, a, stack, top) : openPair(tree, [a, b], stack, top);
  }
  return true;
}

function openSame({ start, boxes }: TriangleTree, node: number, stack: Int32Array, top: number): number {
  const left = start[node] ?? 0;
  stack[top] = stack[top + 1] = left;
  stack[top + 2] = stack[top + 3] = left + 1;
  if (!overlap(boxes, 6 * left, 6 * left + 6)) return top + 4;
  stack[top + 4] = left;
  stack[top + 5] = left + 1;
  return top + 6;
}

/** Opens the larger of two nodes. */
function openPair(tree: TriangleTree, pair: readonly [number, number], stack: Int32Array, top: number): number {
  const { start, held, boxes } = tree;
  const a = pair[0];
  const b = pair[1];
  const openB = (held[a] ?? 0) > 0 || ((held[b] ?? 0) === 0 && girth(boxes, 6 * b) > girth(boxes, 6 * a));
  const opened = openB ? b : a;
  const kept = openB ? a : b;
  const left = start[opened] ?? 0;
  let next = top;
  for (let child = left; child <= left + 1; child++) {
    if (!overlap(boxes, 6 * child, 6 * kept)) continue;
    stack[next++] = child;
    stack[next++] = kept;
  }
  return next;
}

const girth = (boxes: Float64Array, o: number): number =>
  (boxes[o + 3] ?? 0) -
  (boxes[o] ?? 0) +
  (boxes[o + 4] ?? 0) -
  (boxes[o + 1] ?? 0) +
  (boxes[o + 5] ?? 0) -
  (boxes[o + 2] ?? 0);

function testLeaves(search: Search, a: number, b: number): boolean {
  const { tree, boxes } = search;
  const firstA = tree.start[a] ?? 0;
  const firstB = tree.start[b] ?? 0;
  const endA = firstA + (tree.held[a] ?? 0);
  const endB = firstB + (tree.held[b] ?? 0);
  for (let i = firstA; i < endA; i++) {
    for (let j = a === b ? i + 1 : firstB; j < endB; j++) {
      if (!overlap(boxes, 6 * i, 6 * j)) continue;
      const s = tree.order[i] ?? 0;
      const t = tree.order[j] ?? 0;
      if (search.flat[s] || search.flat[t]) continue;
      search.tests++;
      if (meet(search.mesh, 3 * s, 3 * t)) {
        if (search.room-- <= 0) return false;
        search.found.push(Math.min(s, t), Math.max(s, t));
      }
    }
  }
  return search.tests <= search.testsLeft;
}

/** Tests two triangles given by the offsets of their vertex numbers. */
function meet({ positions, indices }: TriangleMesh, s: number, t: number): boolean {
  const a = indices[s] ?? 0;
  const b = indices[s + 1] ?? 0;
  const c = indices[s + 2] ?? 0;
  const d = indices[t] ?? 0;
  const e = indices[t + 1] ?? 0;
  const f = indices[t + 2] ?? 0;
  const sharedA = a === d || a === e || a === f;
  const sharedB = b === d || b === e || b === f;
  const sharedC = c === d || c === e || c === f;
  const shared = (sharedA ? 1 : 0) + (sharedB ? 1 : 0) + (sharedC ? 1 : 0);
  if (shared === 0) return trianglesMeet(positions, [3 * a, 3 * b, 3 * c], [3 * d, 3 * e, 3 * f]);
  if (shared === 3) return true;
  if (shared === 2) {
    const x = !sharedA ? a : !sharedB ? b : c;
    const g = !sharedA ? b : !sharedB ? c : a;
    const h = !sharedA ? c : !sharedB ? a : b;
    const y = !isOneOf(d, a, b, c) ? d : !isOneOf(e, a, b, c) ? e : f;
    return foldedOver(positions, [3 * g, 3 * h], 3 * x, 3 * y);
  }
  // One corner in common: they have more than that in common only where the opposite side of one meets the other.
  fan[0] = 3 * (sharedA ? a : sharedB ? b : c);
  fan[1] = 3 * (sharedA ? b : sharedB ? c : a);
  fan[2] = 3 * (sharedA ? c : sharedB ? a : b);
  const sharedD = isOneOf(d, a, b, c);
  const sharedE = isOneOf(e, a, b, c);
  fan[3] = 3 * (sharedD ? e : sharedE ? f : d);
  fan[4] = 3 * (sharedD ? f : sharedE ? d : e);
  return (
    !fanParted(positions, fan) &&
    (segmentMeets(positions, fan[1], fan[2], [3 * d, 3 * e, 3 * f]) ||
      segmentMeets(positions, fan[3], fan[4], [3 * a, 3 * b, 3 * c]))
  );
}

/** Used again for every pair: millions of short lists would keep the collector busy. */
const fan = new Int32Array(5);

const isOneOf = (v: number, a: number, b: number, c: number): boolean => v === a || v === b || v === c;
