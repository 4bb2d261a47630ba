import type { MeasureJob, MeasureProblem, MeasureResult } from '../../shared/geometry/measurement.ts';
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

/** Makes one measurement. */
export interface MeasurementTask<J extends MeasureJob = MeasureJob> {
  readonly kind: 'measure';
  readonly job: J;
  /** The grid file of each scan that the job names. */
  readonly scanFiles: Readonly<Record<string, string>>;
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
export type MeasureTask = ReadScanJob | MeasurementTask | ThinJob;

/** What reading a scan found out; everything of the scan but its points. */
export type ScanReport = Omit<ReadScan, 'points'>;

/** Thinned points: xyz metres relative to origin. */
export interface ThinnedScan {
  readonly points: Float32Array<ArrayBuffer>;
  readonly origin: readonly [number, number, number];
}

interface TaskResults {
  readonly readScan: ScanReport;
  readonly thin: ThinnedScan;
}

/** What a task gives when it succeeds. */
export type ResultOf<T extends MeasureTask> =
  T extends MeasurementTask<infer J>
    ? MeasureResult<J['kind']>
    : T['kind'] extends keyof TaskResults
      ? TaskResults[T['kind']]
      : never;

/** A result, or why there is none. */
export type Attempt<R> =
  | { readonly ok: true; readonly result: R }
  | { readonly ok: false; readonly problem: MeasureProblem };

/** A task's result, or why there is none. */
export type TaskOutcome<T extends MeasureTask = MeasureTask> = Attempt<ResultOf<T>>;
