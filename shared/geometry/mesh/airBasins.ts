import { squaredDistances } from './distanceField.ts';
import { Groups } from './groups.ts';
import type { VoxelGrid } from './voxelGrid.ts';

/** Air cut at its narrow places: basins, the outside among them, and the cubes in which two basins meet. */
export interface AirBasins {
  /** Basin of each free cube; NO_BASIN in blocked ones. Numbers of basins are cubes of theirs. */
  readonly basinOf: Int32Array;
  /** The basin of all that lies open to the outside. */
  readonly outside: number;
  /** Squared radius of the largest ball in each basin that stands apart, in cube edges. */
  readonly peaks: ReadonlyMap<number, number>;
  readonly contacts: readonly Contact[];
}

/** A cube in which two basins meet. */
export interface Contact {
  readonly cube: number;
  readonly a: number;
  readonly b: number;
}

/** Stands for a cube that is blocked or not yet reached. */
export const NO_BASIN = -1;

/** A basin stands apart when its largest ball is this much wider than the way out (own): less is a bend or a step of the cubes. */
const WIDER = 1.5;
/** And when that ball is this many cubes in radius (own): below it the cubes themselves make basins. */
export const LEAST_RADIUS = 3;

/**
 * Floods the air from its widest places down. Where two floods meet in a place much narrower than both, they stay apart: that is a way out
 * of an enclosed volume. Everything wider than `open` (radius in cube edges) counts as one width.
 */
export function airBasins(grid: VoxelGrid, open: number): AirBasins {
  const distances = squaredDistances(grid);
  const flood = new Flood(grid, distances, Math.floor(open * open));
  for (const cube of flood.order()) flood.reach(cube);
  return flood.basins();
}

class Flood {
  private readonly grid: VoxelGrid;
  private readonly distances: Int32Array;
  private readonly most: number;
  private readonly groups: Groups;
  private readonly basinOf: Int32Array;
  private readonly peaks = new Map<number, number>();
  private readonly contacts: Contact[] = [];
  private readonly steps: readonly number[];
  private outside = NO_BASIN;

  constructor(grid: VoxelGrid, distances: Int32Array, most: number) {
    this.grid = grid;
    this.distances = distances;
    this.most = most;
    this.groups = new Groups(distances.length);
    this.basinOf = new Int32Array(distances.length).fill(NO_BASIN);
    const plane = grid.columns * grid.rows;
    this.steps = [1, -1, grid.columns, -grid.columns, plane, -plane];
    this.floodRim();
  }

  /** Free cubes inside the rim, widest first; of equal width the lower number first. */
  order(): Uint32Array {
    const { distances, most } = this;
    const fill = new Uint32Array(most + 2);
    const level = (cube: number): number => most - Math.min(most, distances[cube] ?? 0);
    let free = 0;
    for (let cube = 0; cube < distances.length; cube++) {
      if (distances[cube] === 0 || this.basinOf[cube] !== NO_BASIN) continue;
      fill[level(cube) + 1] = (fill[level(cube) + 1] ?? 0) + 1;
      free++;
    }
    for (let i = 1; i < fill.length; i++) fill[i] = (fill[i] ?? 0) + (fill[i - 1] ?? 0);
    const order = new Uint32Array(free);
    for (let cube = 0; cube < distances.length; cube++) {
      if (distances[cube] === 0 || this.basinOf[cube] !== NO_BASIN) continue;
      const at = fill[level(cube)] ?? 0;
      fill[level(cube)] = at + 1;
      order[at] = cube;
    }
    return order;
  }

  /** Takes a cube into the basin beside it, or begins one; joins basins that meet here, or notes that they stay apart. */
  reach(cube: number): void {
    const here = Math.min(this.most, this.distances[cube] ?? 0);
    let mine = NO_BASIN;
    for (const step of this.steps) {
      const label = this.basinOf[cube + step] ?? NO_BASIN;
      if (label === NO_BASIN) continue;
      const other = this.groups.of(label);
      if (mine === NO_BASIN) mine = other;
      else if (mine !== other) mine = this.meet(cube, here, mine, other);
    }
    if (mine === NO_BASIN) {
      mine = cube;
      this.peaks.set(cube, here);
    }
    this.basinOf[cube] = mine;
  }

  basins(): AirBasins {
    const { groups, basinOf } = this;
    for (let cube = 0; cube < basinOf.length; cube++) {
      if (basinOf[cube] !== NO_BASIN) basinOf[cube] = groups.of(basinOf[cube] ?? 0);
    }
    const contacts = this.contacts
      .map(({ cube, a, b }) => ({ cube, a: groups.of(a), b: groups.of(b) }))
      .filter(({ a, b }) => a !== b);
    return { basinOf, outside: groups.of(this.outside), peaks: this.peaks, contacts };
  }

  /** The rim is free and as wide as the world, whatever metal stands near it. */
  private floodRim(): void {
    const { columns, rows, layers } = this.grid;
    for (let k = 0; k < layers; k++) {
      for (let j = 0; j < rows; j++) {
        const inner = k > 0 && k < layers - 1 && j > 0 && j < rows - 1;
        for (let i = 0; i < columns; i += inner ? columns - 1 : 1) {
          const cube = i + columns * (j + rows * k);
          if (this.outside === NO_BASIN) this.outside = cube;
          this.basinOf[cube] = this.outside;
        }
      }
    }
    this.peaks.set(this.outside, this.most);
  }

  private meet(cube: number, here: number, a: number, b: number): number {
    const [peakA, peakB] = [this.peaks.get(a) ?? 0, this.peaks.get(b) ?? 0];
    const lower = Math.min(peakA, peakB);
    if (lower >= WIDER * WIDER * here && lower >= LEAST_RADIUS * LEAST_RADIUS) {
      this.contacts.push({ cube, a, b });
      return peakA >= peakB ? a : b;
    }
    this.groups.join(a, b);
    const joined = this.groups.of(a);
    this.peaks.delete(a);
    this.peaks.delete(b);
    this.peaks.set(joined, Math.max(peakA, peakB));
    if (a === this.outside || b === this.outside) this.outside = joined;
    return joined;
  }
}
