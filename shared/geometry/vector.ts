/**
 * A point or direction in space: x, y, z in metres (directions: dimensionless, unit length where said).
 */
export type Vec3 = readonly [number, number, number];

/** Sum a + b. */
export const add = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];

/** Difference a - b: the way from b to a. */
export const subtract = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];

/** The vector times k. */
export const scale = (a: Vec3, k: number): Vec3 => [a[0] * k, a[1] * k, a[2] * k];

/** The point p moved by distance t along direction d. */
export const along = (p: Vec3, d: Vec3, t: number): Vec3 => [p[0] + d[0] * t, p[1] + d[1] * t, p[2] + d[2] * t];

/** Scalar product. */
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** Vector product, right-handed. */
export const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

/** Length of a vector, 1e-150 to 1e150 or zero. Not hypot: its guard against overflow costs ten times the rest and metres never need it. */
export const norm = (a: Vec3): number => Math.sqrt(a[0] * a[0] + a[1] * a[1] + a[2] * a[2]);

/** Distance between two points, in the range of norm. */
export function distance(a: Vec3, b: Vec3): number {
  const [x, y, z] = [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
  return Math.sqrt(x * x + y * y + z * z);
}

/** The direction of a vector, length 1. A zero vector gives NaN components: callers test the length first. */
export const unit = (a: Vec3): Vec3 => scale(a, 1 / norm(a));

/** Some unit vector perpendicular to unit vector d; the same one for the same d. */
export function perpendicular(d: Vec3): Vec3 {
  // Crossing with the axis that d leans on least keeps the result away from zero length.
  const [x, y, z] = [Math.abs(d[0]), Math.abs(d[1]), Math.abs(d[2])];
  const axis: Vec3 = x <= y && x <= z ? [1, 0, 0] : y <= z ? [0, 1, 0] : [0, 0, 1];
  return unit(cross(d, axis));
}

/** Vector a turned about unit axis k by angle radians, right-handed (Rodrigues' rotation formula). */
export function rotate(a: Vec3, k: Vec3, angle: number): Vec3 {
  const c = Math.cos(angle);
  const turned = add(scale(a, c), scale(cross(k, a), Math.sin(angle)));
  return along(turned, k, dot(k, a) * (1 - c));
}
