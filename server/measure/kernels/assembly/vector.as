// Four lanes at a time.

// @ts-ignore: decorator
@inline
export function square3(x: v128, y: v128, z: v128): v128 {
  return f32x4.add(f32x4.add(f32x4.mul(x, x), f32x4.mul(y, y)), f32x4.mul(z, z));
}

// @ts-ignore: decorator
@inline
export function dot(ax: v128, ay: v128, az: v128, bx: v128, by: v128, bz: v128): v128 {
  return f32x4.add(f32x4.add(f32x4.mul(ax, bx), f32x4.mul(ay, by)), f32x4.mul(az, bz));
}

/** The greatest of four. */
// @ts-ignore: decorator
@inline
export function most(a: v128): f32 {
  const pairs = f32x4.pmax(a, v128.shuffle<f32>(a, a, 2, 3, 0, 1));
  return max<f32>(f32x4.extract_lane(pairs, 0), f32x4.extract_lane(pairs, 1));
}

/** The least of four. */
// @ts-ignore: decorator
@inline
export function least(a: v128): f32 {
  return -most(f32x4.neg(a));
}

/** Square of the gap between two stretches of an axis; 0 where they meet. */
// @ts-ignore: decorator
@inline
export function gap(least: v128, most: v128, otherLeast: v128, otherMost: v128): v128 {
  const apart = f32x4.pmax(f32x4.pmax(f32x4.sub(least, otherMost), f32x4.sub(otherLeast, most)), f32x4.splat(0));
  return f32x4.mul(apart, apart);
}
