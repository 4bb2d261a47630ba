import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import { BLOCK } from '../../../shared/geometry/cloud.ts';
import type { Vec3 } from '../../../shared/geometry/vector.ts';

/** Side of a cell, metres (own: 2 to 5 mm is the usual grid for telling scanned from not scanned; twice the spacing asked for). */
export const CELL = 0.004;
/** Most cells (own: 128 MB of indices; a header of 1.2 m across in every direction). */
export const MOST_CELLS = 32_000_000;

/** A block of cells in space, metres. */
export interface CellBox {
  readonly least: Vec3;
  /** Cells along x, y, z. */
  readonly size: readonly [number, number, number];
}

/** The cells that hold a box with these corners. */
export function cellBox(least: Vec3, greatest: Vec3): CellBox {
  const along = (axis: 0 | 1 | 2): number => Math.max(1, Math.ceil((greatest[axis] - least[axis]) / CELL));
  return { least, size: [along(0), along(1), along(2)] };
}

/** Number of cells. */
export const cellCount = ({ size }: CellBox): number => size[0] * size[1] * size[2];

/** Index of the cell at a place, or -1 outside. */
export function cellAt({ least, size }: CellBox, x: number, y: number, z: number): number {
  const i = Math.floor((x - least[0]) / CELL);
  const j = Math.floor((y - least[1]) / CELL);
  const k = Math.floor((z - least[2]) / CELL);
  if (i < 0 || j < 0 || k < 0 || i >= size[0] || j >= size[1] || k >= size[2]) return -1;
  return i + size[0] * (j + size[1] * k);
}

/** Cells that hold points, with the middle of the points of each. */
export class ScannedCells {
  readonly box: CellBox;
  /** Slot of each cell's sums, from 1 on; 0 for a cell without points. */
  private readonly slots: Uint32Array;
  private sums = new Float64Array(4 * 4096);
  private used = 0;

  constructor(box: CellBox) {
    this.box = box;
    this.slots = new Uint32Array(cellCount(box));
  }

  /** Takes in the points of a scan that lie in the box. */
  add(grid: PointGrid): void {
    for (let block = 0; block * BLOCK < grid.count; block++) if (this.meets(grid, block)) this.addBlock(grid, block);
  }

  /** Whether the box around a block of points meets the cells. */
  private meets({ boxes, origin }: PointGrid, block: number): boolean {
    const { least, size } = this.box;
    for (let axis = 0; axis < 3; axis++) {
      const low = (least[axis] ?? 0) - (origin[axis] ?? 0);
      if ((boxes[6 * block + 3 + axis] ?? 0) < low) return false;
      if ((boxes[6 * block + axis] ?? 0) > low + CELL * (size[axis] ?? 0)) return false;
    }
    return true;
  }

  private addBlock({ positions, origin, count }: PointGrid, block: number): void {
    const end = Math.min(BLOCK * (block + 1), count);
    for (let i = BLOCK * block; i < end; i++) {
      const x = (positions[3 * i] ?? 0) + origin[0];
      const y = (positions[3 * i + 1] ?? 0) + origin[1];
      const z = (positions[3 * i + 2] ?? 0) + origin[2];
      const cell = cellAt(this.box, x, y, z);
      if (cell >= 0) this.addTo(cell, x, y, z);
    }
  }

  /** Middle of the points in a cell; null when it has none. */
  middle(cell: number): Vec3 | null {
    const slot = this.slots[cell] ?? 0;
    if (slot === 0) return null;
    const [x = 0, y = 0, z = 0, n = 1] = this.sums.subarray(4 * (slot - 1), 4 * slot);
    return [x / n, y / n, z / n];
  }

  /** Whether a cell holds points. */
  has(cell: number): boolean {
    return (this.slots[cell] ?? 0) > 0;
  }

  private addTo(cell: number, x: number, y: number, z: number): void {
    let slot = this.slots[cell] ?? 0;
    if (slot === 0) {
      slot = ++this.used;
      this.slots[cell] = slot;
      if (4 * slot > this.sums.length) {
        const more = new Float64Array(2 * this.sums.length);
        more.set(this.sums);
        this.sums = more;
      }
    }
    const { sums } = this;
    const o = 4 * (slot - 1);
    sums[o] = (sums[o] ?? 0) + x;
    sums[o + 1] = (sums[o + 1] ?? 0) + y;
    sums[o + 2] = (sums[o + 2] ?? 0) + z;
    sums[o + 3] = (sums[o + 3] ?? 0) + 1;
  }
}
