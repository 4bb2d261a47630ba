import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import { BLOCK, FANOUT, levelStarts } from '../../../shared/geometry/cloud.ts';
import type { Vec3 } from '../../../shared/geometry/vector.ts';

/** Finds the points of a grid nearest to a place (metres from its origin). Holds its own lists: one finder for one thread of work. */
export class NearbyPoints {
  /** Numbers in the grid of what was found last, nearest first, and squares of their distances, m2. */
  readonly found: Int32Array;
  readonly squares: Float64Array;
  /** How many were found. */
  count = 0;
  private readonly grid: PointGrid;
  private readonly starts: readonly number[];
  /** Boxes that wait, their levels and the squares of their distances. */
  private readonly boxes: Int32Array;
  private readonly levels: Int32Array;
  private readonly away: Float64Array;

  /** @param most how many are looked for */
  constructor(grid: PointGrid, most: number) {
    this.grid = grid;
    this.starts = levelStarts(grid.count);
    this.found = new Int32Array(most);
    this.squares = new Float64Array(most);
    // Each level leaves at most all but one of its children waiting.
    this.boxes = new Int32Array(FANOUT * this.starts.length + 1);
    this.levels = new Int32Array(FANOUT * this.starts.length + 1);
    this.away = new Float64Array(FANOUT * this.starts.length + 1);
  }

  /** Finds the nearest points within a reach (metres); gives how many there are. */
  find(place: Vec3, reach: number): number {
    this.count = 0;
    if (this.grid.count === 0) return 0;
    let limit = reach * reach;
    const [highest, last] = [this.starts.length - 2, this.starts.at(-2) ?? 0];
    let top = this.wait(0, last, highest, this.squaredTo(last, place));
    while (top > 0) {
      top--;
      if ((this.away[top] ?? 0) >= limit) continue;
      const box = this.boxes[top] ?? 0;
      const level = this.levels[top] ?? 0;
      if (level === 0) limit = this.look(box, place, limit);
      else top = this.open(box, level, { top, place, limit });
    }
    return this.count;
  }

  private wait(top: number, box: number, level: number, squared: number): number {
    this.boxes[top] = box;
    this.levels[top] = level;
    this.away[top] = squared;
    return top + 1;
  }

  /** Lets the boxes under one wait that are near enough, the nearest on top: it shortens the rest. */
  private open(
    box: number,
    level: number,
    { top, place, limit }: { readonly top: number; readonly place: Vec3; readonly limit: number },
  ): number {
    const [below, here] = [this.starts[level - 1] ?? 0, this.starts[level] ?? 0];
    const first = below + FANOUT * (box - here);
    const end = Math.min(first + FANOUT, here);
    let next = top;
    for (let child = first; child < end; child++) {
      const squared = this.squaredTo(child, place);
      if (squared >= limit) continue;
      next = this.wait(next, child, level - 1, squared);
      // Only the last place matters: the others are asked again when their turn comes.
      if (next - 2 >= top && (this.away[next - 2] ?? 0) < squared) this.swapLast(next);
    }
    return next;
  }

  private swapLast(end: number): void {
    const [one, other] = [end - 1, end - 2];
    const box = this.boxes[one] ?? 0;
    const squared = this.away[one] ?? 0;
    this.boxes[one] = this.boxes[other] ?? 0;
    this.away[one] = this.away[other] ?? 0;
    this.boxes[other] = box;
    this.away[other] = squared;
  }

  private look(block: number, [x, y, z]: Vec3, before: number): number {
    const { positions, count } = this.grid;
    const most = this.found.length;
    let limit = before;
    for (let i = BLOCK * block, end = Math.min(i + BLOCK, count); i < end; i++) {
      const o = 3 * i;
      const dx = (positions[o] ?? 0) - x;
      const dy = (positions[o + 1] ?? 0) - y;
      const dz = (positions[o + 2] ?? 0) - z;
      const squared = dx * dx + dy * dy + dz * dz;
      if (squared >= limit) continue;
      this.insert(i, squared);
      if (this.count === most) limit = this.squares[most - 1] ?? limit;
    }
    return limit;
  }

  private insert(point: number, squared: number): void {
    let at = this.count < this.found.length ? this.count++ : this.count - 1;
    for (; at > 0 && (this.squares[at - 1] ?? 0) > squared; at--) {
      this.squares[at] = this.squares[at - 1] ?? 0;
      this.found[at] = this.found[at - 1] ?? 0;
    }
    this.squares[at] = squared;
    this.found[at] = point;
  }

  private squaredTo(box: number, [x, y, z]: Vec3): number {
    const { boxes } = this.grid;
    const o = 6 * box;
    const dx = Math.max((boxes[o] ?? 0) - x, 0, x - (boxes[o + 3] ?? 0));
    const dy = Math.max((boxes[o + 1] ?? 0) - y, 0, y - (boxes[o + 4] ?? 0));
    const dz = Math.max((boxes[o + 2] ?? 0) - z, 0, z - (boxes[o + 5] ?? 0));
    return dx * dx + dy * dy + dz * dz;
  }
}
