import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import type { TubeReach } from '../../../shared/geometry/gap.ts';
import type { ScanCoverageResult } from '../../../shared/geometry/measurement.ts';
import type { Vec3 } from '../../../shared/geometry/vector.ts';
import type { Attempt } from '../jobs.ts';
import { grouped } from '../readers/problem.ts';
import { CELL, cellBox, cellCount, MOST_CELLS, ScannedCells } from './cells.ts';
import { markGaps, type WidestGap } from './gaps.ts';
import { AROUND, BLOCKED, framesOf, GAP, lookAround, markTube, OPEN, SEEN, STEP, type View } from './look.ts';

/** Tubes told apart in a cell. */
const MOST_TUBES = 255;

/**
 * How much of the bay around the tubes has been scanned, as far as a scan can tell it by itself: from every tube, looks go out square to its
 * centreline, each to the first cell with points within `reach` metres. Where looks end on nothing, but the surface beside them goes
 * straight on across (see markGaps), something was not scanned. Anything else that ends on nothing is taken for free space.
 * @param reach metres from the outside of the tubes
 */
export function coverageOf(
  grids: readonly PointGrid[],
  tubes: readonly TubeReach[],
  reach: number,
): Attempt<ScanCoverageResult> {
  const ready = tubes.map((tube, i) => ({ frames: framesOf(tube), radius: tube.outerRadius, number: i + 1 }));
  const box = cellBox(...cornersOf(ready, reach));
  if (ready.length > MOST_TUBES || cellCount(box) > MOST_CELLS) {
    const message = `Expected at most ${MOST_TUBES} runners that fit into ${grouped(MOST_CELLS)} cells of ${CELL * 1000} mm, got ${ready.length} in ${grouped(cellCount(box))}.`;
    return { ok: false, problem: { code: 'header-too-large', message } };
  }
  const around = { scanned: new ScannedCells(box), tubes: new Uint8Array(cellCount(box)) };
  for (const grid of grids) around.scanned.add(grid);
  for (const tube of ready) markTube(box, around.tubes, tube);
  const sum: Sums = { seen: 0, gap: 0, open: 0, looks: 0 };
  let widest: WidestGap = { width: 0, at: null };
  for (const tube of ready) {
    const view = lookAround(around, tube, reach);
    widest = markGaps(view, widest);
    sumUp(view, sum);
  }
  const { seen, gap, open, looks } = sum;
  return { ok: true, result: { seen, gap, open: looks > 0 ? open / looks : 0, at: widest.at } };
}

interface Ready {
  readonly frames: ReturnType<typeof framesOf>;
  readonly radius: number;
}

function cornersOf(tubes: readonly Ready[], reach: number): readonly [Vec3, Vec3] {
  const least = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  const greatest = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const { frames, radius } of tubes)
    for (const { station } of frames)
      for (const [axis, x] of station.point.entries()) {
        least[axis] = Math.min(least[axis] ?? x, x - radius - reach - CELL);
        greatest[axis] = Math.max(greatest[axis] ?? x, x + radius + reach + CELL);
      }
  const [x0 = 0, y0 = 0, z0 = 0] = least;
  const [x1 = 0, y1 = 0, z1 = 0] = greatest;
  return [
    [x0, y0, z0],
    [x1, y1, z1],
  ];
}

interface Sums {
  seen: number;
  gap: number;
  open: number;
  looks: number;
}

function sumUp({ ends, reaches }: View, sum: Sums): void {
  for (const [i, end] of ends.entries()) {
    if (end === BLOCKED) continue;
    // The patch of a cylinder through the place met: what a look stands for.
    const area = (reaches[i] ?? 0) * ((2 * Math.PI) / AROUND) * STEP;
    if (end === SEEN) sum.seen += area;
    if (end === GAP) sum.gap += area;
    if (end === OPEN) sum.open += 1;
    sum.looks += 1;
  }
}
