import { constants, setPriority } from 'node:os';
import { isMainThread } from 'node:worker_threads';
import { buildPointGrid } from '../../../shared/geometry/cloud.ts';
import { seededRandom } from '../../../shared/geometry/random.ts';
import { GridFileError, writeGridFile } from '../grid-file.ts';
import type { Attempt, MeasureTask, ReadScanJob, ScanReport, TaskOutcome, ThinJob, ThinnedScan } from '../jobs.ts';
import { ReadFailure } from '../readers/problem.ts';
import { readAnyScan } from '../readers/scan.ts';
import { gridIn, inputsFrom } from './inputs.ts';
import { measured } from './kinds.ts';

// On Linux this speaks of the calling thread alone: an edit must not wait for a measurement.
if (process.platform === 'linux' && !isMainThread) setPriority(0, constants.priority.PRIORITY_LOW);

/** The worker's one entry: does a task and gives its outcome. Throws only for bugs and failing disks. */
export default async function measure(task: MeasureTask): Promise<TaskOutcome> {
  try {
    switch (task.kind) {
      case 'readScan':
        return await read(task);
      case 'thin':
        return { ok: true, result: thin(task) };
      case 'measure':
        return measured(task.job, inputsFrom(task.scanFiles));
    }
  } catch (error) {
    if (error instanceof ReadFailure) return { ok: false, problem: error.problem };
    if (error instanceof GridFileError)
      return { ok: false, problem: { code: 'bad-grid-file', message: error.message } };
    throw error;
  }
}

async function read(job: ReadScanJob): Promise<Attempt<ScanReport>> {
  const outcome = await readAnyScan(job.file, { unitFactor: job.unitFactor });
  if (!outcome.ok) return outcome;
  const { points, ...report } = outcome.scan;
  writeGridFile(job.out, buildPointGrid(points, report.origin, report.cover ?? 0));
  return { ok: true, result: report };
}

/** One point of every stride at a random place in it: the grid order is spatial, so this keeps the shape of the scan. */
function thin({ scanFile, max, seed }: ThinJob): ThinnedScan {
  const grid = gridIn(scanFile);
  const count = Math.min(grid.count, Math.max(0, Math.floor(max)));
  const random = seededRandom(seed);
  const points = new Float32Array(3 * count);
  for (let i = 0; i < count; i++) {
    const pick = Math.min(grid.count - 1, Math.floor(((i + (count < grid.count ? random() : 0)) * grid.count) / count));
    points.set(grid.positions.subarray(3 * pick, 3 * pick + 3), 3 * i);
  }
  return { points, origin: grid.origin };
}
