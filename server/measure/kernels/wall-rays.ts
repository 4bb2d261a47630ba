import type { SurfaceSamples } from '../../../shared/geometry/mesh/surfaceSamples.ts';
import type { TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import type { TriangleTree } from '../../../shared/geometry/mesh/triangleTree.ts';
import type { RaysMet } from '../../../shared/geometry/mesh/wallThickness.ts';
import { isFault } from './clearance.ts';
import { openRays } from './ray-kernel.ts';

/** Casts the rays of a wall measurement by the kernel; undefined where it can't be had: then they are cast one by one. */
export const wallRays =
  (mesh: TriangleMesh) =>
  (tree: TriangleTree, { places, normals, leaves, count }: SurfaceSamples, limit: number): RaysMet | undefined => {
    const kernel = openRays(mesh);
    if (!kernel || isFault(kernel)) return undefined;
    const own = Uint32Array.from({ length: count }, (_, i) => tree.order[leaves[i] ?? 0] ?? 0);
    const directions = normals.subarray(0, 3 * count).map((x) => -x);
    const { distances, triangles } = kernel.cast({ places: places.subarray(0, 3 * count), directions, own }, limit);
    const leafOf = new Int32Array(tree.count);
    for (let leaf = 0; leaf < tree.count; leaf++) leafOf[tree.order[leaf] ?? 0] = leaf;
    return { distances, leaves: triangles.map((triangle) => (triangle < 0 ? -1 : (leafOf[triangle] ?? -1))) };
  };
