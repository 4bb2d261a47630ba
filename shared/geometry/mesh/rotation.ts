import type { Vec3 } from '../vector.ts';
import { cross, dot, norm, perpendicular, scale } from '../vector.ts';
import type { TriangleMesh } from './triangleMesh.ts';

/** A rotation as x, y, z, w with w the cosine of half the angle; any length but zero is taken and brought to one. */
export type Quaternion = readonly [number, number, number, number];

/** A rotation as three rows: what the turned x, y and z read off a vector. Expected orthonormal and right-handed. */
export type Mat3 = readonly [number, number, number, number, number, number, number, number, number];

/** The rotation that turns nothing. */
export const NO_TURN: Quaternion = [0, 0, 0, 1];

/** The rows of a rotation. A quaternion without direction turns nothing. */
export function rowsOf(turn: Quaternion | Mat3): Mat3 {
  if (turn.length === 9) return turn;
  const length = Math.hypot(...turn);
  if (!(length > 0)) return [1, 0, 0, 0, 1, 0, 0, 0, 1];
  const [x, y, z, w] = [turn[0] / length, turn[1] / length, turn[2] / length, turn[3] / length];
  return [
    1 - 2 * (y * y + z * z),
    2 * (x * y - z * w),
    2 * (x * z + y * w),
    2 * (x * y + z * w),
    1 - 2 * (x * x + z * z),
    2 * (y * z - x * w),
    2 * (x * z - y * w),
    2 * (y * z + x * w),
    1 - 2 * (x * x + y * y),
  ];
}

/** A vector turned. */
export const turned = (rows: Mat3, [x, y, z]: Vec3): Vec3 => [
  rows[0] * x + rows[1] * y + rows[2] * z,
  rows[3] * x + rows[4] * y + rows[5] * z,
  rows[6] * x + rows[7] * y + rows[8] * z,
];

/** The mesh turned about the origin of its frame. */
export function turnedMesh({ positions, indices }: TriangleMesh, turn: Quaternion | Mat3): TriangleMesh {
  const m = rowsOf(turn);
  const out = new Float64Array(positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    const [x, y, z] = [positions[i] ?? 0, positions[i + 1] ?? 0, positions[i + 2] ?? 0];
    out[i] = m[0] * x + m[1] * y + m[2] * z;
    out[i + 1] = m[3] * x + m[4] * y + m[5] * z;
    out[i + 2] = m[6] * x + m[7] * y + m[8] * z;
  }
  return { positions: out, indices };
}

/** The shortest turn that brings a unit direction of the part upright, along +z of the build. */
export function turnUpright(up: Vec3): Quaternion {
  const cosine = dot(up, [0, 0, 1]);
  if (cosine < -1 + 1e-12) {
    // Straight down has no shortest turn: half a turn about any level axis does it.
    const axis = perpendicular(up);
    return [axis[0], axis[1], axis[2], 0];
  }
  const axis = cross(up, [0, 0, 1]);
  const length = Math.sqrt(dot(axis, axis) + (1 + cosine) ** 2);
  return [axis[0] / length, axis[1] / length, axis[2] / length, (1 + cosine) / length];
}

/** Directions spread evenly over the sphere, unit length, the same for the same count (golden-angle spiral; own choice). */
export function spreadDirections(count: number): readonly Vec3[] {
  const turn = Math.PI * (3 - Math.sqrt(5));
  return Array.from({ length: count }, (_, i) => {
    const z = 1 - (2 * (i + 0.5)) / count;
    const r = Math.sqrt(1 - z * z);
    return [r * Math.cos(turn * i), r * Math.sin(turn * i), z];
  });
}

/** Directions spread evenly over the cone about a unit axis, half angle in radians, unit length. */
export function coneDirections(axis: Vec3, halfAngle: number, count: number): readonly Vec3[] {
  const u = perpendicular(axis);
  const v = cross(axis, u);
  const turn = Math.PI * (3 - Math.sqrt(5));
  return Array.from({ length: count }, (_, i) => {
    const z = 1 - ((1 - Math.cos(halfAngle)) * (i + 0.5)) / count;
    const r = Math.sqrt(1 - z * z);
    const [a, b] = [r * Math.cos(turn * i), r * Math.sin(turn * i)];
    const d: Vec3 = [
      axis[0] * z + u[0] * a + v[0] * b,
      axis[1] * z + u[1] * a + v[1] * b,
      axis[2] * z + u[2] * a + v[2] * b,
    ];
    return scale(d, 1 / norm(d));
  });
}
