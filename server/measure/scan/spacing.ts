import { piecesBetween } from '../../../shared/geometry/centreline.ts';
import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import { BLOCK, FANOUT, levelStarts } from '../../../shared/geometry/cloud.ts';
import type { TubeReach } from '../../../shared/geometry/gap.ts';
import type { TubeKernel } from '../../../shared/geometry/kernel.ts';
import { gapToTube, squaredToCentreline, tubeKernel } from '../../../shared/geometry/kernel.ts';
import type { ScanSpacingResult } from '../../../shared/geometry/measurement.ts';
import { nearestOther } from './neighbour.ts';

/** Most points whose neighbour is looked for: the median of so many is within 1 % of a percentile of that of all (own: 0.5 / sqrt(n)). */
const MOST_MEASURED = 20_000;

/**
 * How far apart a scan's points stand near the tubes: the median distance to the nearest other point, over points within `reach` metres of
 * the outside of a tube. Neighbours are looked for in the whole scan, so the edge of the reach does not widen anything. Points at the very
 * same place count as one.
 */
export function spacingOf(grid: PointGrid, tubes: readonly TubeReach[], reach: number): ScanSpacingResult {
  const near = pointsNear(grid, tubes, reach);
  const measured = Math.min(near.length, MOST_MEASURED);
  const distances: number[] = [];
  for (let i = 0; i < measured; i++) {
    const found = nearestOther(grid, near[Math.floor((i * near.length) / measured)] ?? 0);
    if (Number.isFinite(found)) distances.push(found);
  }
  distances.sort((a, b) => a - b);
  const middle = distances.length / 2;
  const [low = 0, high = 0] = [distances[Math.ceil(middle) - 1], distances[Math.floor(middle)]];
  return { near: near.length, measured: distances.length, median: (low + high) / 2, cover: grid.cover };
}

/** Indices of the points nearer than `reach` to the outside of any tube, in grid order. */
function pointsNear(grid: PointGrid, tubes: readonly TubeReach[], reach: number): number[] {
  const kernels: TubeKernel[] = [];
  for (const { centreline, fromS, outerRadius } of tubes) {
    const kernel = tubeKernel(piecesBetween(centreline, fromS, centreline.length), outerRadius);
    if (kernel) kernels.push(kernel);
  }
  const near: number[] = [];
  const starts = levelStarts(grid.count);
  if (grid.count > 0)
    takeBoxes({ grid, starts, reach }, { level: starts.length - 2, box: starts.at(-2) ?? 0, kernels }, near);
  return near;
}

interface Search {
  readonly grid: PointGrid;
  readonly starts: readonly number[];
  readonly reach: number;
}

/** Goes down the boxes, in order, with the tubes that still may be near. */
function takeBoxes(
  search: Search,
  at: { readonly level: number; readonly box: number; readonly kernels: readonly TubeKernel[] },
  near: number[],
): void {
  const { grid, starts, reach } = search;
  const close = at.kernels.filter((kernel) => boundOf(kernel, grid, at.box) < reach);
  if (close.length === 0) return;
  if (at.level === 0) {
    takeNear(grid, { block: at.box, close, reach }, near);
    return;
  }
  const [below = 0, here = 0] = [starts[at.level - 1], starts[at.level]];
  const first = below + FANOUT * (at.box - here);
  for (let box = first; box < Math.min(first + FANOUT, here); box++)
    takeBoxes(search, { level: at.level - 1, box, kernels: close }, near);
}

/** No point in the box is nearer to the tube than this, metres: the ball about its box against the tube with round ends. */
function boundOf(kernel: TubeKernel, { boxes, origin }: PointGrid, box: number): number {
  const o = 6 * box;
  const [x0 = 0, y0 = 0, z0 = 0, x1 = 0, y1 = 0, z1 = 0] = boxes.subarray(o, o + 6);
  const half = Math.sqrt((x1 - x0) ** 2 + (y1 - y0) ** 2 + (z1 - z0) ** 2) / 2;
  const middle = [(x0 + x1) / 2 + origin[0], (y0 + y1) / 2 + origin[1], (z0 + z1) / 2 + origin[2]] as const;
  return Math.sqrt(squaredToCentreline(kernel, middle)) - half - kernel.radius - 1e-9;
}

function takeNear(
  { positions, origin, count }: PointGrid,
  { block, close, reach }: { readonly block: number; readonly close: readonly TubeKernel[]; readonly reach: number },
  near: number[],
): void {
  const end = Math.min(BLOCK * (block + 1), count);
  for (let i = BLOCK * block; i < end; i++) {
    const x = (positions[3 * i] ?? 0) + origin[0];
    const y = (positions[3 * i + 1] ?? 0) + origin[1];
    const z = (positions[3 * i + 2] ?? 0) + origin[2];
    if (close.some((kernel) => gapToTube(kernel, [x, y, z]) < reach)) near.push(i);
  }
}
