// What is worked out of each triangle once, in double precision, so that questions to it need little and lose little.
import {
  AXIS_X, AXIS_Y, EDGE_U, EDGE_W, ERROR, INVERSE_U, INVERSE_V, INVERSE_W, LEAF_LEAST, LEAF_MOST, LENGTH_U, NORMAL, NUMBER, SLACK, TRIANGLE,
  WAY_V, WAY_W,
} from './layout';

/** A ray meets a triangle this far over its edges, mm, so that it does not slip between two (own: a few units in the last place at a metre). */
export const HAIR: f32 = 2e-4;
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

/** Shorter than this, mm2, a side has no direction: single precision would lose its square. */
const NO_LENGTH: f64 = 1e-30;
/** Part of a length that a quick distance is off by at most: twelve units in the last place of single precision (own; a fuzz finds 4.5). */
const ROUNDING: f64 = 12.0 / 16777216.0;
// @ts-ignore: decorator
@inline
function inverse(square: f64): f32 {
  return square > NO_LENGTH ? <f32>(1 / square) : 0;
}

/**
 * The plane and what lies in it, in double precision. The frame is unit and square whatever the triangle, and edges are told by their direction,
 * so that rounding shifts a distance by no more than it shifts a corner. Products of edges cancel on slivers (by millimetres on long ones), and
 * weights of corners swing as far as the sliver is long.
 */
function makePlane(at: usize): void {
  const ux: f64 = load<f32>(at, EDGE_U), uy: f64 = load<f32>(at, EDGE_U + 4), uz: f64 = load<f32>(at, EDGE_U + 8);
  const wx: f64 = load<f32>(at, EDGE_W), wy: f64 = load<f32>(at, EDGE_W + 4), wz: f64 = load<f32>(at, EDGE_W + 8);
  const vx = wx - ux, vy = wy - uy, vz = wz - uz;
  const uu = ux * ux + uy * uy + uz * uz, ww = wx * wx + wy * wy + wz * wz, vv = vx * vx + vy * vy + vz * vz;
  // The first axis: along u, where that has no length along w.
  const byU = uu > NO_LENGTH, byW = !byU && ww > NO_LENGTH;
  const unit = 1 / sqrt<f64>(byU ? uu : byW ? ww : 1);
  const x = byU ? ux * unit : byW ? wx * unit : 1, y = byU ? uy * unit : byW ? wy * unit : 0, z = byU ? uz * unit : byW ? wz * unit : 0;
  let nx = uy * wz - uz * wy, ny = uz * wx - ux * wz, nz = ux * wy - uy * wx;
  const longest = max<f64>(uu, max<f64>(ww, vv)), plane = nx * nx + ny * ny + nz * nz > IN_LINE * longest * longest;
  if (!plane) {
    // Any normal, of the axis that is the less along the first.
    const flat = abs<f64>(x) < 0.6;
    nx = flat ? 0 : -y;
    ny = flat ? -z : x;
    nz = flat ? y : 0;
  }
  // The product of edges that are nearly in line is square to them only roughly.
  const off = nx * x + ny * y + nz * z;
  nx -= off * x;
  ny -= off * y;
  nz -= off * z;
  const one = 1 / sqrt<f64>(nx * nx + ny * ny + nz * nz);
  nx *= one;
  ny *= one;
  nz *= one;
  const sx = ny * z - nz * y, sy = nz * x - nx * z, sz = nx * y - ny * x;
  store3(at + AXIS_X, x, y, z);
  store3(at + AXIS_Y, sx, sy, sz);
  store3(at + NORMAL, nx, ny, nz);
  storeSides(at, uu * (byU ? unit : 0), wx * x + wy * y + wz * z, wx * sx + wy * sy + wz * sz);
  storeSizes(at, uu, ww, vv);
  store<f32>(at, plane ? -HAIR : <f32>f64.NaN, SLACK);
}

/** The corners in the plane: b along the first axis, c along both. */
// @ts-ignore: decorator
@inline
function storeSides(at: usize, b: f64, along: f64, over: f64): void {
  store<f32>(at, <f32>b, LENGTH_U);
  storeWay(at + WAY_W, along, over);
  storeWay(at + WAY_V, along - b, over);
}

/** What follows from the squares of the edges. */
// @ts-ignore: decorator
@inline
function storeSizes(at: usize, uu: f64, ww: f64, vv: f64): void {
  store<f32>(at, inverse(uu), INVERSE_U);
  store<f32>(at, inverse(ww), INVERSE_W);
  store<f32>(at, inverse(vv), INVERSE_V);
  store<f32>(at, <f32>(ROUNDING * 2 * max<f64>(uu, max<f64>(ww, vv))), ERROR);
}

/** Direction and length of a vector in the plane. */
// @ts-ignore: decorator
@inline
function storeWay(at: usize, x: f64, y: f64): void {
  const square = x * x + y * y, some = square > NO_LENGTH;
  const one = 1 / sqrt<f64>(some ? square : 1);
  store<f32>(at, some ? <f32>(x * one) : 1);
  store<f32>(at, some ? <f32>(y * one) : 0, 4);
  store<f32>(at, some ? <f32>(square * one) : 0, 8);
}

// @ts-ignore: decorator
@inline
function store3(at: usize, x: f64, y: f64, z: f64): void {
  store<f32>(at, <f32>x);
  store<f32>(at, <f32>y, 4);
  store<f32>(at, <f32>z, 8);
}

/** Fits the box of a leaf to its triangles, in the frame of the first. */
export function boxLeaf(first: usize, held: usize): void {
  const zero = v128.load(first);
  let low = f32x4.splat(0), high = low;
  for (let t = first, end = first + held * TRIANGLE; t < end; t += TRIANGLE) {
    const a = inFrame(first, f32x4.sub(v128.load(t), zero));
    const b = f32x4.add(a, inFrame(first, v128.load(t, EDGE_U))), c = f32x4.add(a, inFrame(first, v128.load(t, EDGE_W)));
    low = f32x4.pmin(low, f32x4.pmin(a, f32x4.pmin(b, c)));
    high = f32x4.pmax(high, f32x4.pmax(a, f32x4.pmax(b, c)));
  }
  // The fourth lane of each is written over by what comes next.
  v128.store(first, low, LEAF_LEAST);
  storeThree(first + LEAF_MOST, high);
  const far = f32x4.pmax(high, f32x4.neg(low)), squares = f32x4.mul(far, far);
  const size = f32x4.extract_lane(squares, 0) + f32x4.extract_lane(squares, 1) + f32x4.extract_lane(squares, 2);
  store<f32>(first, <f32>ROUNDING * 2 * size, ERROR);
}

/** A vector along the two axes of a triangle's plane and square to it. */
// @ts-ignore: decorator
@inline
function inFrame(at: usize, v: v128): v128 {
  const x = v128.load(at, AXIS_X), y = v128.load(at, AXIS_Y), z = v128.load(at, NORMAL);
  const xy = v128.shuffle<f32>(x, y, 0, 4, 1, 5), far = v128.shuffle<f32>(x, y, 2, 6, 2, 6);
  const first = v128.shuffle<f32>(xy, z, 0, 1, 4, 4), second = v128.shuffle<f32>(xy, z, 2, 3, 5, 5), third = v128.shuffle<f32>(far, z, 0, 1, 6, 6);
  return f32x4.add(
    f32x4.add(f32x4.mul(first, v128.shuffle<f32>(v, v, 0, 0, 0, 0)), f32x4.mul(second, v128.shuffle<f32>(v, v, 1, 1, 1, 1))),
    f32x4.mul(third, v128.shuffle<f32>(v, v, 2, 2, 2, 2)),
  );
}

function storeThree(at: usize, v: v128): void {
  store<f32>(at, f32x4.extract_lane(v, 0));
  store<f32>(at, f32x4.extract_lane(v, 1), 4);
  store<f32>(at, f32x4.extract_lane(v, 2), 8);
}
