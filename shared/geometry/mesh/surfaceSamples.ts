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
 * Samples the triangles of a tree at their middles, those with an edge longer than `spacing` (metres) at the middles of parts: got by halving
 * the longest edge, and of what is lower than the spacing by cutting across it; so each point of a triangle is within 0.71 spacings of one. Triangles without area give none. A spacing that is not above zero means as near as there is room for.
 */
export function sampleSurface(tree: TriangleTree, spacing: number): SurfaceSamples {
  const stack = new Float64Array(10 * (DEEPEST_HALVING + 2));
  let edge = Math.max(Number.isNaN(spacing) ? 0 : spacing, leastSpacing(tree));
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
    eachPart(tree, { leaf, edge, most: Number.POSITIVE_INFINITY, stack }, (place, share) => {
      samples.places.set(place, 3 * next);
      samples.normals[3 * next] = x / length;
      samples.normals[3 * next + 1] = y / length;
      samples.normals[3 * next + 2] = z / length;
      samples.areas[next] = (share * length) / 2;
      samples.leaves[next++] = leaf;
    });
  }
  return { ...samples, count: next };
}

/** Any smaller spacing gives more than the most parts: each has at most the squared spacing in area and the spacing in length. */
function leastSpacing(tree: TriangleTree): number {
  let [area, length] = [0, 0];
  for (let leaf = 0; leaf < tree.count; leaf++) {
    const [x, y, z] = leafNormal(tree, leaf);
    area += Math.sqrt(x * x + y * y + z * z) / 2;
    length += Math.sqrt(squaredSide(tree.corners, 9 * leaf, longestSide(tree.corners, 9 * leaf)));
  }
  const most = MOST_PARTS + tree.count;
  return Math.max(Math.sqrt(area / most / 2), length / most / 2);
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

type SeePart = (place: Float64Array, share: number) => void;

/** Calls `see` with the middles of the parts of one triangle and their shares of its area. */
function eachPart(tree: TriangleTree, { leaf, edge, most, stack }: Halving, see: SeePart): void {
  stack.set(tree.corners.subarray(9 * leaf, 9 * leaf + 9));
  stack[9] = 1;
  let parts = 0;
  for (let top = 0; top >= 0 && parts < most; top -= 10) {
    let side = longestSide(stack, top);
    let squared = squaredSide(stack, top, side);
    while (squared > edge * edge && heightOver(stack, top, squared) > edge && top < 10 * DEEPEST_HALVING) {
      halve(stack, top, side);
      top += 10;
      side = longestSide(stack, top);
      squared = squaredSide(stack, top, side);
    }
    parts += cutAcross(
      stack,
      top,
      { side, steps: Math.min(most, Math.max(1, Math.ceil(Math.sqrt(squared) / edge))) },
      see,
    );
  }
}

/** Height of a part over its longest side, whose squared length is given. */
function heightOver(t: Float64Array, o: number, squared: number): number {
  const [ux, uy, uz] = [
    (t[o + 3] ?? 0) - (t[o] ?? 0),
    (t[o + 4] ?? 0) - (t[o + 1] ?? 0),
    (t[o + 5] ?? 0) - (t[o + 2] ?? 0),
  ];
  const [vx, vy, vz] = [
    (t[o + 6] ?? 0) - (t[o] ?? 0),
    (t[o + 7] ?? 0) - (t[o + 1] ?? 0),
    (t[o + 8] ?? 0) - (t[o + 2] ?? 0),
  ];
  const [x, y, z] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
  return Math.sqrt((x * x + y * y + z * z) / squared);
}

const place = new Float64Array(3);

/** Cuts a part square to its longest side into strips of one length; one strip is the part itself. Gives their number. */
function cutAcross(
  t: Float64Array,
  o: number,
  { side, steps }: { readonly side: number; readonly steps: number },
  see: SeePart,
): number {
  const share = t[o + 9] ?? 0;
  const [a, b, c] = [o + 3 * side, o + 3 * ((side + 1) % 3), o + 3 * ((side + 2) % 3)];
  if (steps === 1) {
    for (let k = 0; k < 3; k++) place[k] = ((t[a + k] ?? 0) + (t[b + k] ?? 0) + (t[c + k] ?? 0)) / 3;
    see(place, share);
    return 1;
  }
  let [along, squared] = [0, 0];
  for (let k = 0; k < 3; k++) {
    const base = (t[b + k] ?? 0) - (t[a + k] ?? 0);
    along += base * ((t[c + k] ?? 0) - (t[a + k] ?? 0));
    squared += base * base;
  }
  const foot = Math.min(1, Math.max(0, along / squared));
  for (let i = 0; i < steps; i++) {
    const x = (i + 0.5) / steps;
    const half = (x < foot ? x / foot : (1 - x) / (1 - foot)) / 2;
    for (let k = 0; k < 3; k++) {
      const [from, to] = [t[a + k] ?? 0, t[b + k] ?? 0];
      place[k] = from + x * (to - from) + half * ((t[c + k] ?? 0) - from - foot * (to - from));
    }
    see(place, share * (upTo((i + 1) / steps, foot) - upTo(i / steps, foot)));
  }
  return steps;
}

/** Share of a triangle's area before a cut across its longest side, from the places of cut and apex along it. */
const upTo = (cut: number, foot: number): number =>
  cut <= foot ? (foot > 0 ? (cut * cut) / foot : 0) : 1 - ((1 - cut) * (1 - cut)) / (1 - foot);

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
