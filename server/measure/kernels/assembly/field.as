// The distance of each point, up to a cap. Neighbours share one walk down the tree.
import {
  CHILD, FOUR_BOXES, HELD, HUGE, LEAST_X, LEAST_Y, LEAST_Z, MOST_X, MOST_Y, MOST_Z, NODE_BITS, NOWHERE, TRIANGLE,
} from './layout';
import { BEST, BOX, BOXES, CHILDREN, NODES, ORDER, scratch } from './scratch';
import { mayBeNearer, nearestOf, toTriangle } from './triangle';
import { gap, least, most } from './vector';
import { letWait } from './waiting';

/** Most points that share a walk. */
const SHARED: u32 = 64;

let nodes: usize = 0, triangles: usize = 0;
let xs: usize = 0, ys: usize = 0, zs: usize = 0;
/** The leaf triangle nearest to what came before; 0 for none. */
let seed: usize = 0;

/** Hands over a tree and points in order, padded to a multiple of four with points of the same run. */
export function takeField(tree: usize, leaves: usize, x: usize, y: usize, z: usize): void {
  nodes = tree;
  triangles = leaves;
  xs = x;
  ys = y;
  zs = z;
  seed = 0;
}

/** Distances of points [first, end) up to a cap, `share` of them in one walk (a multiple of 4, up to 64); the cap where it is more. */
export function fieldOf(first: u32, end: u32, share: u32, cap: f32, distances: usize): void {
  const together = min<u32>(share, SHARED);
  for (let from = first; from < end; from += together) shareWalk(from, min<u32>(from + together, end), cap * cap, cap, distances);
}

/** The same for listed runs of points. */
export function fieldOfRuns(list: usize, listed: u32, run: u32, count: u32, cap: f32, distances: usize): void {
  for (let i: u32 = 0; i < listed; i++) {
    const first = load<u32>(list + (<usize>i << 2)) * run;
    fieldOf(first, min<u32>(first + run, count), run, cap, distances);
  }
}

function shareWalk(first: u32, end: u32, cap2: f32, cap: f32, distances: usize): void {
  const own = scratch, from = <usize>first << 2, bytes = (<usize>(end - first) + 3 & ~3) << 2;
  let bound = beginBox(own, from, bytes, cap2);
  const lx = v128.load(own, BOX + LEAST_X), ly = v128.load(own, BOX + LEAST_Y), lz = v128.load(own, BOX + LEAST_Z);
  const mx = v128.load(own, BOX + MOST_X), my = v128.load(own, BOX + MOST_Y), mz = v128.load(own, BOX + MOST_Z);
  let node = nodes, waiting = own;
  while (true) {
    const x = gap(v128.load(node, LEAST_X), v128.load(node, MOST_X), lx, mx);
    const y = gap(v128.load(node, LEAST_Y), v128.load(node, MOST_Y), ly, my);
    const z = gap(v128.load(node, LEAST_Z), v128.load(node, MOST_Z), lz, mz);
    waiting = letWait(own, waiting, <u32>((node - nodes) >> NODE_BITS) << 2, f32x4.add(f32x4.add(x, y), z), bound);
    let next: usize = 0;
    while (waiting > own) {
      waiting -= 4;
      if (load<f32>(waiting, ORDER) >= bound) continue;
      const entry = load<u32>(waiting, CHILDREN);
      const lane = nodes + (<usize>(entry >> 2) << NODE_BITS) + (<usize>(entry & 3) << 2);
      if (load<i32>(lane, HELD) > 0) {
        bound = measureLeaf(own, lane, from, bytes, bound);
        continue;
      }
      next = nodes + (<usize>load<u32>(lane, CHILD) << NODE_BITS);
      break;
    }
    if (!next) break;
    node = next;
  }
  writeDistances(own, distances + from, bytes, cap2, cap);
}

/** Boxes the points and seeds their distances from the triangle nearest to those before; gives the greatest. */
// @ts-ignore: decorator
@inline
function beginBox(own: usize, from: usize, bytes: usize, cap2: f32): f32 {
  let lx = f32x4.splat(HUGE), ly = lx, lz = lx, mx = f32x4.splat(-HUGE), my = mx, mz = mx, worst = f32x4.splat(0);
  for (let at: usize = 0; at < bytes; at += 16) {
    const x = v128.load(xs + from + at), y = v128.load(ys + from + at), z = v128.load(zs + from + at);
    lx = f32x4.pmin(lx, x);
    ly = f32x4.pmin(ly, y);
    lz = f32x4.pmin(lz, z);
    mx = f32x4.pmax(mx, x);
    my = f32x4.pmax(my, y);
    mz = f32x4.pmax(mz, z);
    let square = f32x4.splat(cap2);
    if (seed) square = f32x4.pmin(square, toTriangle(seed, x, y, z));
    v128.store(own + at, square, BEST);
    worst = f32x4.pmax(worst, square);
  }
  v128.store(own, f32x4.splat(least(lx)), BOX + LEAST_X);
  v128.store(own, f32x4.splat(least(ly)), BOX + LEAST_Y);
  v128.store(own, f32x4.splat(least(lz)), BOX + LEAST_Z);
  v128.store(own, f32x4.splat(most(mx)), BOX + MOST_X);
  v128.store(own, f32x4.splat(most(my)), BOX + MOST_Y);
  v128.store(own, f32x4.splat(most(mz)), BOX + MOST_Z);
  return most(worst);
}

/** Measures the points against a leaf, four at a time where its box is near enough; gives the greatest of the distances, squared. */
// @ts-ignore: decorator
@inline
function measureLeaf(own: usize, leaf: usize, from: usize, bytes: usize, bound: f32): f32 {
  const lx = v128.load32_splat(leaf, LEAST_X), ly = v128.load32_splat(leaf, LEAST_Y), lz = v128.load32_splat(leaf, LEAST_Z);
  const mx = v128.load32_splat(leaf, MOST_X), my = v128.load32_splat(leaf, MOST_Y), mz = v128.load32_splat(leaf, MOST_Z);
  const start = triangles + <usize>load<u32>(leaf, CHILD) * TRIANGLE;
  const stop = start + <usize>load<u32>(leaf, HELD) * TRIANGLE;
  let worst = f32x4.splat(0), changed = false;
  for (let at: usize = 0; at < bytes; at += 16) {
    const x = v128.load(xs + from + at), y = v128.load(ys + from + at), z = v128.load(zs + from + at);
    let square = v128.load(own + at, BEST);
    const before = square;
    const toBox = f32x4.add(f32x4.add(gap(lx, mx, x, x), gap(ly, my, y, y)), gap(lz, mz, z, z));
    if (v128.any_true(f32x4.lt(toBox, square)) && mayBeNearer(start, x, y, z, square)) {
      square = nearestOf(start, stop, x, y, z, square);
      if (v128.any_true(f32x4.lt(square, before))) {
        v128.store(own + at, square, BEST);
        seed = start;
        changed = true;
      }
    }
    worst = f32x4.pmax(worst, square);
  }
  return changed ? most(worst) : bound;
}

// @ts-ignore: decorator
@inline
function writeDistances(own: usize, into: usize, bytes: usize, cap2: f32, cap: f32): void {
  for (let at: usize = 0; at < bytes; at += 16) {
    const square = v128.load(own + at, BEST);
    const near = f32x4.lt(square, f32x4.splat(cap2));
    v128.store(into + at, v128.bitselect(f32x4.sqrt(square), f32x4.splat(cap), near));
  }
}

/** Lists the runs of points whose box is nearer than a reach to some leaf box of the tree. */
export function runsNear(tree: usize, levels: usize, levelCount: u32, reach: f32, list: usize): u32 {
  const own = scratch;
  let listed: u32 = 0, top = own;
  for (let box: u32 = 4; box-- > 0; top += 8) {
    store<u32>(top, levelCount - 1, BOXES);
    store<u32>(top, box, BOXES + 4);
  }
  while (top > own) {
    top -= 8;
    const level = load<u32>(top, BOXES), box = load<u32>(top, BOXES + 4);
    const lane = <usize>load<u32>(levels + (<usize>level << 2)) + <usize>(box >> 2) * FOUR_BOXES + (<usize>(box & 3) << 2);
    if (load<f32>(lane) >= NOWHERE || !leafWithin(tree, lane, reach * reach)) continue;
    if (level === 0) {
      store<u32>(list + (<usize>listed << 2), box);
      listed++;
      continue;
    }
    for (let i: u32 = 4; i-- > 0; top += 8) {
      store<u32>(top, level - 1, BOXES);
      store<u32>(top, (box << 2) + i, BOXES + 4);
    }
  }
  return listed;
}

function leafWithin(tree: usize, box: usize, reach2: f32): bool {
  const lx = v128.load32_splat(box, LEAST_X), ly = v128.load32_splat(box, LEAST_Y), lz = v128.load32_splat(box, LEAST_Z);
  const mx = v128.load32_splat(box, MOST_X), my = v128.load32_splat(box, MOST_Y), mz = v128.load32_splat(box, MOST_Z);
  const own = scratch;
  store<u32>(own, 0, NODES);
  for (let top: usize = own + 4; top > own; ) {
    top -= 4;
    const node = tree + (<usize>load<u32>(top, NODES) << NODE_BITS);
    const x = gap(v128.load(node, LEAST_X), v128.load(node, MOST_X), lx, mx);
    const y = gap(v128.load(node, LEAST_Y), v128.load(node, MOST_Y), ly, my);
    const z = gap(v128.load(node, LEAST_Z), v128.load(node, MOST_Z), lz, mz);
    let mask = i32x4.bitmask(f32x4.lt(f32x4.add(f32x4.add(x, y), z), f32x4.splat(reach2)));
    for (; mask; mask &= mask - 1) {
      const lane = node + (<usize>ctz(mask) << 2);
      const held = load<i32>(lane, HELD);
      if (held > 0) return true;
      if (held === 0) {
        store<u32>(top, load<u32>(lane, CHILD), NODES);
        top += 4;
      }
    }
  }
  return false;
}
