import { mortonKey, orderByKeys } from './morton.ts';
import type { Vec3 } from './vector.ts';

/**
 * A scan ready for distance queries: points sorted along a Morton curve of uniform cells, cut into blocks of BLOCK neighbours, with a
 * pyramid of tight boxes above the blocks. Flat typed arrays throughout, so a grid can be transferred or written as it is.
 * Coordinates are metres from `origin`; Float32 keeps them to 0.1 um within 1 m of it and to 1 um within 16 m.
 */
export interface PointGrid {
  /** xyz of each point, sorted. */
  readonly positions: Float32Array<ArrayBuffer>;
  /** Six numbers a box (least x, y, z, greatest x, y, z): all blocks, then every level above in turn, one box for everything last. */
  readonly boxes: Float32Array<ArrayBuffer>;
  readonly origin: Vec3;
  readonly count: number;
  /**
   * Metres. No place of what was scanned is farther than this from a point, as far as the file says: so a distance to the points overstates
   * the distance to the thing by no more. 0 for a scan that is points itself; above 0 for a surface that was sampled.
   */
  readonly cover: number;
}

/** Points in a block, and boxes under a box of the next level. */
export const BLOCK = 32;
/** Boxes under one box of the level above. */
export const FANOUT = 8;

/** Cells along the longest side: 10 bits an axis fill a 30-bit key. */
const CELLS = 1024;

/** Where each level of the box pyramid begins, in boxes, blocks first; the last entry is the number of boxes. */
export function levelStarts(count: number): readonly number[] {
  const starts = [0];
  let size = Math.ceil(count / BLOCK);
  let end = size;
  while (size > 0) {
    starts.push(end);
    if (size === 1) break;
    size = Math.ceil(size / FANOUT);
    end += size;
  }
  return starts;
}

/**
 * Sorts points into a grid. All coordinates must be finite (readers refuse others before this).
 * @param points xyz triples, metres from origin; not changed
 * @param origin metres, double precision
 * @param cover metres, see PointGrid
 */
export function buildPointGrid(points: Float32Array, origin: Vec3, cover = 0): PointGrid {
  const count = Math.floor(points.length / 3);
  const order = orderByKeys(mortonKeys(points, count));
  const positions = new Float32Array(3 * count);
  for (let i = 0; i < count; i++) {
    const from = 3 * (order[i] ?? 0);
    positions[3 * i] = points[from] ?? 0;
    positions[3 * i + 1] = points[from + 1] ?? 0;
    positions[3 * i + 2] = points[from + 2] ?? 0;
  }
  return gridOfSorted(positions, origin, cover);
}

/** The grid of points that are already in grid order, as read back from disk: only the boxes are made again. */
export function gridOfSorted(positions: Float32Array<ArrayBuffer>, origin: Vec3, cover = 0): PointGrid {
  const count = Math.floor(positions.length / 3);
  const starts = levelStarts(count);
  const boxes = new Float32Array(6 * (starts.at(-1) ?? 0));
  const blocks = Math.ceil(count / BLOCK);
  for (let b = 0; b < blocks; b++) boxOfPoints(positions, boxes, b);
  for (let level = 1; level + 1 < starts.length; level++) {
    const [below, here, end] = [starts[level - 1] ?? 0, starts[level] ?? 0, starts[level + 1] ?? 0];
    for (let b = here; b < end; b++) {
      const first = below + FANOUT * (b - here);
      boxOfBoxes(boxes, { target: b, first, last: Math.min(first + FANOUT, here) });
    }
  }
  return { positions, boxes, origin, count, cover };
}

function boxOfPoints(positions: Float32Array, boxes: Float32Array, block: number): void {
  const end = Math.min(3 * BLOCK * (block + 1), positions.length);
  for (let axis = 0; axis < 3; axis++) {
    let least = Number.POSITIVE_INFINITY;
    let greatest = Number.NEGATIVE_INFINITY;
    for (let i = 3 * BLOCK * block + axis; i < end; i += 3) {
      const x = positions[i] ?? 0;
      if (x < least) least = x;
      if (x > greatest) greatest = x;
    }
    boxes[6 * block + axis] = least;
    boxes[6 * block + 3 + axis] = greatest;
  }
}

function boxOfBoxes(
  boxes: Float32Array,
  run: { readonly target: number; readonly first: number; readonly last: number },
): void {
  for (let axis = 0; axis < 3; axis++) {
    let least = Number.POSITIVE_INFINITY;
    let greatest = Number.NEGATIVE_INFINITY;
    for (let b = run.first; b < run.last; b++) {
      least = Math.min(least, boxes[6 * b + axis] ?? 0);
      greatest = Math.max(greatest, boxes[6 * b + 3 + axis] ?? 0);
    }
    boxes[6 * run.target + axis] = least;
    boxes[6 * run.target + 3 + axis] = greatest;
  }
}

function mortonKeys(points: Float32Array, count: number): Uint32Array {
  const least = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  const greatest = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < 3 * count; i++) {
    const x = points[i] ?? 0;
    const axis = i % 3;
    if (x < (least[axis] ?? 0)) least[axis] = x;
    if (x > (greatest[axis] ?? 0)) greatest[axis] = x;
  }
  const [x0 = 0, y0 = 0, z0 = 0] = least;
  const longest = Math.max(...greatest.map((g, axis) => g - (least[axis] ?? 0)));
  const perMetre = longest > 0 ? (CELLS * (1 - 1e-7)) / longest : 0;
  const keys = new Uint32Array(count);
  for (let i = 0, o = 0; i < count; i++, o += 3) {
    const x = ((points[o] ?? 0) - x0) * perMetre;
    const y = ((points[o + 1] ?? 0) - y0) * perMetre;
    const z = ((points[o + 2] ?? 0) - z0) * perMetre;
    keys[i] = mortonKey(x, y, z);
  }
  return keys;
}
