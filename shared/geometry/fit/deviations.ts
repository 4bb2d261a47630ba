import { leafNormal } from '../mesh/rayHit.ts';
import type { TriangleTree } from '../mesh/triangleTree.ts';
import type { Motion } from '../motion.ts';
import type { Vec3 } from '../vector.ts';
import { dot, subtract } from '../vector.ts';
import { FootFinder, movedPoints, type NearestLeaves, vectorAt } from './footFinder.ts';

/** Distances of points from a surface. Lengths in metres. */
export interface SurfaceDeviations {
  /** Of each point in turn: above 0 on the side that the triangle nearest to it faces, below 0 behind it. */
  readonly signed: Float64Array;
  /** The point farthest from the surface, where the motion puts it; null without points. */
  readonly farthest: Vec3 | null;
}

/**
 * How far points lie from a surface where a motion puts them. Exact to the nearest place on the triangles, or on those that are named.
 * @param points xyz, metres
 */
export function deviationsFrom(
  tree: TriangleTree,
  points: Float64Array,
  motion: Motion,
  nearest?: NearestLeaves,
): SurfaceDeviations {
  const finder = new FootFinder(tree, nearest);
  const count = tree.count === 0 ? 0 : Math.floor(points.length / 3);
  const signed = new Float64Array(count);
  let farthest: Vec3 | null = null;
  let most = -1;
  const moved = movedPoints(motion, points);
  finder.look(moved);
  for (let i = 0; i < count; i++) {
    const p = vectorAt(moved, i);
    const distance = Math.sqrt(finder.foot(i, p));
    const out = dot(subtract(p, vectorAt(finder.place, 0)), leafNormal(tree, finder.leaf));
    signed[i] = out < 0 ? -distance : distance;
    if (distance > most) [most, farthest] = [distance, p];
  }
  return { signed, farthest };
}
