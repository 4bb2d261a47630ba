import type { TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import type { CastRays } from '../../../shared/geometry/mesh/wallThickness.ts';
import { isFault } from './clearance.ts';
import { openRays } from './ray-kernel.ts';
import type { Rays } from './rays.ts';

/** Casts the rays of walls, square into a surface, and shrinks their balls; undefined where the kernel can't be had: then one by one. */
export const wallRays = (mesh: TriangleMesh): CastRays => raysBy(mesh, -1);

/** The same for gaps, square out of it. */
export const gapRays = (mesh: TriangleMesh): CastRays => raysBy(mesh, 1);

const raysBy =
  (mesh: TriangleMesh, way: 1 | -1): CastRays =>
  (tree, { places, normals, leaves, count }, limit) => {
    const kernel = openRays(mesh);
    if (!kernel || isFault(kernel)) return undefined;
    const own = Uint32Array.from({ length: count }, (_, i) => tree.order[leaves[i] ?? 0] ?? 0);
    const directions = normals.subarray(0, 3 * count).map((x) => way * x);
    const rays: Rays = { places: places.subarray(0, 3 * count), directions, own };
    const { distances, triangles } = kernel.cast(rays, limit);
    const radii = distances.map((seen) => Math.min(seen, limit) / 2);
    const touches = kernel.shrink(rays, radii);
    const leafOf = new Int32Array(tree.count);
    for (let leaf = 0; leaf < tree.count; leaf++) leafOf[tree.order[leaf] ?? 0] = leaf;
    const leavesOf = (numbers: Int32Array): Int32Array => numbers.map((one) => (one < 0 ? -1 : (leafOf[one] ?? -1)));
    const rest = { before: touches.before, leaves: leavesOf(touches.triangles) };
    return { distances, leaves: leavesOf(triangles), rest };
  };
