// The triangle nearest to each of four points, which share one walk down the tree.
import {
  CHILD, HELD, HUGE, LEAST_X, LEAST_Y, LEAST_Z, MOST_X, MOST_Y, MOST_Z, NODE_BITS, NUMBER, TRIANGLE,
} from './layout';
import { CHILDREN, FOUR, ORDER, scratch } from './scratch';
import { LOOSE, mayBeNearer, mayReach, toTriangle } from './triangle';
import { gap, least, most } from './vector';
import { waitAs } from './waiting';

let nodes: usize = 0, triangles: usize = 0;
/** The four points, the squares of the least distances to them and where in memory the triangle of each stands, 0 for none. */
let x = f32x4.splat(0), y = x, z = x, best = x, hit = x;

/** Hands over a tree. */
export function takeNearest(tree: usize, leaves: usize): void {
  nodes = tree;
  triangles = leaves;
}

/**
 * Numbers of the triangles nearest to points. `points` holds x, y and z, one list after the other; each list has `count` places, a multiple of
 * 4; those of [first, end) are done, multiples of 4 as well. Writes where in memory the triangles stand, and their numbers: 0 and -1 where none is
 * nearer than a limit, mm. What stands there from before is where to look first: 0, or as it was written for points that have moved a little since.
 */
export function nearestTriangles(points: usize, count: u32, first: u32, end: u32, limit: f32, into: usize): void {
  const list = <usize>count << 2;
  let found = i32x4.splat(0);
  for (let at = <usize>first << 2, stop = <usize>end << 2; at < stop; at += 16) {
    const px = v128.load(points + at), py = v128.load(points + at + list), pz = v128.load(points + at + 2 * list);
    const before = v128.load(into + at);
    found = nearestFour(px, py, pz, f32x4.splat(limit * limit), v128.any_true(before) ? before : found);
    v128.store(into + at, found);
    v128.store(into + at + list, numbersOf(found));
  }
}

/**
 * Where in memory the triangles nearest to four points stand, 0 where none is nearer than the root of a limit (mm2). `seeds` are some that may be
 * near, or 0: the walk is shorter by them.
 */
export function nearestFour(px: v128, py: v128, pz: v128, limit: v128, seeds: v128): v128 {
  x = px;
  y = py;
  z = pz;
  best = limit;
  hit = i32x4.splat(0);
  if (v128.any_true(seeds)) trySeeds(seeds);
  walk();
  return hit;
}

/** Tries each of four triangles that is another than the one before it. */
function trySeeds(seeds: v128): void {
  const own = scratch;
  v128.store(own, seeds, FOUR);
  let last: usize = 0;
  for (let lane: usize = 0; lane < 16; lane += 4) {
    const seed = <usize>load<u32>(own + lane, FOUR);
    if (seed && seed !== last) tryTriangle(seed);
    last = seed;
  }
}

function walk(): void {
  const own = scratch;
  const lx = f32x4.splat(least(x)), ly = f32x4.splat(least(y)), lz = f32x4.splat(least(z));
  const mx = f32x4.splat(most(x)), my = f32x4.splat(most(y)), mz = f32x4.splat(most(z));
  let node = nodes, waiting = own, bound = most(best);
  while (true) {
    const ax = gap(v128.load(node, LEAST_X), v128.load(node, MOST_X), lx, mx);
    const ay = gap(v128.load(node, LEAST_Y), v128.load(node, MOST_Y), ly, my);
    const az = gap(v128.load(node, LEAST_Z), v128.load(node, MOST_Z), lz, mz);
    waiting = letNear(waiting, node, i32x4.bitmask(f32x4.lt(f32x4.add(f32x4.add(ax, ay), az), f32x4.splat(bound))));
    let next: usize = 0;
    while (waiting > own) {
      waiting -= 4;
      if (load<f32>(waiting, ORDER) >= bound) continue;
      const entry = load<u32>(waiting, CHILDREN);
      const lane = nodes + (<usize>(entry >> 2) << NODE_BITS) + (<usize>(entry & 3) << 2);
      const held = load<i32>(lane, HELD);
      if (held > 0) {
        tryLeaf(triangles + <usize>load<u32>(lane, CHILD) * TRIANGLE, <u32>held);
        bound = most(best);
        continue;
      }
      next = nodes + (<usize>load<u32>(lane, CHILD) << NODE_BITS);
      break;
    }
    if (!next) return;
    node = next;
  }
}

/**
 * Of the children in a mask lets those wait that some of the points is nearer to than to what it has, the nearest last; gives the end of what
 * waits. Points may be far apart, and the box around all four then touches much that is near none of them.
 */
// @ts-ignore: decorator
@inline
function letNear(bottom: usize, node: usize, mask: i32): usize {
  const first = <u32>((node - nodes) >> NODE_BITS) << 2;
  let waiting = bottom;
  for (let left = mask; left; left &= left - 1) {
    const i = <u32>ctz(left);
    const lane = node + (<usize>i << 2);
    const ax = gap(v128.load32_splat(lane, LEAST_X), v128.load32_splat(lane, MOST_X), x, x);
    const ay = gap(v128.load32_splat(lane, LEAST_Y), v128.load32_splat(lane, MOST_Y), y, y);
    const squares = f32x4.add(f32x4.add(ax, ay), gap(v128.load32_splat(lane, LEAST_Z), v128.load32_splat(lane, MOST_Z), z, z));
    const near = f32x4.lt(squares, best);
    if (!v128.any_true(near)) continue;
    waiting = waitAs(bottom, waiting, first + i, least(v128.bitselect(squares, f32x4.splat(HUGE), near)));
  }
  return waiting;
}

function tryLeaf(start: usize, held: u32): void {
  if (!mayBeNearer(start, x, y, z, best)) return;
  for (let t = start, end = start + <usize>held * TRIANGLE; t < end; t += TRIANGLE) {
    if (!mayReach(t, x, y, z, f32x4.mul(best, f32x4.splat(LOOSE)))) continue;
    tryTriangle(t);
  }
}

// @ts-ignore: decorator
@inline
function tryTriangle(t: usize): void {
  const squares = toTriangle(t, x, y, z), nearer = f32x4.lt(squares, best);
  best = v128.bitselect(squares, best, nearer);
  hit = v128.bitselect(i32x4.splat(<i32>t), hit, nearer);
}

/** Numbers of triangles by where in memory they stand, -1 for 0. */
export function numbersOf(found: v128): v128 {
  v128.store(scratch, found, FOUR);
  for (let lane: usize = 0; lane < 16; lane += 4) {
    const triangle = load<u32>(scratch + lane, FOUR);
    store<i32>(scratch + lane, triangle ? load<i32>(triangle, NUMBER) : -1, FOUR);
  }
  return v128.load(scratch, FOUR);
}

