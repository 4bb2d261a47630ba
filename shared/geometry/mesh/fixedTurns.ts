import type { Vec3 } from '../vector.ts';
import type { Mat3, Quaternion } from './rotation.ts';
import { rowsOf } from './rotation.ts';

/**
 * The rotation of three turns one after the other about the fixed axes X, Y and Z, radians: the way a piece's build pose is written down.
 * Turns that are not finite give a rotation that is not: known fields of the spec never are.
 */
export function rotationOfTurns([x, y, z]: Vec3): Mat3 {
  const [cx, sx, cy, sy, cz, sz] = [Math.cos(x), Math.sin(x), Math.cos(y), Math.sin(y), Math.cos(z), Math.sin(z)];
  return [
    cz * cy,
    cz * sy * sx - sz * cx,
    cz * sy * cx + sz * sx,
    sz * cy,
    sz * sy * sx + cz * cx,
    sz * sy * cx - cz * sx,
    -sy,
    cy * sx,
    cy * cx,
  ];
}

/**
 * The three turns about the fixed axes X, Y and Z that make up a rotation, radians: X and Z from -pi to pi, Y from -pi/2 to pi/2. Exact to
 * rounding for every rotation. With Y at a right angle many pairs of X and Z turn alike, and one of them is given.
 */
export function turnsOfRotation(rotation: Quaternion | Mat3): Vec3 {
  const m = rowsOf(rotation);
  const z = Math.atan2(m[3], m[0]);
  const [cz, sz] = [Math.cos(z), Math.sin(z)];
  // X from what is left once Z is taken back: then it makes good whatever Z lost to rounding near a right angle of Y.
  const x = Math.atan2(sz * m[2] - cz * m[5], cz * m[4] - sz * m[1]);
  return [x, Math.atan2(-m[6], Math.hypot(m[0], m[3])), z];
}
