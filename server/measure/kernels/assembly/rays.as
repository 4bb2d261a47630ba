// Rays against the tree, four neighbours at a time: they share one walk, and each triangle is tried by all four.
import {
  AXIS_X, AXIS_Y, CHILD, HELD, HUGE, LEAST_X, LEAST_Y, LEAST_Z, MOST_X, MOST_Y, MOST_Z, NODE_BITS, NORMAL, NUMBER, SLACK,
  TRIANGLE,
} from './layout';
import { HAIR } from './plane';
import { CHILDREN, ORDER, scratch } from './scratch';
import { along, inside } from './triangle';
import { dot, least, most } from './vector';
import { waitAs } from './waiting';

/** Neighbours are looked for this much farther than the last four met something (own: 1.1 and 1.5 are slower). */
const FARTHER: f32 = 1.25;
/** A box reaches this much farther than rounding lets it. */
const WIDER: f32 = 1.0000004;
/** Stands for a direction's zero: its inverse times a zero is then a number. */
const NEARLY_ZERO: f32 = 1e-30;

let nodes: usize = 0, triangles: usize = 0;
let ox = f32x4.splat(0), oy = ox, oz = ox, dx = ox, dy = ox, dz = ox, ix = ox, iy = ox, iz = ox;
let own = ox, best = ox, hit = ox, near = ox;
/** The box around all four, from where they start to what they have met, each bound in four lanes. */
let lowX = ox, lowY = ox, lowZ = ox, highX = ox, highY = ox, highZ = ox;

/**
 * Where rays first meet a triangle other than their own. `rays` holds, one list after the other, x, y, z, the three parts of the directions
 * (unit vectors) and the number of each ray's own triangle; each list has `count` places, and those of
 * [first, end) are cast, all multiples of 4. Writes the distances (mm; `limit`
 * where nothing is met before) and the numbers of the triangles (-1).
 */
export function castRays(
  tree: usize, leaves: usize, rays: usize, count: u32, first: u32, end: u32, from: f32, limit: f32, into: usize,
): void {
  nodes = tree;
  triangles = leaves;
  near = f32x4.splat(from);
  let guess = limit;
  const list = <usize>count << 2;
  for (let at = rays + (<usize>first << 2), stop = rays + (<usize>end << 2); at < stop; at += 16) {
    ox = v128.load(at);
    oy = v128.load(at + list);
    oz = v128.load(at + 2 * list);
    dx = v128.load(at + 3 * list);
    dy = v128.load(at + 4 * list);
    dz = v128.load(at + 5 * list);
    own = v128.load(at + 6 * list);
    ix = inverse(dx);
    iy = inverse(dy);
    iz = inverse(dz);
    hit = i32x4.splat(-1);
    guess = castFour(guess, limit);
    v128.store(into + (at - rays), best);
    v128.store(into + (at - rays) + list, hit);
  }
}

/** Casts four, at first only as far as a guess: short rays pass few boxes. Gives the guess for the next four. */
// @ts-ignore: decorator
@inline
function castFour(guess: f32, limit: f32): f32 {
  best = f32x4.splat(guess);
  let far = guess, none = hit;
  while (true) {
    walk(far);
    none = i32x4.lt_s(hit, i32x4.splat(0));
    if (far >= limit || !v128.any_true(none)) break;
    far = limit;
    best = v128.bitselect(f32x4.splat(limit), best, none);
  }
  return v128.any_true(none) ? limit : min<f32>(limit, most(best) * FARTHER);
}

// @ts-ignore: decorator
@inline
function inverse(d: v128): v128 {
  const small = f32x4.lt(f32x4.abs(d), f32x4.splat(NEARLY_ZERO));
  return f32x4.div(f32x4.splat(1), v128.bitselect(f32x4.splat(NEARLY_ZERO), d, small));
}

// @ts-ignore: decorator
@inline
function walk(limit: f32): void {
  const room = scratch;
  let bound = limit, node = nodes, waiting = room;
  boxRays();
  while (true) {
    waiting = letEntered(waiting, node);
    let next: usize = 0;
    while (waiting > room) {
      waiting -= 4;
      if (load<f32>(waiting, ORDER) >= bound) continue;
      const entry = load<u32>(waiting, CHILDREN);
      const lane = nodes + (<usize>(entry >> 2) << NODE_BITS) + (<usize>(entry & 3) << 2);
      const held = load<i32>(lane, HELD);
      if (held > 0) {
        tryLeaf(triangles + <usize>load<u32>(lane, CHILD) * TRIANGLE, <u32>held);
        const met = most(best);
        if (met < bound) {
          bound = met;
          boxRays();
        }
        continue;
      }
      next = nodes + (<usize>load<u32>(lane, CHILD) << NODE_BITS);
      break;
    }
    if (!next) return;
    node = next;
  }
}

// @ts-ignore: decorator
@inline
function boxRays(): void {
  const x = f32x4.add(ox, f32x4.mul(dx, best)), y = f32x4.add(oy, f32x4.mul(dy, best)), z = f32x4.add(oz, f32x4.mul(dz, best));
  const slack = f32x4.splat(HAIR);
  lowX = f32x4.sub(f32x4.splat(least(f32x4.pmin(ox, x))), slack);
  lowY = f32x4.sub(f32x4.splat(least(f32x4.pmin(oy, y))), slack);
  lowZ = f32x4.sub(f32x4.splat(least(f32x4.pmin(oz, z))), slack);
  highX = f32x4.add(f32x4.splat(most(f32x4.pmax(ox, x))), slack);
  highY = f32x4.add(f32x4.splat(most(f32x4.pmax(oy, y))), slack);
  highZ = f32x4.add(f32x4.splat(most(f32x4.pmax(oz, z))), slack);
}

/** Lets the children wait that some ray enters before what it has met, the first entered last; gives the end of what waits. */
// @ts-ignore: decorator
@inline
function letEntered(bottom: usize, node: usize): usize {
  let waiting = bottom;
  const first = <u32>((node - nodes) >> NODE_BITS) << 2;
  const x = v128.and(f32x4.le(v128.load(node, LEAST_X), highX), f32x4.ge(v128.load(node, MOST_X), lowX));
  const y = v128.and(f32x4.le(v128.load(node, LEAST_Y), highY), f32x4.ge(v128.load(node, MOST_Y), lowY));
  const z = v128.and(f32x4.le(v128.load(node, LEAST_Z), highZ), f32x4.ge(v128.load(node, MOST_Z), lowZ));
  const there = i32x4.ge_s(v128.load(node, HELD), i32x4.splat(0));
  // First all four children at once by the box around the rays: of short rays that leaves few.
  for (let mask = i32x4.bitmask(v128.and(v128.and(x, y), v128.and(z, there))); mask; mask &= mask - 1) {
    const i = <u32>ctz(mask);
    const lane = node + (<usize>i << 2);
    const ax = f32x4.mul(f32x4.sub(v128.load32_splat(lane, LEAST_X), ox), ix);
    const bx = f32x4.mul(f32x4.sub(v128.load32_splat(lane, MOST_X), ox), ix);
    const ay = f32x4.mul(f32x4.sub(v128.load32_splat(lane, LEAST_Y), oy), iy);
    const by = f32x4.mul(f32x4.sub(v128.load32_splat(lane, MOST_Y), oy), iy);
    const az = f32x4.mul(f32x4.sub(v128.load32_splat(lane, LEAST_Z), oz), iz);
    const bz = f32x4.mul(f32x4.sub(v128.load32_splat(lane, MOST_Z), oz), iz);
    const enter = f32x4.pmax(f32x4.pmax(f32x4.pmin(ax, bx), f32x4.pmin(ay, by)), f32x4.pmax(f32x4.pmin(az, bz), near));
    const leave = f32x4.pmin(f32x4.pmin(f32x4.pmax(ax, bx), f32x4.pmax(ay, by)), f32x4.pmax(az, bz));
    const through = v128.and(f32x4.le(enter, f32x4.mul(leave, f32x4.splat(WIDER))), f32x4.lt(enter, best));
    if (!v128.any_true(through)) continue;
    const soonest = least(v128.bitselect(enter, f32x4.splat(HUGE), through));
    waiting = waitAs(bottom, waiting, first + i, soonest);
  }
  return waiting;
}

/**
 * Where a ray meets the plane, by the unit normal built in double precision, then which side of each edge that is, as a length: weights of
 * corners from products of edges swing wildly where a ray grazes or a triangle is a sliver. One without a plane is met by nothing.
 */
// @ts-ignore: decorator
@inline
function tryLeaf(start: usize, held: u32): void {
  for (let t = start, end = start + <usize>held * TRIANGLE; t < end; t += TRIANGLE) {
    const nx = v128.load32_splat(t, NORMAL), ny = v128.load32_splat(t, NORMAL + 4), nz = v128.load32_splat(t, NORMAL + 8);
    const tx = f32x4.sub(ox, v128.load32_splat(t)), ty = f32x4.sub(oy, v128.load32_splat(t, 4)), tz = f32x4.sub(oz, v128.load32_splat(t, 8));
    const away = f32x4.neg(f32x4.div(dot(tx, ty, tz, nx, ny, nz), dot(dx, dy, dz, nx, ny, nz)));
    const number = v128.load32_splat(t, NUMBER);
    const ahead = v128.andnot(v128.and(f32x4.gt(away, near), f32x4.lt(away, best)), i32x4.eq(number, own));
    if (!v128.any_true(ahead)) continue;
    const px = f32x4.add(tx, f32x4.mul(away, dx)), py = f32x4.add(ty, f32x4.mul(away, dy)), pz = f32x4.add(tz, f32x4.mul(away, dz));
    const side = inside(t, along(t + AXIS_X, px, py, pz), along(t + AXIS_Y, px, py, pz));
    const meets = v128.and(ahead, f32x4.ge(side, v128.load32_splat(t, SLACK)));
    best = v128.bitselect(away, best, meets);
    hit = v128.bitselect(number, hit, meets);
  }
}
