// The tree over the triangles: cut in two by the surface-area heuristic over bins, then folded to four children a node.
import {
  CHILD, COUNT_ONLY, EDGE_U, EDGE_W, HELD, HUGE, LEAST_X, MOST_X, NODE, NODE_BITS, NOWHERE, TRIANGLE,
} from './layout';
import { boxLeaf } from './plane';
import { scratch, TREE } from './scratch';

const LEAF: u32 = 8;
const BINS: i32 = 16;
/** A node with two children: least corner, first child or first triangle, greatest corner, triangles held (0 unless a leaf). */
const TWO: usize = 32;
const FIRST: usize = 12;
const COUNT: usize = 28;

/** What is written down while a tree is built: offsets in the room of this instance. */
const STACK: usize = TREE;
const SPREAD: usize = TREE + 4096;
const BIN_BOX: usize = TREE + 4128;
const BIN_COUNT: usize = TREE + 4640;
const AFTER_COST: usize = TREE + 4704;
const CHOSEN: usize = TREE + 4768;

/** Boxes of the triangles (least and greatest corner as vectors) and their first order. */
function boxTriangles(positions: usize, indices: usize, count: u32, boxes: usize, order: usize): void {
  for (let t: u32 = 0; t < count; t++) {
    const corners = indices + <usize>t * 12;
    const a = v128.load(positions + <usize>load<u32>(corners) * 12);
    const b = v128.load(positions + <usize>load<u32>(corners, 4) * 12);
    const c = v128.load(positions + <usize>load<u32>(corners, 8) * 12);
    const box = boxes + (<usize>t << 5);
    v128.store(box, f32x4.pmin(a, f32x4.pmin(b, c)));
    v128.store(box, f32x4.pmax(a, f32x4.pmax(b, c)), 16);
    store<u32>(order + (<usize>t << 2), t);
  }
}

// @ts-ignore: decorator
@inline
function boxOf(boxes: usize, order: usize, i: u32): usize {
  return boxes + (<usize>load<u32>(order + (<usize>i << 2)) << 5);
}

/** Fits a node to its triangles; leaves how far their double middles spread. */
function fit(node: usize, boxes: usize, order: usize, first: u32, end: u32): void {
  let low = f32x4.splat(HUGE), high = f32x4.splat(-HUGE), from = low, to = high;
  for (let i = first; i < end; i++) {
    const box = boxOf(boxes, order, i);
    const a = v128.load(box), b = v128.load(box, 16), middle = f32x4.add(a, b);
    low = f32x4.pmin(low, a);
    high = f32x4.pmax(high, b);
    from = f32x4.pmin(from, middle);
    to = f32x4.pmax(to, middle);
  }
  v128.store(node, i32x4.replace_lane(low, 3, load<i32>(node, FIRST)));
  v128.store(node, i32x4.replace_lane(high, 3, load<i32>(node, COUNT)), 16);
  v128.store((scratch + SPREAD), from);
  v128.store((scratch + SPREAD), f32x4.sub(to, from), 16);
}

// @ts-ignore: decorator
@inline
function halfSurface(low: v128, high: v128): f32 {
  const size = f32x4.sub(high, low);
  const x = f32x4.extract_lane(size, 0), y = f32x4.extract_lane(size, 1), z = f32x4.extract_lane(size, 2);
  return x * y + y * z + z * x;
}

// @ts-ignore: decorator
@inline
function binOf(box: usize, axis: usize, from: f32, scale: f32): i32 {
  return <i32>((load<f32>(box + axis) + load<f32>(box + axis, 16) - from) * scale);
}

function fillBins(boxes: usize, order: usize, first: u32, end: u32, axis: usize, from: f32, scale: f32): void {
  for (let b: usize = 0; b < 16; b++) {
    v128.store((scratch + BIN_BOX) + (b << 5), f32x4.splat(HUGE));
    v128.store((scratch + BIN_BOX) + (b << 5), f32x4.splat(-HUGE), 16);
    store<u32>((scratch + BIN_COUNT) + (b << 2), 0);
  }
  for (let i = first; i < end; i++) {
    const box = boxOf(boxes, order, i);
    const b = <usize>binOf(box, axis, from, scale);
    const bin = (scratch + BIN_BOX) + (b << 5);
    v128.store(bin, f32x4.pmin(v128.load(bin), v128.load(box)));
    v128.store(bin, f32x4.pmax(v128.load(bin, 16), v128.load(box, 16)), 16);
    store<u32>((scratch + BIN_COUNT) + (b << 2), load<u32>((scratch + BIN_COUNT) + (b << 2)) + 1);
  }
}

/** Cost of a run of bins: half its surface times its packets of four. */
// @ts-ignore: decorator
@inline
function cost(low: v128, high: v128, count: u32): f32 {
  return count ? halfSurface(low, high) * <f32>((count + 3) >> 2) : HUGE;
}

/** The last bin of the left part. */
function cheapestCut(): i32 {
  let low = f32x4.splat(HUGE), high = f32x4.splat(-HUGE);
  let count: u32 = 0;
  for (let b: usize = 15; b > 0; b--) {
    low = f32x4.pmin(low, v128.load((scratch + BIN_BOX) + (b << 5)));
    high = f32x4.pmax(high, v128.load((scratch + BIN_BOX) + (b << 5), 16));
    count += load<u32>((scratch + BIN_COUNT) + (b << 2));
    store<f32>((scratch + AFTER_COST) + (b << 2), cost(low, high, count));
  }
  low = f32x4.splat(HUGE);
  high = f32x4.splat(-HUGE);
  count = 0;
  let best: f32 = HUGE, cut = 0;
  for (let b: usize = 0; b < 15; b++) {
    low = f32x4.pmin(low, v128.load((scratch + BIN_BOX) + (b << 5)));
    high = f32x4.pmax(high, v128.load((scratch + BIN_BOX) + (b << 5), 16));
    count += load<u32>((scratch + BIN_COUNT) + (b << 2));
    const both = cost(low, high, count) + load<f32>((scratch + AFTER_COST) + (b << 2), 4);
    if (both < best) {
      best = both;
      cut = <i32>b;
    }
  }
  return cut;
}

/** Parts a run of the order in two and gives where the second begins; both hold something. */
function split(boxes: usize, order: usize, first: u32, end: u32, depth: i32): u32 {
  const halves = first + ((end - first) >> 1);
  const x = load<f32>((scratch + SPREAD), 16), y = load<f32>((scratch + SPREAD), 20), z = load<f32>((scratch + SPREAD), 24);
  const axis: usize = x >= y ? (x >= z ? 0 : 8) : y >= z ? 4 : 8;
  const extent = load<f32>((scratch + SPREAD) + axis, 16), from = load<f32>((scratch + SPREAD) + axis);
  if (!(extent > 1e-20) || depth >= COUNT_ONLY) return halves;
  const scale = <f32>BINS * <f32>0.99999 / extent;
  fillBins(boxes, order, first, end, axis, from, scale);
  const cut = cheapestCut();
  let i = <i32>first, j = <i32>end - 1;
  while (i <= j) {
    if (binOf(boxOf(boxes, order, i), axis, from, scale) <= cut) {
      i++;
      continue;
    }
    const p = order + (<usize>i << 2), q = order + (<usize>j << 2), t = load<u32>(p);
    store<u32>(p, load<u32>(q));
    store<u32>(q, t);
    j--;
  }
  return <u32>i === first || <u32>i === end ? halves : i;
}

// @ts-ignore: decorator
@inline
function begin(nodes: usize, node: u32, first: u32, count: u32): void {
  const at = nodes + <usize>node * TWO;
  store<u32>(at, first, FIRST);
  store<u32>(at, count, COUNT);
}

/** The tree of two children a node. Gives how many nodes it has. Needs 32 bytes a triangle for boxes, 64 for nodes. */
export function buildBinary(
  positions: usize, indices: usize, count: u32, boxes: usize, order: usize, nodes: usize,
): u32 {
  boxTriangles(positions, indices, count, boxes, order);
  let made: u32 = 1;
  begin(nodes, 0, 0, count);
  store<u64>((scratch + STACK), 0);
  let waiting = (scratch + STACK) + 8;
  while (waiting > (scratch + STACK)) {
    waiting -= 8;
    const node = nodes + <usize>load<u32>(waiting) * TWO;
    const depth = load<i32>(waiting, 4);
    const first = load<u32>(node, FIRST), held = load<u32>(node, COUNT);
    fit(node, boxes, order, first, first + held);
    if (held <= LEAF) continue;
    const middle = split(boxes, order, first, first + held, depth);
    begin(nodes, made, first, middle - first);
    begin(nodes, made + 1, middle, first + held - middle);
    store<u32>(node, made, FIRST);
    store<u32>(node, 0, COUNT);
    for (let k: u32 = 0; k < 2; k++) {
      store<u32>(waiting, made + k);
      store<i32>(waiting, depth + 1, 4);
      waiting += 8;
    }
    made += 2;
  }
  return made;
}

/** Chooses up to four nodes that together hold what one holds, opening the largest first. */
function choose(binary: usize, node: u32): u32 {
  store<u32>((scratch + CHOSEN), node);
  let count: u32 = 1;
  while (count < 4) {
    let widest: f32 = -1, at: usize = 0;
    for (let i: u32 = 0; i < count; i++) {
      const one = binary + <usize>load<u32>((scratch + CHOSEN) + (<usize>i << 2)) * TWO;
      if (load<u32>(one, COUNT)) continue;
      const surface = halfSurface(v128.load(one), v128.load(one, 16));
      if (surface <= widest) continue;
      widest = surface;
      at = (scratch + CHOSEN) + (<usize>i << 2);
    }
    if (!at) break;
    const first = load<u32>(binary + <usize>load<u32>(at) * TWO, FIRST);
    store<u32>(at, first);
    store<u32>((scratch + CHOSEN) + (<usize>count << 2), first + 1);
    count++;
  }
  return count;
}

/** Folds a tree of two children a node into one of four; gives how many nodes that has. Children stand behind their parents. */
export function foldToFour(binary: usize, nodes: usize): u32 {
  let made: u32 = 1;
  store<u64>((scratch + STACK), 0);
  let waiting = (scratch + STACK) + 8;
  while (waiting > (scratch + STACK)) {
    waiting -= 8;
    const into = nodes + (<usize>load<u32>(waiting, 4) << NODE_BITS);
    const count = choose(binary, load<u32>(waiting));
    for (let i: u32 = 0; i < 4; i++) {
      const lane = into + (<usize>i << 2);
      if (i >= count) {
        for (let k: usize = 0; k < 6; k++) store<f32>(lane + (k << 4), NOWHERE);
        store<i32>(lane, 0, CHILD);
        store<i32>(lane, -1, HELD);
        continue;
      }
      const from = load<u32>((scratch + CHOSEN) + (<usize>i << 2));
      const one = binary + <usize>from * TWO;
      setBox(lane, v128.load(one), v128.load(one, 16));
      const held = load<u32>(one, COUNT);
      store<u32>(lane, held, HELD);
      store<u32>(lane, held ? load<u32>(one, FIRST) : made, CHILD);
      if (held) continue;
      store<u32>(waiting, from);
      store<u32>(waiting, made++, 4);
      waiting += 8;
    }
  }
  return made;
}

// @ts-ignore: decorator
@inline
function setBox(lane: usize, low: v128, high: v128): void {
  store<f32>(lane, f32x4.extract_lane(low, 0), LEAST_X);
  store<f32>(lane, f32x4.extract_lane(low, 1), LEAST_X + 16);
  store<f32>(lane, f32x4.extract_lane(low, 2), LEAST_X + 32);
  store<f32>(lane, f32x4.extract_lane(high, 0), MOST_X);
  store<f32>(lane, f32x4.extract_lane(high, 1), MOST_X + 16);
  store<f32>(lane, f32x4.extract_lane(high, 2), MOST_X + 32);
}

function fitToTriangles(lane: usize, triangles: usize): void {
  let low = f32x4.splat(HUGE), high = f32x4.splat(-HUGE);
  const first = <usize>load<u32>(lane, CHILD), held = <usize>load<u32>(lane, HELD);
  for (let t = triangles + first * TRIANGLE, end = t + held * TRIANGLE; t < end; t += TRIANGLE) {
    const a = v128.load(t), b = f32x4.add(a, v128.load(t, EDGE_U)), c = f32x4.add(a, v128.load(t, EDGE_W));
    low = f32x4.pmin(low, f32x4.pmin(a, f32x4.pmin(b, c)));
    high = f32x4.pmax(high, f32x4.pmax(a, f32x4.pmax(b, c)));
  }
  setBox(lane, low, high);
}

function fitToChildren(lane: usize, nodes: usize): void {
  const node = nodes + (<usize>load<u32>(lane, CHILD) << NODE_BITS);
  for (let axis: usize = 0; axis < 48; axis += 16) {
    let low: f32 = HUGE, high: f32 = -HUGE;
    for (let i: usize = 0; i < 16; i += 4) {
      if (load<i32>(node + i, HELD) < 0) continue;
      low = min<f32>(low, load<f32>(node + i + axis));
      high = max<f32>(high, load<f32>(node + i + axis, MOST_X));
    }
    store<f32>(lane + axis, low);
    store<f32>(lane + axis, high, MOST_X);
  }
}

/** Boxes the triangles of each leaf in their own frame. */
export function boxLeaves(nodes: usize, count: u32, triangles: usize): void {
  for (let node = nodes, end = nodes + <usize>count * NODE; node < end; node += NODE) {
    for (let lane = node; lane < node + 16; lane += 4) {
      const held = load<i32>(lane, HELD);
      if (held > 0) boxLeaf(triangles + <usize>load<u32>(lane, CHILD) * TRIANGLE, held);
    }
  }
}

/** Fits the boxes anew to triangles that have moved; what holds what stays. */
export function refit(nodes: usize, count: u32, triangles: usize): void {
  for (let node = nodes + <usize>count * NODE; node > nodes; ) {
    node -= NODE;
    for (let lane = node; lane < node + 16; lane += 4) {
      const held = load<i32>(lane, HELD);
      if (held > 0) {
        fitToTriangles(lane, triangles);
        boxLeaf(triangles + <usize>load<u32>(lane, CHILD) * TRIANGLE, held);
      }
      if (held === 0) fitToChildren(lane, nodes);
    }
  }
}
