// The largest ball that touches a surface at a place and goes through nothing, four neighbours at a time: they share one walk to what is
// nearest to the middles of their balls, and a ball that something stands in shrinks until that touches it.
import { EDGE_U, EDGE_W } from './layout';
import { nearestFour, numbersOf, takeNearest } from './nearest';
import { BALLS, FOUR, scratch } from './scratch';

/** A ball counts as free when nothing is nearer to its middle than this part of its radius, less the margin. */
const FREE: f32 = 0.9999;
/** Turns after which a ball that still shrinks is taken as it is. */
const TURNS: u32 = 40;
/** Where four balls stand in the room: places and directions as the lists have them, radius before and now, address of what was touched. */
const RADIUS: usize = 96;
const BEFORE: usize = 112;
const TOUCHED: usize = 128;

/**
 * `balls` holds, one list after the other, x, y, z of the places, the three parts of the directions from there (unit vectors) and the radius
 * to begin with, mm. Each list has `count` places, a multiple of 4; those of [first, end) are done, multiples of 4 as well. Writes the radius from
 * which each ball shrank for the last time, and the number of the triangle that it then touched (-1: it was free from the first). What is as near
 * to the surface as the margin (mm) is taken for rounding: a ball no larger than that is left as it is.
 */
export function shrinkBalls(
  tree: usize, leaves: usize, balls: usize, count: u32, first: u32, end: u32, margin: f32, into: usize,
): void {
  takeNearest(tree, leaves);
  const list = <usize>count << 2, four = scratch + BALLS;
  for (let at = <usize>first << 2, stop = <usize>end << 2; at < stop; at += 16) {
    for (let part: usize = 0; part < 7; part++) v128.store(four + (part << 4), v128.load(balls + at + part * list));
    v128.store(four, i32x4.splat(0), TOUCHED);
    shrinkFour(four, margin);
    v128.store(into + at, v128.load(four, BEFORE));
    v128.store(into + at + list, numbersOf(v128.load(four, TOUCHED)));
  }
}

function shrinkFour(four: usize, margin: f32): void {
  const px = v128.load(four), py = v128.load(four, 16), pz = v128.load(four, 32);
  const dx = v128.load(four, 48), dy = v128.load(four, 64), dz = v128.load(four, 80);
  let shrinking = f32x4.gt(v128.load(four, RADIUS), f32x4.splat(0));
  for (let turn: u32 = 0; turn < TURNS && v128.any_true(shrinking); turn++) {
    // What shrinks no more stays at its place: it may have no radius at all, and must not spoil the box around all four.
    const radius = v128.and(v128.load(four, RADIUS), shrinking);
    // No distance is below none, so what no longer shrinks finds nothing.
    const free = f32x4.pmax(f32x4.splat(0), f32x4.sub(f32x4.mul(radius, f32x4.splat(FREE)), f32x4.splat(margin)));
    const x = f32x4.add(px, f32x4.mul(dx, radius)), y = f32x4.add(py, f32x4.mul(dy, radius)), z = f32x4.add(pz, f32x4.mul(dz, radius));
    shrinking = shrinkLanes(four, nearestFour(x, y, z, v128.and(f32x4.mul(free, free), shrinking), i32x4.splat(0)));
  }
}

/** Shrinks each ball to the triangle that stands in it, by its address; gives which did. */
function shrinkLanes(four: usize, hit: v128): v128 {
  v128.store(scratch, hit, FOUR);
  for (let lane: usize = 0; lane < 16; lane += 4) {
    const triangle = load<u32>(scratch + lane, FOUR);
    store<i32>(scratch + lane, triangle && shrinkTo(four + lane, triangle) ? -1 : 0, FOUR);
  }
  return v128.load(scratch, FOUR);
}

/** Shrinks a ball so that it touches a triangle at what was nearest to its middle; whether that made it smaller. */
function shrinkTo(ball: usize, triangle: usize): bool {
  const radius: f64 = load<f32>(ball, RADIUS);
  const dx: f64 = load<f32>(ball, 48), dy: f64 = load<f32>(ball, 64), dz: f64 = load<f32>(ball, 80);
  const ax = <f64>load<f32>(triangle) - load<f32>(ball), ay = <f64>load<f32>(triangle, 4) - load<f32>(ball, 16);
  const az = <f64>load<f32>(triangle, 8) - load<f32>(ball, 32);
  const ux: f64 = load<f32>(triangle, EDGE_U), uy: f64 = load<f32>(triangle, EDGE_U + 4), uz: f64 = load<f32>(triangle, EDGE_U + 8);
  const wx: f64 = load<f32>(triangle, EDGE_W), wy: f64 = load<f32>(triangle, EDGE_W + 4), wz: f64 = load<f32>(triangle, EDGE_W + 8);
  sharesOf(dx * radius - ax, dy * radius - ay, dz * radius - az, ux, uy, uz, wx, wy, wz);
  const cx = ax + ux * alongU + wx * alongW, cy = ay + uy * alongU + wy * alongW, cz = az + uz * alongU + wz * alongW;
  const square = cx * cx + cy * cy + cz * cz, ahead = cx * dx + cy * dy + cz * dz;
  // Beside the place, not ahead of it: rounding of the surface itself, which no smaller ball would clear.
  if (!(ahead > 1e-9 * sqrt<f64>(square))) return false;
  const next = square / (2 * ahead);
  if (next >= radius) return false;
  store<f32>(ball, load<f32>(ball, RADIUS), BEFORE);
  store<f32>(ball, <f32>next, RADIUS);
  store<u32>(ball, triangle, TOUCHED);
  return true;
}

/** Shares of two edges of a triangle that lead to the place on it nearest to a point seen from its corner. */
let alongU: f64 = 0, alongW: f64 = 0;

function sharesOf(px: f64, py: f64, pz: f64, ux: f64, uy: f64, uz: f64, wx: f64, wy: f64, wz: f64): void {
  const du = ux * px + uy * py + uz * pz, dw = wx * px + wy * py + wz * pz;
  const uu = ux * ux + uy * uy + uz * uz, uw = ux * wx + uy * wy + uz * wz, ww = wx * wx + wy * wy + wz * wz;
  const inside = uu * ww - uw * uw, onU = ww * du - uw * dw, onW = uu * dw - uw * du;
  if (onU > 0 && onW > 0 && onU + onW < inside && inside > 1e-14 * uu * ww) {
    alongU = onU / inside;
    alongW = onW / inside;
    return;
  }
  const u = part(du, uu), w = part(dw, ww), v = part(dw - du - uw + uu, uu - 2 * uw + ww), rest = 1 - v;
  const toU = u * (u * uu - 2 * du), toW = w * (w * ww - 2 * dw);
  const toV = rest * rest * uu + 2 * rest * v * uw + v * v * ww - 2 * (rest * du + v * dw);
  const isU = toU <= toW && toU <= toV, isW = !isU && toW <= toV;
  alongU = isU ? u : isW ? 0 : rest;
  alongW = isU ? 0 : isW ? w : v;
}

// @ts-ignore: decorator
@inline
function part(some: f64, whole: f64): f64 {
  return some <= 0 || whole <= 0 ? 0 : some >= whole ? 1 : some / whole;
}
