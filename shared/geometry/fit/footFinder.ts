import { NearestFinder, squaredToTriangle } from '../mesh/nearest.ts';
import type { TriangleTree } from '../mesh/triangleTree.ts';
import { type Motion, movedBy } from '../motion.ts';
import type { Vec3 } from '../vector.ts';

/**
 * Names the triangle nearest to each of some points (xyz, metres), as its place in the order of the leaves: where something faster than this module
 * can. Of triangles that are nearly as near as one another it may be any.
 */
export type NearestLeaves = (points: Float64Array) => ArrayLike<number>;

/** Finds the nearest places of a surface to points, one after the other. */
export class FootFinder {
  /** Place in the order of the leaves of the triangle that the last foot is on, and the foot, metres. */
  leaf = -1;
  readonly place = new Float64Array(3);
  private readonly tree: TriangleTree;
  private readonly finder: NearestFinder;
  private readonly nearest: NearestLeaves | undefined;
  private leaves: ArrayLike<number> | undefined;

  constructor(tree: TriangleTree, nearest?: NearestLeaves) {
    this.tree = tree;
    this.finder = new NearestFinder(tree);
    this.nearest = nearest;
  }

  /** Says which points are asked about next. */
  look(points: Float64Array): void {
    this.leaves = this.nearest?.(points);
  }

  /** Square of the distance from the point of this number, which lies there, to its foot, m2. */
  foot(i: number, p: Vec3): number {
    const named = this.leaves?.[i] ?? -1;
    if (named >= 0) {
      this.leaf = named;
      return squaredToTriangle(this.tree.corners, 9 * named, p[0], p[1], p[2], this.place);
    }
    const squared = this.finder.find(p, Number.POSITIVE_INFINITY);
    this.leaf = this.finder.leaf;
    put(this.place, 0, vectorAt(this.finder.place, 0));
    return squared;
  }
}

/** One of a list of vectors. */
export const vectorAt = (list: Float64Array, i: number): Vec3 => [
  list[3 * i] ?? 0,
  list[3 * i + 1] ?? 0,
  list[3 * i + 2] ?? 0,
];

/** Writes one; `set` of a typed array is ten times slower for so few. */
export function put(list: Float64Array, i: number, [x, y, z]: Vec3): void {
  list[3 * i] = x;
  list[3 * i + 1] = y;
  list[3 * i + 2] = z;
}

/** Points where a motion puts them; metres. */
export function movedPoints(motion: Motion, points: Float64Array): Float64Array {
  const moved = new Float64Array(points.length);
  for (let i = 0; 3 * i + 2 < points.length; i++) put(moved, i, movedBy(motion, vectorAt(points, i)));
  return moved;
}
