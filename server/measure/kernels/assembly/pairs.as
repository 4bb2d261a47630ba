// The nearest pairs of a point and a triangle: both trees are walked down together, nearest boxes first.
import {
  CHILD, FOUR_BOXES, HELD, LEAST_X, LEAST_Y, LEAST_Z, MOST_X, MOST_Y, MOST_Z, NODE_BITS, NOWHERE, NUMBER, TRIANGLE,
} from './layout';
import { FOUR, PAIRS, scratch } from './scratch';
import { LOOSE, mayReach, toTriangle } from './triangle';
import { gap } from './vector';

/** A pair of boxes that waits: level and number of the point box, node x 4 + lane of the other, square of the gap. */
const PAIR: usize = 16;
let levels: usize = 0, nodes: usize = 0, triangles: usize = 0;
let xs: usize = 0, ys: usize = 0, zs: usize = 0;
let points: u32 = 0, run: u32 = 0;
/** Square of the least distance so far, and of that with the margin. */
let best: f32 = 0, reach: f32 = 0, margin: f32 = 0;
/** Candidates: square of the distance, place of the point in order, number of the triangle: 12 bytes each. */
let kept: usize = 0, room: u32 = 0, count: u32 = 0;

/** Hands over the points: coordinates in order, the boxes of each level, points in a run. */
export function takePoints(x: usize, y: usize, z: usize, total: u32, perRun: u32, boxes: usize): void {
  xs = x;
  ys = y;
  zs = z;
  points = total;
  run = perRun;
  levels = boxes;
}

/** Least distance of the last walk, mm. */
export function leastDistance(): f32 {
  return sqrt<f32>(best);
}

// @ts-ignore: decorator
@inline
function boxesOf(level: u32): usize {
  return load<u32>(levels + (<usize>level << 2));
}

/**
 * Lists every pair that may be the nearest: those within a margin of the least distance found, which must be below a limit.
 * Gives how many there are; more than there is room for means that some are not listed.
 */
export function nearestPairs(
  tree: usize, leaves: usize, levelCount: u32, limit: f32, slack: f32, into: usize, most: u32,
): u32 {
  nodes = tree;
  triangles = leaves;
  best = limit * limit;
  margin = slack;
  reach = (limit + slack) * (limit + slack);
  kept = into;
  room = most;
  count = 0;
  const bottom = scratch + PAIRS;
  let top = begin(bottom, levelCount - 1);
  while (top > bottom) {
    top -= PAIR;
    if (load<f32>(top, 12) < reach) top = open(top);
  }
  tidy();
  return count;
}

/** Lets every pair of the uppermost boxes wait; gives the end of what waits. */
function begin(bottom: usize, level: u32): usize {
  let top = bottom;
  for (let box: u32 = 0; box < 4; box++) {
    if (load<f32>(boxesOf(level) + (<usize>box << 2)) >= NOWHERE) continue;
    for (let lane: u32 = 0; lane < 4; lane++) {
      if (load<i32>(nodes + (<usize>lane << 2), HELD) >= 0) top = push(top, level, box, lane, 0);
    }
  }
  return top;
}

/** Written as two words: read again as such while what waits is put in order, halves of them would have to be awaited. */
// @ts-ignore: decorator
@inline
function push(top: usize, level: u32, box: u32, lane: u32, square: f32): usize {
  store<u64>(top, <u64>level | (<u64>box << 32));
  store<u64>(top, <u64>lane | (<u64>reinterpret<u32>(square) << 32), 8);
  return top + PAIR;
}

/** Gap squared between one lane of some boxes and each of four others. */
// @ts-ignore: decorator
@inline
function gaps(one: usize, four: usize): v128 {
  const x = gap(v128.load(four, LEAST_X), v128.load(four, MOST_X), v128.load32_splat(one, LEAST_X), v128.load32_splat(one, MOST_X));
  const y = gap(v128.load(four, LEAST_Y), v128.load(four, MOST_Y), v128.load32_splat(one, LEAST_Y), v128.load32_splat(one, MOST_Y));
  const z = gap(v128.load(four, LEAST_Z), v128.load(four, MOST_Z), v128.load32_splat(one, LEAST_Z), v128.load32_splat(one, MOST_Z));
  return f32x4.add(f32x4.add(x, y), z);
}

// @ts-ignore: decorator
@inline
function size(lane: usize): f32 {
  return load<f32>(lane, MOST_X) - load<f32>(lane, LEAST_X) + (load<f32>(lane, MOST_Y) - load<f32>(lane, LEAST_Y)) +
    (load<f32>(lane, MOST_Z) - load<f32>(lane, LEAST_Z));
}

/**
 * Opens the larger of the two boxes of a pair and lets its parts wait in its place, the nearest on top; measures when neither has parts. Gives the
 * end of what waits.
 */
// @ts-ignore: decorator
@inline
function open(pair: usize): usize {
  const level = load<u32>(pair), box = load<u32>(pair, 4), lane = load<u32>(pair, 8);
  const p = boxesOf(level) + <usize>(box >> 2) * FOUR_BOXES + (<usize>(box & 3) << 2);
  const t = nodes + (<usize>(lane >> 2) << NODE_BITS) + (<usize>(lane & 3) << 2);
  const held = load<u32>(t, HELD);
  if (held === 0 && (level === 0 || size(t) >= size(p))) {
    const child = load<u32>(t, CHILD);
    v128.store(scratch, gaps(p, nodes + (<usize>child << NODE_BITS)), FOUR);
    return pushNearest(pair, level, box, child << 2, 0, 1);
  }
  if (level > 0) {
    v128.store(scratch, gaps(t, boxesOf(level - 1) + <usize>box * FOUR_BOXES), FOUR);
    return pushNearest(pair, level - 1, box << 2, lane, 1, 0);
  }
  measure(box * run, t, load<u32>(t, CHILD), held);
  return pair;
}

/** Lets the four gaps wait that are in reach, farthest first; either the box or the lane counts up with them. */
// @ts-ignore: decorator
@inline
function pushNearest(bottom: usize, level: u32, box: u32, lane: u32, boxStep: u32, laneStep: u32): usize {
  const own = scratch;
  let top = bottom;
  let mask = i32x4.bitmask(f32x4.lt(v128.load(own, FOUR), f32x4.splat(reach)));
  while (mask) {
    const i = <u32>ctz(mask);
    mask &= mask - 1;
    const square = load<f32>(own + (<usize>i << 2), FOUR);
    let at = top;
    while (at > bottom && load<f32>(at - PAIR, 12) < square) {
      store<u64>(at, load<u64>(at - PAIR));
      store<u64>(at, load<u64>(at - PAIR, 8), 8);
      at -= PAIR;
    }
    push(at, level, box + i * boxStep, lane + i * laneStep, square);
    top += PAIR;
  }
  return top;
}

/** Measures a run of points against the triangles of a leaf. */
function measure(first: u32, leaf: usize, triangle: u32, held: u32): void {
  const end = min<u32>(first + run, points);
  const start = triangles + <usize>triangle * TRIANGLE, stop = start + <usize>held * TRIANGLE;
  for (let i = first; i < end; i += 4) {
    const at = <usize>i << 2;
    const x = v128.load(xs + at), y = v128.load(ys + at), z = v128.load(zs + at);
    const toBox = f32x4.add(
      f32x4.add(
        gap(x, x, v128.load32_splat(leaf, LEAST_X), v128.load32_splat(leaf, MOST_X)),
        gap(y, y, v128.load32_splat(leaf, LEAST_Y), v128.load32_splat(leaf, MOST_Y)),
      ),
      gap(z, z, v128.load32_splat(leaf, LEAST_Z), v128.load32_splat(leaf, MOST_Z)),
    );
    if (v128.any_true(f32x4.lt(toBox, f32x4.splat(reach)))) measureFour(i, end, start, stop, x, y, z);
  }
}

/** Measures four points against the triangles of a leaf. */
// @ts-ignore: decorator
@inline
function measureFour(first: u32, end: u32, start: usize, stop: usize, x: v128, y: v128, z: v128): void {
  for (let t = start; t < stop; t += TRIANGLE) {
    if (!mayReach(t, x, y, z, f32x4.splat(reach * LOOSE))) continue;
    const squares = toTriangle(t, x, y, z);
    if (v128.any_true(f32x4.lt(squares, f32x4.splat(reach)))) keepNear(squares, first, end, load<u32>(t, NUMBER));
  }
}

function keepNear(squares: v128, first: u32, end: u32, triangle: u32): void {
  v128.store(scratch, squares, FOUR);
  for (let i: u32 = 0; i < 4 && first + i < end; i++) {
    const square = load<f32>(scratch + (<usize>i << 2), FOUR);
    if (!(square < reach)) continue;
    if (square < best) {
      best = square;
      const beyond = sqrt<f32>(square) + margin;
      reach = beyond * beyond;
    }
    keep(square, first + i, triangle);
  }
}

function keep(square: f32, point: u32, triangle: u32): void {
  if (count === room) tidy();
  if (count < room) {
    const at = kept + <usize>count * 12;
    store<f32>(at, square);
    store<u32>(at, point, 4);
    store<u32>(at, triangle, 8);
  }
  count++;
}

/** Drops the candidates that something nearer has put out of reach. */
function tidy(): void {
  if (count > room) return;
  let left: u32 = 0;
  for (let i: u32 = 0; i < count; i++) {
    const from = kept + <usize>i * 12, to = kept + <usize>left * 12;
    if (!(load<f32>(from) < reach)) continue;
    store<u32>(to, load<u32>(from));
    store<u32>(to, load<u32>(from, 4), 4);
    store<u32>(to, load<u32>(from, 8), 8);
    left++;
  }
  count = left;
}

/** Lists the triangles nearer to one point than a reach; gives how many there are, as above. */
export function trianglesNear(
  tree: usize, leaves: usize, point: u32, radius: f32, into: usize, most: u32,
): u32 {
  nodes = tree;
  triangles = leaves;
  best = 0;
  reach = radius * radius;
  kept = into;
  room = most;
  count = 0;
  const at = <usize>point << 2;
  const x = v128.load32_splat(xs + at), y = v128.load32_splat(ys + at), z = v128.load32_splat(zs + at);
  const bottom = scratch + PAIRS;
  let top = push(bottom, 0, 0, 0, 0);
  while (top > bottom) {
    top -= PAIR;
    const node = nodes + (<usize>load<u32>(top, 8) << NODE_BITS);
    const squares = f32x4.add(
      f32x4.add(
        gap(v128.load(node, LEAST_X), v128.load(node, MOST_X), x, x),
        gap(v128.load(node, LEAST_Y), v128.load(node, MOST_Y), y, y),
      ),
      gap(v128.load(node, LEAST_Z), v128.load(node, MOST_Z), z, z),
    );
    for (let mask = i32x4.bitmask(f32x4.lt(squares, f32x4.splat(reach))); mask; mask &= mask - 1) {
      const lane = node + (<usize>ctz(mask) << 2);
      const held = load<i32>(lane, HELD);
      if (held === 0) top = push(top, 0, 0, load<u32>(lane, CHILD), 0);
      else if (held > 0) listNear(lane, point, x, y, z);
    }
  }
  return count;
}

function listNear(leaf: usize, point: u32, x: v128, y: v128, z: v128): void {
  const start = triangles + <usize>load<u32>(leaf, CHILD) * TRIANGLE;
  for (let t = start, stop = start + <usize>load<u32>(leaf, HELD) * TRIANGLE; t < stop; t += TRIANGLE) {
    const square = f32x4.extract_lane(toTriangle(t, x, y, z), 0);
    if (square < reach) keep(square, point, load<u32>(t, NUMBER));
  }
}
