import { meshFrom, type TriangleMesh } from '../../shared/geometry/mesh/triangleMesh.ts';
import type { Vec3 } from '../../shared/geometry/vector.ts';

const FACES = [
  ...[0, 2, 1, 1, 2, 3, 4, 5, 6, 5, 7, 6],
  ...[0, 1, 4, 1, 5, 4, 2, 6, 3, 3, 6, 7],
  ...[0, 4, 2, 2, 4, 6, 1, 3, 5, 3, 7, 5],
];

/** A closed box between two corners, twelve triangles that look outwards; metres. */
export function boxMesh([x0, y0, z0]: Vec3, [x1, y1, z1]: Vec3): TriangleMesh {
  const corner = (i: number): Vec3 => [i & 1 ? x1 : x0, i & 2 ? y1 : y0, i & 4 ? z1 : z0];
  return meshFrom([0, 1, 2, 3, 4, 5, 6, 7].flatMap(corner), FACES);
}
