// A triangle and four points.
import {
  EDGE_U, EDGE_W, INVERSE_U, INVERSE_V, INVERSE_W, INWARD_U, INWARD_V, INWARD_W, NORMAL, NUMBER, TRIANGLE,
} from './layout';
import { dot, square3 } from './vector';

/** Height over the longest edge, as a part of it and squared, below which three corners are in line: what doubles cannot tell from none. */
const IN_LINE: f64 = 1e-26;

/** Writes the triangles of a mesh in the order of the leaves. */
export function makeTriangles(positions: usize, indices: usize, order: usize, count: u32, triangles: usize): void {
  for (let i: u32 = 0; i < count; i++) {
    const number = load<u32>(order + (<usize>i << 2));
    const at = triangles + <usize>i * TRIANGLE;
    const corners = indices + <usize>number * 12;
    const a = positions + <usize>load<u32>(corners) * 12;
    store<u32>(at, number, NUMBER);
    store<f32>(at, load<f32>(a));
    store<f32>(at, load<f32>(a, 4), 4);
    store<f32>(at, load<f32>(a, 8), 8);
    makeEdge(at + EDGE_U, a, positions + <usize>load<u32>(corners, 4) * 12);
    makeEdge(at + EDGE_W, a, positions + <usize>load<u32>(corners, 8) * 12);
    makePlane(at);
  }
}

function makeEdge(at: usize, from: usize, to: usize): void {
  store<f32>(at, load<f32>(to) - load<f32>(from));
  store<f32>(at, load<f32>(to, 4) - load<f32>(from, 4), 4);
  store<f32>(at, load<f32>(to, 8) - load<f32>(from, 8), 8);
}

function inverse(square: f64): f32 {
  // The inverse of a denormal would be infinite, and infinity times zero is no number.
  return square > 1e-30 ? <f32>(1 / square) : 0;
}

/**
 * The plane, in double precision. Whether a point is over the inside is asked of each edge as a length, which rounding shifts by less than it
 * shifts a corner. Products of edges cancel on slivers (by millimetres on long ones), and weights of corners swing as far as the sliver is long.
 */
function makePlane(at: usize): void {
  const ux: f64 = load<f32>(at, EDGE_U), uy: f64 = load<f32>(at, EDGE_U + 4), uz: f64 = load<f32>(at, EDGE_U + 8);
  const wx: f64 = load<f32>(at, EDGE_W), wy: f64 = load<f32>(at, EDGE_W + 4), wz: f64 = load<f32>(at, EDGE_W + 8);
  const vx = wx - ux, vy = wy - uy, vz = wz - uz;
  const uu = ux * ux + uy * uy + uz * uz, ww = wx * wx + wy * wy + wz * wz, vv = vx * vx + vy * vy + vz * vz;
  store<f32>(at, inverse(uu), INVERSE_U);
  store<f32>(at, inverse(ww), INVERSE_W);
  store<f32>(at, inverse(vv), INVERSE_V);
  const nx = uy * wz - uz * wy, ny = uz * wx - ux * wz, nz = ux * wy - uy * wx;
  const longest = max<f64>(uu, max<f64>(ww, vv)), nn = nx * nx + ny * ny + nz * nz;
  const one: f64 = nn > IN_LINE * longest * longest ? 1 / sqrt<f64>(nn) : f64.NaN;
  store3(at + NORMAL, one, nx, ny, nz);
  const byU = one / sqrt<f64>(uu), byW = one / sqrt<f64>(ww), byV = one / sqrt<f64>(vv);
  store3(at + INWARD_U, byU, ny * uz - nz * uy, nz * ux - nx * uz, nx * uy - ny * ux);
  store3(at + INWARD_W, byW, wy * nz - wz * ny, wz * nx - wx * nz, wx * ny - wy * nx);
  store3(at + INWARD_V, byV, ny * vz - nz * vy, nz * vx - nx * vz, nx * vy - ny * vx);
}

function store3(at: usize, by: f64, x: f64, y: f64, z: f64): void {
  store<f32>(at, <f32>(by * x));
  store<f32>(at, <f32>(by * y), 4);
  store<f32>(at, <f32>(by * z), 8);
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

// @ts-ignore: decorator
@inline
function along(at: usize, px: v128, py: v128, pz: v128): v128 {
  return dot(px, py, pz, v128.load32_splat(at), v128.load32_splat(at, 4), v128.load32_splat(at, 8));
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
  const inU = along(at + INWARD_U, ax, ay, az), inW = along(at + INWARD_W, ax, ay, az), inV = along(at + INWARD_V, bx, by, bz);
  const height = along(at + NORMAL, ax, ay, az);
  const over = f32x4.ge(f32x4.pmin(f32x4.pmin(inU, inW), inV), f32x4.splat(0));
  return v128.bitselect(f32x4.mul(height, height), f32x4.pmin(f32x4.pmin(toU, toW), toV), over);
}
