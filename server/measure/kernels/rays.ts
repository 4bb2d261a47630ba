import { type TriangleMesh, triangleCount } from '../../../shared/geometry/mesh/triangleMesh.ts';

/** Rays one after the other; neighbours should come together. Places and unit directions xyz, metres; the triangle each starts on. */
export interface Rays {
  readonly places: Float64Array;
  readonly directions: Float64Array;
  /** Number of the triangle in the mesh, which the ray looks through. */
  readonly own: Uint32Array;
}

/** What rays meet first: distance in metres, single precision (infinite for nothing), and number of the triangle (-1 for none). */
export interface RayHits {
  readonly distances: Float32Array;
  readonly triangles: Int32Array;
}

/**
 * Where balls came to rest: the radius in metres, single precision, from which each shrank for the last time, and number of the triangle that it
 * touched then. Not a number and -1 for one that was free from the first. The radius it came to follows from both, in double precision.
 */
export interface BallTouches {
  readonly before: Float32Array;
  readonly triangles: Int32Array;
}

/** Rays of a wall, from the middle of each triangle square into it, in the order of the mesh; what is without area has a direction of zeros. */
export function inwardRays(mesh: TriangleMesh): Rays {
  const count = triangleCount(mesh);
  const places = new Float64Array(3 * count);
  const directions = new Float64Array(3 * count);
  const at = (corner: number, k: number): number => mesh.positions[3 * (mesh.indices[corner] ?? 0) + k] ?? 0;
  for (let t = 0; t < count; t++) {
    const [u, w] = [new Float64Array(3), new Float64Array(3)];
    for (let k = 0; k < 3; k++) {
      const a = at(3 * t, k);
      u[k] = at(3 * t + 1, k) - a;
      w[k] = at(3 * t + 2, k) - a;
      places[3 * t + k] = a + ((u[k] ?? 0) + (w[k] ?? 0)) / 3;
    }
    const [ux = 0, uy = 0, uz = 0] = u;
    const [wx = 0, wy = 0, wz = 0] = w;
    const normal = [uy * wz - uz * wy, uz * wx - ux * wz, ux * wy - uy * wx];
    const length = Math.hypot(...normal);
    for (let k = 0; k < 3; k++) directions[3 * t + k] = length > 0 ? -(normal[k] ?? 0) / length : 0;
  }
  return { places, directions, own: Uint32Array.from({ length: count }, (_, t) => t) };
}
