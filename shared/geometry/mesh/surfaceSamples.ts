import { leafNormal } from './rayHit.ts';
import type { TriangleTree } from './triangleTree.ts';

/** Places on a surface: each stands for the part of a triangle around it. In the order of the leaves of a tree, so neighbours come together. */
export interface SurfaceSamples {
  readonly count: number;
  /** xyz, metres. */
  readonly places: Float64Array;
  /** Outward unit normals, xyz. */
  readonly normals: Float64Array;
  /** m2. */
  readonly areas: Float64Array;
  /** Triangle, as its place in the order of the leaves. */
  readonly leaves: Uint32Array;
}

/** Most parts of triangles that halving may give (own: 130 MB); where more would come, places stand wider apart. */
const MOST_PARTS = 1_000_000;

/**
 * Samples the triangles of a tree at their middles, those with an edge longer than `spacing` (metres) at the middles of parts got by
 * halving the longest edge. Triangles without area give none. A spacing that is not above zero means as near as there is room for.
 */
export function sampleSurface(tree: TriangleTree, spacing: number): SurfaceSamples {
  const stack = new Float64Array(10 * (DEEPEST_HALVING + 2));
  let edge = Math.max(spacing > 0 ? spacing : 0, leastSpacing(tree));
  let parts = countParts(tree, edge, stack);
  for (; parts > MOST_PARTS + tree.count; parts = countParts(tree, edge, stack)) edge *= 1.5;
  const samples = {
    places: new Float64Array(3 * parts),
    normals: new Float64Array(3 * parts),
    areas: new Float64Array(parts),
    leaves: new Uint32Array(parts),
  };
  let next = 0;
  for (let leaf = 0; leaf < tree.count; leaf++) {
    const [x, y, z] = leafNormal(tree, leaf);
    const length = Math.sqrt(x * x + y * y + z * z);
    if (!(length > 0)) continue;
    eachPart(tree, { leaf, edge, most: Number.POSITIVE_INFINITY, stack }, (t, o, share) => {
      for (let k = 0; k < 3; k++) {
        samples.places[3 * next + k] = ((t[o + k] ?? 0) + (t[o + 3 + k] ?? 0) + (t[o + 6 + k] ?? 0)) / 3;
      }
      samples.normals[3 * next] = x / length;
      samples.normals[3 * next + 1] = y / length;
      samples.normals[3 * next + 2] = z / length;
      samples.areas[next] = (share * length) / 2;
      samples.leaves[next++] = leaf;
    });
  }
  return { ...samples, count: next };
}

/** Any smaller spacing gives more than the most parts: each part has at most 0.433 of its squared longest edge in area. */
function leastSpacing(tree: TriangleTree): number {
  let [area, length] = [0, 0];
  for (let leaf = 0; leaf < tree.count; leaf++) {
    const [x, y, z] = leafNormal(tree, leaf);
    area += Math.sqrt(x * x + y * y + z * z) / 2;
    length += Math.sqrt(squaredSide(tree.corners, 9 * leaf, longestSide(tree.corners, 9 * leaf)));
  }
  const most = MOST_PARTS + tree.count;
  return Math.max(Math.sqrt(area / 0.4331 / most), length / most / 2);
}

function countParts(tree: TriangleTree, edge: number, stack: Float64Array): number {
  let parts = 0;
  const count = (): void => {
    parts++;
  };
  for (let leaf = 0; leaf < tree.count; leaf++) {
    // Past the limit the count itself is of no interest, and could take for ever.
    if (parts > MOST_PARTS + tree.count) break;
    eachPart(tree, { leaf, edge, most: MOST_PARTS, stack }, count);
  }
  return parts;
}

/** Deepest halving: an edge 2^30 times the spacing. */
const DEEPEST_HALVING = 62;

interface Halving {
  readonly leaf: number;
  readonly edge: number;
  readonly most: number;
  /** Room for the parts that wait, used again for every triangle. */
  readonly stack: Float64Array;
}

/** Calls `see` with the parts of one triangle: nine numbers at an offset, and the share of its area. */
function eachPart(
  tree: TriangleTree,
  { leaf, edge, most, stack }: Halving,
  see: (t: Float64Array, o: number, share: number) => void,
): void {
  stack.set(tree.corners.subarray(9 * leaf, 9 * leaf + 9));
  stack[9] = 1;
  const longest = edge * edge;
  let parts = 0;
  for (let top = 0; top >= 0 && parts < most; ) {
    const side = longestSide(stack, top);
    if (squaredSide(stack, top, side) > longest && top < 10 * DEEPEST_HALVING) {
      halve(stack, top, side);
      top += 10;
      continue;
    }
    parts++;
    see(stack, top, stack[top + 9] ?? 0);
    top -= 10;
  }
}

function squaredSide(t: Float64Array, o: number, side: number): number {
  const [a, b] = [o + 3 * side, o + (side === 2 ? 0 : 3 * side + 3)];
  const x = (t[a] ?? 0) - (t[b] ?? 0);
  const y = (t[a + 1] ?? 0) - (t[b + 1] ?? 0);
  const z = (t[a + 2] ?? 0) - (t[b + 2] ?? 0);
  return x * x + y * y + z * z;
}

function longestSide(t: Float64Array, o: number): 0 | 1 | 2 {
  const [first, second, third] = [squaredSide(t, o, 0), squaredSide(t, o, 1), squaredSide(t, o, 2)];
  if (first >= second && first >= third) return 0;
  return second >= third ? 1 : 2;
}

/** Puts the two halves of a part in its place and after it. */
function halve(t: Float64Array, o: number, side: number): void {
  const [a, b] = [o + 3 * side, o + (side === 2 ? 0 : 3 * side + 3)];
  t.copyWithin(o + 10, o, o + 9);
  for (let k = 0; k < 3; k++) {
    const middle = ((t[a + k] ?? 0) + (t[b + k] ?? 0)) / 2;
    t[a + 10 + k] = middle;
    t[b + k] = middle;
  }
  const share = (t[o + 9] ?? 0) / 2;
  t[o + 9] = share;
  t[o + 19] = share;
}
