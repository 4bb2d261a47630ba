import type { ClearanceResult, MeasureProblem } from '../../shared/geometry/measurement.ts';
import type { ReadScan } from './readers/scan.ts';

/** Reads a scan file, sorts it and writes the grid file that every later job on it reads. */
export interface ReadScanJob {
  readonly kind: 'readScan';
  readonly file: string;
  /** Metres in one unit of the file. */
  readonly unitFactor: number;
  /** Where the grid file goes. */
  readonly out: string;
}

/** Measures how near a tube comes to a scan. Lengths in metres. */
export interface ClearanceTask {
  readonly kind: 'clearance';
  /** The scan's grid file. */
  readonly scanFile: string;
  /** x, y, z, bend radius of every node in turn. */
  readonly nodes: readonly number[];
  readonly outerRadius: number;
  readonly fromS: number;
}

/** Picks points of a scan for showing it. */
export interface ThinJob {
  readonly kind: 'thin';
  readonly scanFile: string;
  /** At most so many points. */
  readonly max: number;
  readonly seed: number;
}

/** What a worker can be asked to do. */
export type MeasureTask = ReadScanJob | ClearanceTask | ThinJob;

/** What reading a scan found out; everything of the scan but its points. */
export type ScanReport = Omit<ReadScan, 'points'>;

/** Thinned points: xyz metres relative to origin. */
export interface ThinnedScan {
  readonly points: Float32Array<ArrayBuffer>;
  readonly origin: readonly [number, number, number];
}

/** What each kind of task gives when it succeeds. */
export interface TaskResults {
  readonly readScan: ScanReport;
  readonly clearance: ClearanceResult;
  readonly thin: ThinnedScan;
}

/** A task's result, or why there is none. */
export type TaskOutcome<K extends keyof TaskResults> =
  | { readonly ok: true; readonly result: TaskResults[K] }
  | { readonly ok: false; readonly problem: MeasureProblem };
