import { constants, setPriority } from 'node:os';
import { isMainThread } from 'node:worker_threads';
import type { CentrelineNode, CentrelineProblem } from '../../../shared/geometry/centreline.ts';
import { buildCentreline } from '../../../shared/geometry/centreline.ts';
import { buildPointGrid } from '../../../shared/geometry/cloud.ts';
import { smallestGap } from '../../../shared/geometry/gap.ts';
import type { ClearanceResult, MeasureProblem } from '../../../shared/geometry/measurement.ts';
import { seededRandom } from '../../../shared/geometry/random.ts';
import { GridFileError, gridFileStamp, readGridFile, writeGridFile } from '../grid-file.ts';
import { createGridShelf } from '../grid-shelf.ts';
import type {
  ClearanceTask,
  MeasureTask,
  ReadScanJob,
  ScanReport,
  TaskOutcome,
  TaskResults,
  ThinJob,
  ThinnedScan,
} from '../jobs.ts';
import { ReadFailure } from '../readers/problem.ts';
import { readScan } from '../readers/scan.ts';

// On Linux this speaks of the calling thread alone: an edit must not wait for a measurement.
if (process.platform === 'linux' && !isMainThread) setPriority(0, constants.priority.PRIORITY_LOW);

const shelf = createGridShelf({ load: readGridFile, stamp: gridFileStamp });

/** The worker's one entry: does a task and gives its outcome. Throws only for bugs and failing disks. */
export default function measure(task: MeasureTask): TaskOutcome<keyof TaskResults> {
  try {
    if (task.kind === 'readScan') return read(task);
    return task.kind === 'clearance' ? clearance(task) : { ok: true, result: thin(task) };
  } catch (error) {
    if (error instanceof ReadFailure) return { ok: false, problem: error.problem };
    if (error instanceof GridFileError) return failed('bad-grid-file', error.message);
    throw error;
  }
}

const failed = (code: string, message: string): { ok: false; problem: MeasureProblem } => ({
  ok: false,
  problem: { code, message },
});

function read(job: ReadScanJob): TaskOutcome<'readScan'> {
  const outcome = readScan(job.file, { unitFactor: job.unitFactor });
  if (!outcome.ok) return outcome;
  const { points, ...report } = outcome.scan;
  writeGridFile(job.out, buildPointGrid(points, report.origin, report.cover ?? 0));
  return { ok: true, result: report satisfies ScanReport };
}

function clearance(task: ClearanceTask): TaskOutcome<'clearance'> {
  const { outerRadius, fromS } = task;
  if (!(outerRadius > 0 && outerRadius < 1) || !(fromS >= 0)) {
    return failed(
      'bad-tube',
      `Expected an outer radius in 0..1 m and a start of 0 m or more, got ${outerRadius} m and ${fromS} m.`,
    );
  }
  if (task.nodes.length % 4 !== 0) {
    return failed('bad-tube', `Expected four numbers a node (x, y, z, bend radius), got ${task.nodes.length} in all.`);
  }
  const centreline = buildCentreline(nodesOf(task.nodes));
  if (!centreline.ok) return failed(centreline.code, inWords(centreline));
  const grid = shelf.get(task.scanFile);
  const found = smallestGap({ centreline, outerRadius, fromS }, grid);
  if (!found) {
    return failed(
      'nothing-to-measure',
      `Expected a start before the end of the centreline at ${centreline.length.toFixed(4)} m, got ${fromS} m.`,
    );
  }
  return { ok: true, result: { ...found, points: grid.count, cover: grid.cover } satisfies ClearanceResult };
}

function nodesOf(flat: readonly number[]): CentrelineNode[] {
  const nodes: CentrelineNode[] = [];
  for (let i = 0; i + 3 < flat.length; i += 4) {
    const [x = Number.NaN, y = Number.NaN, z = Number.NaN, radius = Number.NaN] = flat.slice(i, i + 4);
    nodes.push({ x, y, z, radius });
  }
  return nodes;
}

/** Nodes are counted from 1 here, as in the table a person sees. */
function inWords(problem: CentrelineProblem): string {
  switch (problem.code) {
    case 'too-few-nodes':
      return `Expected at least two nodes, got ${problem.count}.`;
    case 'not-finite':
      return `Expected finite coordinates and bend radius at node ${problem.node + 1}.`;
    case 'coincident':
      return `Expected node ${problem.node + 1} apart from the one before, they are ${problem.distance} m apart.`;
    case 'no-radius':
      return `Expected a bend radius above 0 at node ${problem.node + 1}, got ${problem.radius} m.`;
    case 'reversal':
      return `Expected a turn below 180 degrees at node ${problem.node + 1}, the centreline goes straight back there.`;
    case 'bend-does-not-fit':
      return `The bend at node ${problem.node + 1} needs ${problem.setback.toFixed(4)} m of straight, there is ${problem.available.toFixed(4)} m.`;
  }
}

/** One point of every stride at a random place in it: the grid order is spatial, so this keeps the shape of the scan. */
function thin({ scanFile, max, seed }: ThinJob): ThinnedScan {
  const grid = shelf.get(scanFile);
  const count = Math.min(grid.count, Math.max(0, Math.floor(max)));
  const random = seededRandom(seed);
  const points = new Float32Array(3 * count);
  for (let i = 0; i < count; i++) {
    const pick = Math.min(grid.count - 1, Math.floor(((i + (count < grid.count ? random() : 0)) * grid.count) / count));
    points.set(grid.positions.subarray(3 * pick, 3 * pick + 3), 3 * i);
  }
  return { points, origin: grid.origin };
}
