// Four points and a triangle, or the box around a leaf of them.
import {
  AXIS_X, AXIS_Y, EDGE_U, EDGE_W, ERROR, INVERSE_U, INVERSE_V, INVERSE_W, LEAF_LEAST, LEAF_MOST, LENGTH_U, LENGTH_V, LENGTH_W, NORMAL, TRIANGLE,
  WAY_V, WAY_W,
} from './layout';
import { dot, gap, square3 } from './vector';

/** What makes a square no less than that of a quick distance, which may be too great (own: two and a half times its part of a length, rounded up). */
export const LOOSE: f32 = 1.0000018;
// @ts-ignore: decorator
@inline
export function along(at: usize, px: v128, py: v128, pz: v128): v128 {
  return dot(px, py, pz, v128.load32_splat(at), v128.load32_splat(at, 4), v128.load32_splat(at, 8));
}

/** How far beyond the ends of a side of some length a place along it lies; 0 between them. */
// @ts-ignore: decorator
@inline
function beyond(along: v128, length: v128): v128 {
  return f32x4.pmax(f32x4.sub(along, length), f32x4.pmin(along, f32x4.splat(0)));
}

// @ts-ignore: decorator
@inline
function square2(x: v128, y: v128): v128 {
  return f32x4.add(f32x4.mul(x, x), f32x4.mul(y, y));
}

/** Square of the distance from four points, seen from one end of an edge, to the edge. */
// @ts-ignore: decorator
@inline
function toEdge(px: v128, py: v128, pz: v128, ex: v128, ey: v128, ez: v128, inverse: v128): v128 {
  const along = f32x4.mul(dot(px, py, pz, ex, ey, ez), inverse);
  const t = f32x4.pmin(f32x4.pmax(along, f32x4.splat(0)), f32x4.splat(1));
  return square3(
    f32x4.sub(px, f32x4.mul(t, ex)),
    f32x4.sub(py, f32x4.mul(t, ey)),
    f32x4.sub(pz, f32x4.mul(t, ez)),
  );
}

/** Square of the distance from four points to a triangle, mm2. */
// @ts-ignore: decorator
@inline
export function toTriangle(at: usize, x: v128, y: v128, z: v128): v128 {
  const ax = f32x4.sub(x, v128.load32_splat(at));
  const ay = f32x4.sub(y, v128.load32_splat(at, 4));
  const az = f32x4.sub(z, v128.load32_splat(at, 8));
  const ux = v128.load32_splat(at, EDGE_U), uy = v128.load32_splat(at, EDGE_U + 4), uz = v128.load32_splat(at, EDGE_U + 8);
  const wx = v128.load32_splat(at, EDGE_W), wy = v128.load32_splat(at, EDGE_W + 4), wz = v128.load32_splat(at, EDGE_W + 8);
  const bx = f32x4.sub(ax, ux), by = f32x4.sub(ay, uy), bz = f32x4.sub(az, uz);
  const vx = f32x4.sub(wx, ux), vy = f32x4.sub(wy, uy), vz = f32x4.sub(wz, uz);
  const toU = toEdge(ax, ay, az, ux, uy, uz, v128.load32_splat(at, INVERSE_U));
  const toW = toEdge(ax, ay, az, wx, wy, wz, v128.load32_splat(at, INVERSE_W));
  const toV = toEdge(bx, by, bz, vx, vy, vz, v128.load32_splat(at, INVERSE_V));
  const height = along(at + NORMAL, ax, ay, az);
  const side = inside(at, along(at + AXIS_X, ax, ay, az), along(at + AXIS_Y, ax, ay, az));
  return v128.bitselect(f32x4.mul(height, height), f32x4.pmin(f32x4.pmin(toU, toW), toV), f32x4.gt(side, f32x4.splat(0)));
}

/** How far inside of the nearest of the lines through its sides four places in the plane of a triangle are; below zero outside. */
// @ts-ignore: decorator
@inline
export function inside(at: usize, x: v128, y: v128): v128 {
  const bx = f32x4.sub(x, v128.load32_splat(at, LENGTH_U));
  const inW = f32x4.sub(f32x4.mul(x, v128.load32_splat(at, WAY_W + 4)), f32x4.mul(y, v128.load32_splat(at, WAY_W)));
  const inV = f32x4.sub(f32x4.mul(y, v128.load32_splat(at, WAY_V)), f32x4.mul(bx, v128.load32_splat(at, WAY_V + 4)));
  return f32x4.pmin(f32x4.pmin(y, inW), inV);
}

/**
 * Whether some of four points may be nearer to a triangle than the root of a limit (mm2): by their height over its plane and the way in it to
 * the nearest side. Rounding adds up along the way (fuzz: 1.6e-5 mm at 60 mm), so this only tells which triangles are asked exactly; it takes off
 * what may be too much for the size of the triangle, and a limit that LOOSE is in covers what may be too much for the distance. Most are told
 * by the height alone, and asked for in two halves the numbers of a triangle find room in registers.
 */
// @ts-ignore: decorator
@inline
export function mayReach(at: usize, px: v128, py: v128, pz: v128, limit: v128): bool {
  const ax = f32x4.sub(px, v128.load32_splat(at)), ay = f32x4.sub(py, v128.load32_splat(at, 4)), az = f32x4.sub(pz, v128.load32_splat(at, 8));
  const height = along(at + NORMAL, ax, ay, az);
  const over = f32x4.sub(f32x4.mul(height, height), v128.load32_splat(at, ERROR));
  if (!v128.any_true(f32x4.lt(over, limit))) return false;
  const x = along(at + AXIS_X, ax, ay, az), y = along(at + AXIS_Y, ax, ay, az);
  const bx = f32x4.sub(x, v128.load32_splat(at, LENGTH_U));
  const wx = v128.load32_splat(at, WAY_W), wy = v128.load32_splat(at, WAY_W + 4);
  const vx = v128.load32_splat(at, WAY_V), vy = v128.load32_splat(at, WAY_V + 4);
  const inW = f32x4.sub(f32x4.mul(x, wy), f32x4.mul(y, wx)), inV = f32x4.sub(f32x4.mul(y, vx), f32x4.mul(bx, vy));
  const overW = beyond(f32x4.add(f32x4.mul(x, wx), f32x4.mul(y, wy)), v128.load32_splat(at, LENGTH_W));
  const overV = beyond(f32x4.add(f32x4.mul(bx, vx), f32x4.mul(y, vy)), v128.load32_splat(at, LENGTH_V));
  const overU = f32x4.pmax(bx, f32x4.pmin(x, f32x4.splat(0)));
  const flat = f32x4.pmin(f32x4.pmin(square2(overU, y), square2(overW, inW)), square2(overV, inV));
  const within = f32x4.gt(f32x4.pmin(f32x4.pmin(y, inW), inV), f32x4.splat(0));
  return v128.any_true(f32x4.lt(f32x4.add(over, v128.andnot(flat, within)), limit));
}

/**
 * Whether some of four points may be nearer to a leaf than what they have. Its box is in the frame of its first triangle: where a leaf slants that
 * fits much tighter than a box along the axes.
 */
// @ts-ignore: decorator
@inline
export function mayBeNearer(first: usize, x: v128, y: v128, z: v128, square: v128): bool {
  const ax = f32x4.sub(x, v128.load32_splat(first)), ay = f32x4.sub(y, v128.load32_splat(first, 4)), az = f32x4.sub(z, v128.load32_splat(first, 8));
  const across = f32x4.add(gapAlong(first, 0, ax, ay, az), f32x4.add(gapAlong(first, 1, ax, ay, az), gapAlong(first, 2, ax, ay, az)));
  return v128.any_true(f32x4.lt(f32x4.sub(across, v128.load32_splat(first, ERROR)), f32x4.mul(square, f32x4.splat(LOOSE))));
}

// @ts-ignore: decorator
@inline
function gapAlong(first: usize, axis: usize, x: v128, y: v128, z: v128): v128 {
  const place = along(first + AXIS_X + axis * 12, x, y, z);
  return gap(v128.load32_splat(first + axis * 4, LEAF_LEAST), v128.load32_splat(first + axis * 4, LEAF_MOST), place, place);
}

/** The least of some squares and those of the distances to the triangles of a leaf, mm2. */
// @ts-ignore: decorator
@inline
export function nearestOf(start: usize, stop: usize, x: v128, y: v128, z: v128, before: v128): v128 {
  let square = before, limit = f32x4.mul(before, f32x4.splat(LOOSE));
  for (let t = start; t < stop; t += TRIANGLE) {
    if (!mayReach(t, x, y, z, limit)) continue;
    square = f32x4.pmin(square, toTriangle(t, x, y, z));
    limit = f32x4.mul(square, f32x4.splat(LOOSE));
  }
  return square;
}
