import { constants, setPriority } from 'node:os';
import { isMainThread } from 'node:worker_threads';
import { buildPointGrid } from '../../../shared/geometry/cloud.ts';
import { FlatFileError } from '../flat-file.ts';
import { writeGridFile } from '../grid-file.ts';
import type {
  Attempt,
  MeasureTask,
  MovedScan,
  MoveScanJob,
  ReadScanJob,
  ScanReport,
  TaskOutcome,
  TileScanJob,
  WrittenTiles,
} from '../jobs.ts';
import { nearnessOf } from '../nearness/nearness.ts';
import { ReadFailure } from '../readers/problem.ts';
import { readAnyScan } from '../readers/scan.ts';
import { writeMovedScan } from '../scan/move-scan.ts';
import { encodeTiles } from '../tiles/encode.ts';
import { writeTileFile } from '../tiles/tile-file.ts';
import { gridIn, inputsFrom } from './inputs.ts';
import { measured } from './kinds.ts';
import { exportPart, mendPart, readPart } from './part.ts';
import { unite } from './unite.ts';

// On Linux this speaks of the calling thread alone: an edit must not wait for a measurement.
if (process.platform === 'linux' && !isMainThread) setPriority(0, constants.priority.PRIORITY_LOW);

/** The worker's one entry: does a task and gives its outcome. Throws only for bugs and failing disks. */
export default async function measure(task: MeasureTask): Promise<TaskOutcome> {
  try {
    switch (task.kind) {
      case 'readScan':
        return await read(task);
      case 'tileScan':
        return { ok: true, result: await tile(task) };
      case 'measure':
        return measured(task.job, inputsFrom(task));
      case 'nearness':
        return nearnessOf(gridIn(task.scanFile), task, inputsFrom({ scanFiles: {}, meshFiles: task.meshFiles }).mesh);
      case 'moveScan':
        return { ok: true, result: move(task) };
      case 'readMesh':
        return await readPart(task);
      case 'unite':
        return await unite(task);
      case 'mendMesh':
        return { ok: true, result: mendPart(task) };
      case 'exportMesh':
        return { ok: true, result: exportPart(task) };
    }
  } catch (error) {
    if (error instanceof ReadFailure) return { ok: false, problem: error.problem };
    if (error instanceof FlatFileError) return { ok: false, problem: { code: error.code, message: error.message } };
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

async function tile({ scanFile, out }: TileScanJob): Promise<WrittenTiles> {
  const encoded = await encodeTiles(gridIn(scanFile));
  writeTileFile(out, encoded);
  return { points: encoded.index.points };
}

function move({ scanFile, motion, out }: MoveScanJob): MovedScan {
  const grid = gridIn(scanFile);
  writeMovedScan(out, grid, motion);
  return { points: grid.count };
}
