// A triangle and four points.
import {
  DUAL_U,
  DUAL_W,
  EDGE_U,
  EDGE_W,
  INSIDE,
  INVERSE_U,
  INVERSE_V,
  INVERSE_W,
  NORMAL,
  NUMBER,
  TRIANGLE,
} from './layout';
import { dot, square3 } from './vector';

/** Least height over the longest edge for the inside to count, mm, squared: below it the inside beats the edges by less than half of it. */
const LEAST_HEIGHT2: f64 = 1e-6;

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

/** In double precision: the products of single-precision edges cancel on slivers, by millimetres on long ones. */
function makePlane(at: usize): void {
  const ux: f64 = load<f32>(at, EDGE_U), uy: f64 = load<f32>(at, EDGE_U + 4), uz: f64 = load<f32>(at, EDGE_U + 8);
  const wx: f64 = load<f32>(at, EDGE_W), wy: f64 = load<f32>(at, EDGE_W + 4), wz: f64 = load<f32>(at, EDGE_W + 8);
  const vx = wx - ux, vy = wy - uy, vz = wz - uz;
  const uu = ux * ux + uy * uy + uz * uz, ww = wx * wx + wy * wy + wz * wz, vv = vx * vx + vy * vy + vz * vz;
  store<f32>(at, inverse(uu), INVERSE_U);
  store<f32>(at, inverse(ww), INVERSE_W);
  store<f32>(at, inverse(vv), INVERSE_V);
  memory.fill(at + NORMAL, 0, 36);
  store<f32>(at, 0, INSIDE);
  const nx = uy * wz - uz * wy, ny = uz * wx - ux * wz, nz = ux * wy - uy * wx;
  const nn = nx * nx + ny * ny + nz * nz;
  if (!(nn > LEAST_HEIGHT2 * max<f64>(uu, max<f64>(ww, vv)))) return;
  const length = sqrt<f64>(nn);
  store<f32>(at, 1, INSIDE);
  store3(at + NORMAL, nx / length, ny / length, nz / length);
  store3(at + DUAL_U, (wy * nz - wz * ny) / nn, (wz * nx - wx * nz) / nn, (wx * ny - wy * nx) / nn);
  store3(at + DUAL_W, (ny * uz - nz * uy) / nn, (nz * ux - nx * uz) / nn, (nx * uy - ny * ux) / nn);
}

function store3(at: usize, x: f64, y: f64, z: f64): void {
  store<f32>(at, <f32>x);
  store<f32>(at, <f32>y, 4);
  store<f32>(at, <f32>z, 8);
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

/** Square of the distance from four points, seen from the first corner, to the edges. */
// @ts-ignore: decorator
@inline
function toEdges(at: usize, px: v128, py: v128, pz: v128): v128 {
  const ux = v128.load32_splat(at, EDGE_U), uy = v128.load32_splat(at, EDGE_U + 4), uz = v128.load32_splat(at, EDGE_U + 8);
  const wx = v128.load32_splat(at, EDGE_W), wy = v128.load32_splat(at, EDGE_W + 4), wz = v128.load32_splat(at, EDGE_W + 8);
  const toU = toEdge(px, py, pz, ux, uy, uz, v128.load32_splat(at, INVERSE_U));
  const toW = toEdge(px, py, pz, wx, wy, wz, v128.load32_splat(at, INVERSE_W));
  const bx = f32x4.sub(px, ux), by = f32x4.sub(py, uy), bz = f32x4.sub(pz, uz);
  const vx = f32x4.sub(wx, ux), vy = f32x4.sub(wy, uy), vz = f32x4.sub(wz, uz);
  return f32x4.pmin(f32x4.pmin(toU, toW), toEdge(bx, by, bz, vx, vy, vz, v128.load32_splat(at, INVERSE_V)));
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
  const px = f32x4.sub(x, v128.load32_splat(at));
  const py = f32x4.sub(y, v128.load32_splat(at, 4));
  const pz = f32x4.sub(z, v128.load32_splat(at, 8));
  const edges = toEdges(at, px, py, pz);
  if (load<f32>(at, INSIDE) == 0) return edges;
  const s = along(at + DUAL_U, px, py, pz), r = along(at + DUAL_W, px, py, pz), height = along(at + NORMAL, px, py, pz);
  const zero = f32x4.splat(0);
  const over = v128.and(v128.and(f32x4.ge(s, zero), f32x4.ge(r, zero)), f32x4.le(f32x4.add(s, r), f32x4.splat(1)));
  return v128.bitselect(f32x4.mul(height, height), edges, over);
}
