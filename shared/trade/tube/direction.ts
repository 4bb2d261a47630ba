/** A point or direction in space; m for points, no unit for directions. */
export type Triple = readonly [number, number, number];

/** a + s b. */
export const along = (a: Triple, b: Triple, s: number): Triple => [a[0] + s * b[0], a[1] + s * b[1], a[2] + s * b[2]];
/** a - b. */
export const minus = (a: Triple, b: Triple): Triple => along(a, b, -1);
/** Inner product. */
export const dot = (a: Triple, b: Triple): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
/** Outer product, right-handed. */
export const cross = (a: Triple, b: Triple): Triple => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
/** Length. */
export const size = (a: Triple): number => Math.hypot(...a);
/** a over its length; NaN for the zero vector. */
export const unit = (a: Triple): Triple => along([0, 0, 0], a, 1 / size(a));
/** `a` turned about the unit direction `axis` by `angle` (rad), right-handed. */
export function turned(a: Triple, axis: Triple, angle: number): Triple {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const flat = along([0, 0, 0], a, c);
  return along(along(flat, cross(axis, a), s), axis, dot(axis, a) * (1 - c));
}
