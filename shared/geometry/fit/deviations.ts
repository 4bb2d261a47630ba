import { NearestFinder } from '../mesh/nearest.ts';
import { leafNormal } from '../mesh/rayHit.ts';
import type { TriangleTree } from '../mesh/triangleTree.ts';
import { type Motion, movedBy } from '../motion.ts';
import type { Vec3 } from '../vector.ts';
import { dot, subtract } from '../vector.ts';

/** Distances of points from a surface. Lengths in metres. */
export interface SurfaceDeviations {
  /** Of each point in turn: above 0 on the side that the triangle nearest to it faces, below 0 behind it. */
  readonly signed: Float64Array;
  /** The point farthest from the surface, where the motion puts it; null without points. */
  readonly farthest: Vec3 | null;
}

/** How far points lie from a surface where a motion puts them. Exact to the nearest place on the triangles. @param points xyz, metres */
export function deviationsFrom(tree: TriangleTree, points: Float64Array, motion: Motion): SurfaceDeviations {
  const finder = new NearestFinder(tree);
  const count = tree.count === 0 ? 0 : Math.floor(points.length / 3);
  const signed = new Float64Array(count);
  let farthest: Vec3 | null = null;
  let most = -1;
  for (let i = 0; i < count; i++) {
    const p = movedBy(motion, [points[3 * i] ?? 0, points[3 * i + 1] ?? 0, points[3 * i + 2] ?? 0]);
    const distance = Math.sqrt(finder.find(p, Number.POSITIVE_INFINITY));
    const [x = 0, y = 0, z = 0] = finder.place;
    const out = dot(subtract(p, [x, y, z]), leafNormal(tree, finder.leaf));
    signed[i] = out < 0 ? -distance : distance;
    if (distance > most) [most, farthest] = [distance, p];
  }
  return { signed, farthest };
}
