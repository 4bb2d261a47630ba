import type { Vec3 } from '../vector.ts';
import type { TriangleMesh } from './triangleMesh.ts';
import { boxOf } from './triangleMesh.ts';

/** Volume and what goes with it, for density 1 kg/m3. */
export interface MassProperties {
  /** m3; negative when the mesh is inside out, of no meaning when it is open. */
  readonly volume: number;
  /** m2. */
  readonly area: number;
  /** Centre of mass, metres; the middle of the box when there is no volume. */
  readonly centroid: Vec3;
  /** Moments about the centroid: xx, yy, zz, then the products of inertia -xy, -yz, -zx; m5 (times density gives kg m2). */
  readonly inertia: readonly [number, number, number, number, number, number];
}

/**
 * Volume, area, centre of mass and inertia of a closed, oriented mesh: exact sums over tetrahedra (closed form), taken about the middle of
 * the box so that a part far from the origin loses no digits. Source: the divergence theorem; own arithmetic.
 */
export function massProperties(mesh: TriangleMesh): MassProperties {
  const box = boxOf(mesh);
  if (!box) return { volume: 0, area: 0, centroid: [0, 0, 0], inertia: [0, 0, 0, 0, 0, 0] };
  const [lo, hi] = [box.least, box.greatest];
  const origin: Vec3 = [(lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2, (lo[2] + hi[2]) / 2];
  const sums = new Float64Array(11);
  for (let o = 0; o < mesh.indices.length; o += 3) addTetrahedron(mesh, o, origin, sums);
  const [six = 0, double = 0, mx = 0, my = 0, mz = 0, ...second] = sums;
  const volume = six / 6;
  if (volume === 0) return { volume, area: double / 2, centroid: origin, inertia: [0, 0, 0, 0, 0, 0] };
  const c: Vec3 = [mx / 24 / volume, my / 24 / volume, mz / 24 / volume];
  const [xx = 0, yy = 0, zz = 0, xy = 0, yz = 0, zx = 0] = second.map((sum) => sum / 120);
  return {
    volume,
    area: double / 2,
    centroid: [c[0] + origin[0], c[1] + origin[1], c[2] + origin[2]],
    inertia: [
      yy + zz - volume * (c[1] * c[1] + c[2] * c[2]),
      xx + zz - volume * (c[0] * c[0] + c[2] * c[2]),
      xx + yy - volume * (c[0] * c[0] + c[1] * c[1]),
      -(xy - volume * c[0] * c[1]),
      -(yz - volume * c[1] * c[2]),
      -(zx - volume * c[2] * c[0]),
    ],
  };
}

/** Adds the tetrahedron from the origin to a triangle: 6 V, 2 A, 24 first moments, 120 second moments. */
function addTetrahedron({ positions, indices }: TriangleMesh, o: number, origin: Vec3, s: Float64Array): void {
  const [a, b, c] = [3 * (indices[o] ?? 0), 3 * (indices[o + 1] ?? 0), 3 * (indices[o + 2] ?? 0)];
  const [x0, y0, z0] = origin;
  const [ax, ay, az] = [(positions[a] ?? 0) - x0, (positions[a + 1] ?? 0) - y0, (positions[a + 2] ?? 0) - z0];
  const [bx, by, bz] = [(positions[b] ?? 0) - x0, (positions[b + 1] ?? 0) - y0, (positions[b + 2] ?? 0) - z0];
  const [cx, cy, cz] = [(positions[c] ?? 0) - x0, (positions[c + 1] ?? 0) - y0, (positions[c + 2] ?? 0) - z0];
  const [ux, uy, uz, vx, vy, vz] = [bx - ax, by - ay, bz - az, cx - ax, cy - ay, cz - az];
  const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
  const six = ax * nx + ay * ny + az * nz;
  const [sx, sy, sz] = [ax + bx + cx, ay + by + cy, az + bz + cz];
  s[0] = (s[0] ?? 0) + six;
  s[1] = (s[1] ?? 0) + Math.sqrt(nx * nx + ny * ny + nz * nz);
  s[2] = (s[2] ?? 0) + six * sx;
  s[3] = (s[3] ?? 0) + six * sy;
  s[4] = (s[4] ?? 0) + six * sz;
  s[5] = (s[5] ?? 0) + six * (sx * sx + ax * ax + bx * bx + cx * cx);
  s[6] = (s[6] ?? 0) + six * (sy * sy + ay * ay + by * by + cy * cy);
  s[7] = (s[7] ?? 0) + six * (sz * sz + az * az + bz * bz + cz * cz);
  s[8] = (s[8] ?? 0) + six * (sx * sy + ax * ay + bx * by + cx * cy);
  s[9] = (s[9] ?? 0) + six * (sy * sz + ay * az + by * bz + cy * cz);
  s[10] = (s[10] ?? 0) + six * (sz * sx + az * ax + bz * bx + cz * cx);
}

/** Signed volume of some triangles of a mesh about a point of choice, m3: exact for a closed set whatever the point. */
export function signedVolume({ positions, indices }: TriangleMesh, triangles: Iterable<number>, about: Vec3): number {
  let six = 0;
  for (const t of triangles) {
    const o = 3 * t;
    const [a, b, c] = [3 * (indices[o] ?? 0), 3 * (indices[o + 1] ?? 0), 3 * (indices[o + 2] ?? 0)];
    const [x0, y0, z0] = about;
    const [ax, ay, az] = [(positions[a] ?? 0) - x0, (positions[a + 1] ?? 0) - y0, (positions[a + 2] ?? 0) - z0];
    const [bx, by, bz] = [(positions[b] ?? 0) - x0, (positions[b + 1] ?? 0) - y0, (positions[b + 2] ?? 0) - z0];
    const [cx, cy, cz] = [(positions[c] ?? 0) - x0, (positions[c + 1] ?? 0) - y0, (positions[c + 2] ?? 0) - z0];
    six += ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
  }
  return six / 6;
}
