// Points of a scan: put in order once, so that neighbours stand together, then boxed in runs and the boxes in fours upwards.
import { FOUR_BOXES, HUGE, LEAST_X, MOST_X, NOWHERE } from './layout';

let xs: usize = 0, ys: usize = 0, zs: usize = 0, numbers: usize = 0;

/** Hands over points and their numbers, which go with them. */
export function takeOrder(x: usize, y: usize, z: usize, order: usize): void {
  xs = x;
  ys = y;
  zs = z;
  numbers = order;
}

/**
 * Orders points so that every aligned run of 4, 8, 16 ... is close together: halves by the middle of the longest side, again and again. `ranges`
 * lists where points begin and end; those of [from, to) are done, which nothing else may touch.
 */
export function orderRanges(ranges: usize, from: u32, to: u32): void {
  for (let i = from; i < to; i++) {
    const range = ranges + (<usize>i << 3);
    halve(load<u32>(range), load<u32>(range, 4));
  }
}

/** The first step of that: cuts each range in two and lists both, two for one, in `parts`. */
export function cutRanges(ranges: usize, from: u32, to: u32, parts: usize): void {
  for (let i = from; i < to; i++) {
    const range = ranges + (<usize>i << 3), two = parts + (<usize>i << 4);
    const first = load<u32>(range), end = load<u32>(range, 4);
    const middle = cut(first, end);
    store<u32>(two, first);
    store<u32>(two, middle, 4);
    store<u32>(two, middle, 8);
    store<u32>(two, end, 12);
  }
}

// @ts-ignore: decorator
@inline
function extent(axis: usize, first: u32, end: u32): f32 {
  let low: f32 = HUGE, high: f32 = -HUGE;
  for (let at = axis + (<usize>first << 2), stop = axis + (<usize>end << 2); at < stop; at += 4) {
    const one = load<f32>(at);
    low = min<f32>(low, one);
    high = max<f32>(high, one);
  }
  return high - low;
}

function halve(first: u32, end: u32): void {
  if (end - first <= 4) return;
  const middle = cut(first, end);
  halve(first, middle);
  halve(middle, end);
}

/** Brings what is less along the longest side to the front; gives where the rest begins. */
// @ts-ignore: decorator
@inline
function cut(first: u32, end: u32): u32 {
  const count = end - first;
  if (count <= 4) return end;
  const x = extent(xs, first, end), y = extent(ys, first, end), z = extent(zs, first, end);
  const axis = x >= y ? (x >= z ? xs : zs) : y >= z ? ys : zs;
  // The largest power of two that is less than all keeps runs aligned.
  const place = first + (<u32>1 << (31 - clz<u32>(count - 1)));
  select(axis, first, end, place);
  return place;
}

/** Brings the smaller ones before a place and the greater ones behind it. */
function select(axis: usize, first: u32, end: u32, place: u32): void {
  let low = <i32>first, high = <i32>end - 1;
  const wanted = <i32>place;
  while (low < high) {
    const pivot = load<f32>(axis + (<usize>((low + high) >> 1) << 2));
    let i = low, j = high;
    while (i <= j) {
      while (load<f32>(axis + (<usize>i << 2)) < pivot) i++;
      while (load<f32>(axis + (<usize>j << 2)) > pivot) j--;
      if (i > j) break;
      swap(<usize>i << 2, <usize>j << 2);
      i++;
      j--;
    }
    if (wanted <= j) high = j;
    else if (wanted >= i) low = i;
    else return;
  }
}

// @ts-ignore: decorator
@inline
function swapAt(array: usize, p: usize, q: usize): void {
  const one = load<u32>(array + p);
  store<u32>(array + p, load<u32>(array + q));
  store<u32>(array + q, one);
}

// @ts-ignore: decorator
@inline
function swap(p: usize, q: usize): void {
  swapAt(xs, p, q);
  swapAt(ys, p, q);
  swapAt(zs, p, q);
  swapAt(numbers, p, q);
}

/** Boxes of runs of points, four at a time. */
export function boxRuns(x: usize, y: usize, z: usize, count: u32, run: u32, boxes: usize): void {
  const runs = (count + run - 1) / run;
  for (let r: u32 = 0; r < ((runs + 3) & ~3); r++) {
    const lane = boxes + <usize>(r >> 2) * FOUR_BOXES + (<usize>(r & 3) << 2);
    const first = r * run, end = min<u32>(first + run, count);
    boxAxis(lane, x, first, end);
    boxAxis(lane + 16, y, first, end);
    boxAxis(lane + 32, z, first, end);
  }
}

function boxAxis(lane: usize, axis: usize, first: u32, end: u32): void {
  let low: f32 = HUGE, high: f32 = -HUGE;
  for (let i = first; i < end; i++) {
    const one = load<f32>(axis + (<usize>i << 2));
    low = min<f32>(low, one);
    high = max<f32>(high, one);
  }
  store<f32>(lane, first < end ? low : NOWHERE, LEAST_X);
  store<f32>(lane, first < end ? high : NOWHERE, MOST_X);
}

/** Boxes around boxes of the level below, four in one. */
export function boxBoxes(below: usize, groups: u32, boxes: usize): void {
  for (let g: u32 = 0; g < ((groups + 3) & ~3); g++) {
    const lane = boxes + <usize>(g >> 2) * FOUR_BOXES + (<usize>(g & 3) << 2);
    const four = below + <usize>g * FOUR_BOXES;
    for (let axis: usize = 0; axis < 48; axis += 16) {
      let low: f32 = NOWHERE, high: f32 = g < groups ? -HUGE : NOWHERE;
      for (let i: usize = 0; i < 16 && g < groups; i += 4) {
        if (load<f32>(four + i) >= NOWHERE) continue;
        low = min<f32>(low, load<f32>(four + i + axis));
        high = max<f32>(high, load<f32>(four + i + axis, MOST_X));
      }
      store<f32>(lane + axis, low);
      store<f32>(lane + axis, high, MOST_X);
    }
  }
}
