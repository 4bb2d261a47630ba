import { squaredToTriangle } from './nearest.ts';
import type { TriangleTree } from './triangleTree.ts';
import { DEEPEST } from './triangleTree.ts';

/** Two places nearest to each other, metres: squared distance, then the places on the first and on the second. */
export interface NearestPair {
  squared: number;
  readonly a: Float64Array;
  readonly b: Float64Array;
}

/** A pair that anything nearer than a limit (squared, m2) replaces. */
export const noPairWithin = (squared: number): NearestPair => ({
  squared,
  a: new Float64Array(3),
  b: new Float64Array(3),
});

const place = new Float64Array(3);

/**
 * Brings a pair up to date with two triangles (nine coordinates each at offsets) that do not cross: their nearest places are a corner and a
 * face or two edges. True when they are nearer than what the pair held.
 */
export function nearerTriangles(p: Float64Array, s: number, q: Float64Array, t: number, best: NearestPair): boolean {
  let nearer = false;
  for (let k = 0; k < 9; k += 3) {
    const [x, y, z] = [p[s + k] ?? 0, p[s + k + 1] ?? 0, p[s + k + 2] ?? 0];
    nearer = keep(best, squaredToTriangle(q, t, x, y, z, place), p.subarray(s + k, s + k + 3), place) || nearer;
    const [u, v, w] = [q[t + k] ?? 0, q[t + k + 1] ?? 0, q[t + k + 2] ?? 0];
    nearer = keep(best, squaredToTriangle(p, s, u, v, w, place), place, q.subarray(t + k, t + k + 3)) || nearer;
  }
  for (let i = 0; i < 9; i += 3) {
    for (let j = 0; j < 9; j += 3) {
      const first = { p, from: s + i, to: s + ((i + 3) % 9) };
      nearer = nearerEdges(first, { p: q, from: t + j, to: t + ((j + 3) % 9) }, best) || nearer;
    }
  }
  return nearer;
}

function keep(best: NearestPair, squared: number, a: Float64Array, b: Float64Array): boolean {
  if (squared >= best.squared) return false;
  best.squared = squared;
  best.a.set(a);
  best.b.set(b);
  return true;
}

interface Edge {
  readonly p: Float64Array;
  readonly from: number;
  readonly to: number;
}

/** Inner place of two edges only: their ends are corners, which have been looked at. */
function nearerEdges(e: Edge, f: Edge, best: NearestPair): boolean {
  const sums = { a: 0, b: 0, c: 0, d: 0, e: 0 };
  for (let k = 0; k < 3; k++) {
    const u = (e.p[e.to + k] ?? 0) - (e.p[e.from + k] ?? 0);
    const v = (f.p[f.to + k] ?? 0) - (f.p[f.from + k] ?? 0);
    const w = (e.p[e.from + k] ?? 0) - (f.p[f.from + k] ?? 0);
    sums.a += u * u;
    sums.b += u * v;
    sums.c += v * v;
    sums.d += u * w;
    sums.e += v * w;
  }
  const across = sums.a * sums.c - sums.b * sums.b;
  if (!(across > 1e-14 * sums.a * sums.c)) return false;
  const [s, t] = [(sums.b * sums.e - sums.c * sums.d) / across, (sums.a * sums.e - sums.b * sums.d) / across];
  if (!(s > 0 && s < 1 && t > 0 && t < 1)) return false;
  const at = (edge: Edge, x: number): Float64Array =>
    Float64Array.from([0, 1, 2], (k) => (edge.p[edge.from + k] ?? 0) * (1 - x) + (edge.p[edge.to + k] ?? 0) * x);
  const [x, y] = [at(e, s), at(f, t)];
  const squared = [0, 1, 2].reduce((sum, k) => sum + ((x[k] ?? 0) - (y[k] ?? 0)) ** 2, 0);
  return keep(best, squared, x, y);
}

/** Brings a pair up to date with all triangles of two trees that do not cross each other. Exact: branch and bound over pairs of nodes. */
export function nearerTrees(s: TriangleTree, t: TriangleTree, best: NearestPair): void {
  if (s.count === 0 || t.count === 0) return;
  const stack = new Int32Array(16 * DEEPEST);
  let top = 2;
  while (top > 0) {
    const b = stack[--top] ?? 0;
    const a = stack[--top] ?? 0;
    if (squaredBetween(s.boxes, 6 * a, t.boxes, 6 * b) >= best.squared) continue;
    const [heldA, heldB] = [s.held[a] ?? 0, t.held[b] ?? 0];
    if (heldA > 0 && heldB > 0) {
      nearerLeaves({ s, a, t, b }, best);
      continue;
    }
    const openB = heldA > 0 || (heldB === 0 && widest(t.boxes, 6 * b) > widest(s.boxes, 6 * a));
    const left = (openB ? t.start[b] : s.start[a]) ?? 0;
    const pairs = openB ? [a, left, a, left + 1] : [left, b, left + 1, b];
    const [a0 = 0, b0 = 0, a1 = 0, b1 = 0] = pairs;
    // The nearer pair goes on top, so that the bound falls early.
    const firstNearer =
      squaredBetween(s.boxes, 6 * a0, t.boxes, 6 * b0) <= squaredBetween(s.boxes, 6 * a1, t.boxes, 6 * b1);
    stack.set(firstNearer ? [a1, b1, a0, b0] : pairs, top);
    top += 4;
  }
}

function nearerLeaves(
  { s, a, t, b }: { readonly s: TriangleTree; readonly a: number; readonly t: TriangleTree; readonly b: number },
  best: NearestPair,
): void {
  const [firstA, firstB] = [s.start[a] ?? 0, t.start[b] ?? 0];
  for (let i = firstA; i < firstA + (s.held[a] ?? 0); i++) {
    for (let j = firstB; j < firstB + (t.held[b] ?? 0); j++) nearerTriangles(s.corners, 9 * i, t.corners, 9 * j, best);
  }
}

/** Square of the distance between two boxes at offsets, m2. */
export function squaredBetween(p: Float64Array, a: number, q: Float64Array, b: number): number {
  let squared = 0;
  for (let k = 0; k < 3; k++) {
    const gap = Math.max(0, (p[a + k] ?? 0) - (q[b + 3 + k] ?? 0), (q[b + k] ?? 0) - (p[a + 3 + k] ?? 0));
    squared += gap * gap;
  }
  return squared;
}

const widest = (boxes: Float64Array, o: number): number =>
  Math.max(
    (boxes[o + 3] ?? 0) - (boxes[o] ?? 0),
    (boxes[o + 4] ?? 0) - (boxes[o + 1] ?? 0),
    (boxes[o + 5] ?? 0) - (boxes[o + 2] ?? 0),
  );
