import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import { BLOCK, FANOUT, levelStarts } from '../../../shared/geometry/cloud.ts';

/** Where the search stands: used again for every point, so that thousands cost no memory. */
interface Search {
  readonly grid: PointGrid;
  readonly at: readonly [number, number, number];
  /** Square of the distance to the nearest so far, m2. */
  best: number;
}

/** Distance from a point of the grid to the nearest point at another place, metres; infinite when there is none. */
export function nearestOther(grid: PointGrid, index: number): number {
  const { positions, count } = grid;
  const [x = 0, y = 0, z = 0] = positions.subarray(3 * index, 3 * index + 3);
  const search: Search = { grid, at: [x, y, z], best: Number.POSITIVE_INFINITY };
  // Neighbours in grid order are mostly near: they give a bound that prunes nearly everything.
  visit(search, Math.floor(index / BLOCK));
  const starts = levelStarts(count);
  const stack: number[] = [starts.length - 2, starts.at(-2) ?? 0];
  while (stack.length > 0) {
    const [box = 0, level = 0] = [stack.pop(), stack.pop()];
    if (squaredToBox(search, box) >= search.best) continue;
    if (level === 0) {
      visit(search, box);
      continue;
    }
    const [below = 0, here = 0] = [starts[level - 1], starts[level]];
    const first = below + FANOUT * (box - here);
    for (let child = first; child < Math.min(first + FANOUT, here); child++)
      if (squaredToBox(search, child) < search.best) stack.push(level - 1, child);
  }
  return Math.sqrt(search.best);
}

function visit(search: Search, block: number): void {
  const { positions, count } = search.grid;
  const [x, y, z] = search.at;
  const end = 3 * Math.min(BLOCK * (block + 1), count);
  for (let o = 3 * BLOCK * block; o < end; o += 3) {
    const squared =
      ((positions[o] ?? 0) - x) ** 2 + ((positions[o + 1] ?? 0) - y) ** 2 + ((positions[o + 2] ?? 0) - z) ** 2;
    if (squared > 0 && squared < search.best) search.best = squared;
  }
}

function squaredToBox({ grid: { boxes }, at }: Search, box: number): number {
  let squared = 0;
  for (let axis = 0; axis < 3; axis++) {
    const x = at[axis] ?? 0;
    const off = Math.max((boxes[6 * box + axis] ?? 0) - x, x - (boxes[6 * box + 3 + axis] ?? 0), 0);
    squared += off * off;
  }
  return squared;
}
