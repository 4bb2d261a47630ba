import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import { mortonKey, orderByKeys } from '../../../shared/geometry/morton.ts';
import type { Vec3 } from '../../../shared/geometry/vector.ts';
import { tilePointsLimit } from '../../../shared/protocol/tiles.ts';

/*
 * Everything counts in steps of one lattice that begins at the least corner of the scan: so a point's cube, tile and place within it come
 * from the same whole numbers and cannot disagree.
 */

/** The finest step, metres. */
const STEP = 1e-3 / 32;
/** Bits of a step count that stand below a sorting cell: cells of 0.25 mm. */
const CELL_BITS = 3;
/** Bits of a cell count in a key: two keys of ten bits an axis. */
const KEY_BITS = 10;
/** Steps that a coordinate may count: what cells of 2 x 10 bits reach, 262 m. A larger scan has a larger step. */
const MOST_STEPS = 2 ** (CELL_BITS + 2 * KEY_BITS);
/** Points up to which every level has the finest step: what is sent of a small scan is little, and places are picked on it (own). */
const SMALL = 1_000_000;

/** A level, in powers of two of the finest step: side of its cubes, of its tiles, and its step in a large scan. */
interface LevelBits {
  readonly voxel: number;
  readonly side: number;
  readonly step: number;
}
/** Coarse first: cubes of 16, 8, 4, 2 and 1 mm, and all that is left, in tiles of 2048 to 128 mm; 12 bits an axis in a large scan, up to 16 in a small one. */
const LEVELS: readonly LevelBits[] = [
  { voxel: 9, side: 16, step: 4 },
  { voxel: 8, side: 15, step: 3 },
  { voxel: 7, side: 14, step: 2 },
  { voxel: 6, side: 13, step: 1 },
  { voxel: 5, side: 12, step: 0 },
  { voxel: 0, side: 12, step: 0 },
];
const LAST = LEVELS.length - 1;
const NO_LEVEL = 255;

/** A tile with its points. */
export interface CutTile {
  readonly level: number;
  /** Place along x, y, z, in tiles. */
  readonly at: readonly [number, number, number];
  readonly count: number;
  /** Four numbers a point: steps from the tile's corner along x, y, z and nothing; valid until the next tile. */
  readonly points: Uint16Array;
  /** Number in the grid of each point; valid until the next tile. */
  readonly indices: Uint32Array;
}

/** How a scan was cut; lengths in metres. */
export interface CutScan {
  readonly origin: Vec3;
  readonly levels: readonly { readonly voxel: number; readonly side: number; readonly step: number }[];
}

/** Cuts a scan into tiles and hands out each in turn: coarse levels first, along the Morton curve within a level and a tile. */
export function cutTiles(grid: PointGrid, take: (tile: CutTile) => void): CutScan {
  const lattice = latticeOf(grid);
  const sorted = sortAlongCurve(grid, lattice);
  const levels = levelsOf(sorted);
  const stepBits = (level: number): number => (grid.count > SMALL ? (LEVELS[level]?.step ?? 0) : 0);
  for (let level = 0; level <= LAST; level++)
    eachTile({ grid, lattice, sorted, levels }, { level, stepBits: stepBits(level) }, take);
  const [x, y, z] = lattice.least;
  return {
    origin: [grid.origin[0] + x, grid.origin[1] + y, grid.origin[2] + z],
    levels: LEVELS.map(({ voxel, side }, level) => ({
      voxel: level === LAST ? 0 : lattice.step * 2 ** voxel,
      side: lattice.step * 2 ** side,
      step: lattice.step * 2 ** stepBits(level),
    })),
  };
}

interface Lattice {
  /** Metres from the grid's origin. */
  readonly least: Vec3;
  readonly step: number;
}

function latticeOf({ boxes, count }: PointGrid): Lattice {
  // The last box is that of everything.
  const all = count > 0 ? boxes.subarray(boxes.length - 6) : [0, 0, 0, 0, 0, 0];
  const [x = 0, y = 0, z = 0, x1 = 0, y1 = 0, z1 = 0] = all;
  const longest = Math.max(x1 - x, y1 - y, z1 - z);
  let step = STEP;
  while (Math.floor(longest / step) >= MOST_STEPS) step *= 2;
  return { least: [x, y, z], step };
}

/** Steps from the lattice's corner; `o` is where the point begins. */
function stepsAt({ positions }: PointGrid, { least, step }: Lattice, o: number): readonly [number, number, number] {
  return [
    Math.floor(((positions[o] ?? 0) - least[0]) / step),
    Math.floor(((positions[o + 1] ?? 0) - least[1]) / step),
    Math.floor(((positions[o + 2] ?? 0) - least[2]) / step),
  ];
}

/** Points in Morton order of their cells: indices, and the high and low key of each place in that order. */
interface Sorted {
  readonly order: Uint32Array;
  readonly high: Uint32Array;
  readonly low: Uint32Array;
}

function sortAlongCurve(grid: PointGrid, lattice: Lattice): Sorted {
  const [high, low] = [new Uint32Array(grid.count), new Uint32Array(grid.count)];
  for (let i = 0; i < grid.count; i++) {
    const [x, y, z] = stepsAt(grid, lattice, 3 * i);
    low[i] = mortonKey(x >> CELL_BITS, y >> CELL_BITS, z >> CELL_BITS);
    const bits = CELL_BITS + KEY_BITS;
    high[i] = mortonKey(x >> bits, y >> bits, z >> bits);
  }
  const order = orderByKeys(high, orderByKeys(low));
  const inOrder = (keys: Uint32Array): Uint32Array => order.map((i) => keys[i] ?? 0);
  return { order, high: inOrder(high), low: inOrder(low) };
}

/** Whether two places in the order lie in the same cube of so many bits of steps. */
function sameCube({ high, low }: Sorted, bits: number): (a: number, b: number) => boolean {
  const shift = 3 * (bits - CELL_BITS);
  const below = 3 * KEY_BITS;
  if (shift >= below) return (a, b) => (high[a] ?? 0) >>> (shift - below) === (high[b] ?? 0) >>> (shift - below);
  return (a, b) => high[a] === high[b] && (low[a] ?? 0) >>> shift === (low[b] ?? 0) >>> shift;
}

/** The level of each place in the order: a cube that has no point of a coarser level gives the middle one of its own. */
function levelsOf(sorted: Sorted): Uint8Array {
  const count = sorted.order.length;
  const levels = new Uint8Array(count).fill(NO_LEVEL);
  for (let level = 0; level < LAST; level++) {
    const same = sameCube(sorted, LEVELS[level]?.voxel ?? 0);
    for (let from = 0, end = 0; from < count; from = end) {
      let taken = false;
      for (end = from; end < count && same(from, end); end++) if (levels[end] !== NO_LEVEL) taken = true;
      // The middle of the curve's run through a cube is near the middle of the cube.
      if (!taken) levels[(from + end) >> 1] = level;
    }
  }
  return levels.map((level) => Math.min(level, LAST));
}

interface Cutting {
  readonly grid: PointGrid;
  readonly lattice: Lattice;
  readonly sorted: Sorted;
  readonly levels: Uint8Array;
}

interface Wanted {
  readonly level: number;
  readonly stepBits: number;
}

function eachTile(cutting: Cutting, { level, stepBits }: Wanted, take: (tile: CutTile) => void): void {
  const { grid, lattice, sorted, levels } = cutting;
  const side = LEVELS[level]?.side ?? 0;
  const same = sameCube(sorted, side);
  const mask = 2 ** side - 1;
  const points = new Uint16Array(4 * tilePointsLimit);
  const indices = new Uint32Array(tilePointsLimit);
  let [count, first] = [0, -1];
  const close = (): void => {
    if (count === 0) return;
    const [x, y, z] = stepsAt(grid, lattice, 3 * (sorted.order[first] ?? 0));
    const at = [x >> side, y >> side, z >> side] as const;
    take({ level, at, count, points: points.subarray(0, 4 * count), indices: indices.subarray(0, count) });
    count = 0;
  };
  for (let place = 0; place < levels.length; place++) {
    if (levels[place] !== level) continue;
    if (count === tilePointsLimit || (count > 0 && !same(first, place))) close();
    if (count === 0) first = place;
    const index = sorted.order[place] ?? 0;
    indices[count] = index;
    const steps = stepsAt(grid, lattice, 3 * index);
    for (const [axis, n] of steps.entries()) points[4 * count + axis] = (n & mask) >> stepBits;
    count++;
  }
  close();
}
