import { orient2d, orient3d } from 'robust-predicates';

/* Offsets into one array of coordinates instead of points: these run many millions of times a mesh. */

/** Bound on the rounding of the plain sum below, relative to the sum of its parts. Source: Shewchuk 1997, (7 + 56 e) e, rounded up (memory). */
const ROUNDING = 1e-15;

/**
 * On which side of the plane through a, b, c the point d lies: 1 where they turn anticlockwise as seen from d, -1 on the other, 0 on it.
 * Exact for all doubles: what the plain sum cannot decide goes to adaptive arithmetic (robust-predicates).
 * @param p coordinates; a, b, c, d offsets of points in it
 */
export function sideOf(p: Float64Array, a: number, b: number, c: number, d: number): -1 | 0 | 1 {
  return sureSide(p, a, b, c, d) || exactly(p, a, b, c, d);
}

/** The same where the plain sum decides it; 0 where it does not. */
export function sureSide(p: Float64Array, a: number, b: number, c: number, d: number): -1 | 0 | 1 {
  const cx = p[c] ?? 0;
  const cy = p[c + 1] ?? 0;
  const cz = p[c + 2] ?? 0;
  const ax = (p[a] ?? 0) - cx;
  const ay = (p[a + 1] ?? 0) - cy;
  const az = (p[a + 2] ?? 0) - cz;
  const bx = (p[b] ?? 0) - cx;
  const by = (p[b + 1] ?? 0) - cy;
  const bz = (p[b + 2] ?? 0) - cz;
  const dx = (p[d] ?? 0) - cx;
  const dy = (p[d + 1] ?? 0) - cy;
  const dz = (p[d + 2] ?? 0) - cz;
  const yz = ay * bz;
  const zy = az * by;
  const zx = az * bx;
  const xz = ax * bz;
  const xy = ax * by;
  const yx = ay * bx;
  const sum = dx * (yz - zy) + dy * (zx - xz) + dz * (xy - yx);
  const parts =
    Math.abs(dx) * (Math.abs(yz) + Math.abs(zy)) +
    Math.abs(dy) * (Math.abs(zx) + Math.abs(xz)) +
    Math.abs(dz) * (Math.abs(xy) + Math.abs(yx));
  if (sum > ROUNDING * parts) return 1;
  return sum < -ROUNDING * parts ? -1 : 0;
}

function exactly(p: Float64Array, a: number, b: number, c: number, d: number): -1 | 0 | 1 {
  const [cx, cy, cz] = [p[c] ?? 0, p[c + 1] ?? 0, p[c + 2] ?? 0];
  const [ax, ay, az, bx, by, bz] = [p[a] ?? 0, p[a + 1] ?? 0, p[a + 2] ?? 0, p[b] ?? 0, p[b + 1] ?? 0, p[b + 2] ?? 0];
  const volume = orient3d(ax, ay, az, bx, by, bz, cx, cy, cz, p[d] ?? 0, p[d + 1] ?? 0, p[d + 2] ?? 0);
  // The package counts a point below the plane as positive.
  return volume > 0 ? -1 : volume < 0 ? 1 : 0;
}

/**
 * How a, b, c turn when one axis is left out: 1 anticlockwise, -1 clockwise, 0 in line. Exact.
 * @param drop axis left out: 0, 1 or 2
 */
export function turnOf(p: Float64Array, drop: number, a: number, b: number, c: number): -1 | 0 | 1 {
  const i = drop === 0 ? 1 : 0;
  const j = drop === 2 ? 1 : 2;
  // The package counts clockwise as positive.
  const turn = orient2d(p[a + i] ?? 0, p[a + j] ?? 0, p[b + i] ?? 0, p[b + j] ?? 0, p[c + i] ?? 0, p[c + j] ?? 0);
  return turn < 0 ? 1 : turn > 0 ? -1 : 0;
}

/** The axis along which a triangle's normal is longest: leaving it out keeps the triangle widest. */
export function widestDrop(p: Float64Array, a: number, b: number, c: number): 0 | 1 | 2 {
  const ax = p[a] ?? 0;
  const ay = p[a + 1] ?? 0;
  const az = p[a + 2] ?? 0;
  const ux = (p[b] ?? 0) - ax;
  const uy = (p[b + 1] ?? 0) - ay;
  const uz = (p[b + 2] ?? 0) - az;
  const vx = (p[c] ?? 0) - ax;
  const vy = (p[c + 1] ?? 0) - ay;
  const vz = (p[c + 2] ?? 0) - az;
  const x = Math.abs(uy * vz - uz * vy);
  const y = Math.abs(uz * vx - ux * vz);
  const z = Math.abs(ux * vy - uy * vx);
  return x >= y ? (x >= z ? 0 : 2) : y >= z ? 1 : 2;
}
