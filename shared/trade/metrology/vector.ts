/** A point or direction, SI. */
export type Vec = readonly [number, number, number];

/** a - b. */
export const minus = (a: Vec, b: Vec): Vec => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
/** a + k b. */
export const along = (a: Vec, k: number, b: Vec): Vec => [a[0] + k * b[0], a[1] + k * b[1], a[2] + k * b[2]];
/** Scalar product. */
export const dot = (a: Vec, b: Vec): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
/** Vector product. */
export const cross = (a: Vec, b: Vec): Vec => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
/** Length. */
export const norm = (a: Vec): number => Math.hypot(a[0], a[1], a[2]);
/** The same direction with length 1; null for no direction. */
export function unit(a: Vec): Vec | null {
  const length = norm(a);
  return length > 0 && Number.isFinite(length) ? [a[0] / length, a[1] / length, a[2] / length] : null;
}
/** Mean of the points; NaN when there are none. */
export function centroid(points: readonly Vec[]): Vec {
  let sum: Vec = [0, 0, 0];
  for (const point of points) sum = along(sum, 1, point);
  return [sum[0] / points.length, sum[1] / points.length, sum[2] / points.length];
}
/** Two unit vectors that make a right-handed triple (u, v, axis) with a unit axis. */
export function across(axis: Vec): readonly [Vec, Vec] {
  const [x, y, z] = axis;
  const least = Math.min(Math.abs(x), Math.abs(y), Math.abs(z));
  const away: Vec = Math.abs(x) === least ? [1, 0, 0] : Math.abs(y) === least ? [0, 1, 0] : [0, 0, 1];
  const u = unit(cross(away, axis)) ?? [1, 0, 0];
  return [u, cross(axis, u)];
}
/** Index of the first point that is not finite, or -1. */
export const firstBad = (points: readonly (readonly number[])[]): number =>
  points.findIndex((point) => !point.every(Number.isFinite));
