import type { MeasureJob, MeasureProblem, MeasureResult, TubeShape } from '../../shared/geometry/measurement.ts';
import type { RepairAccount } from '../../shared/geometry/mesh/repair.ts';
import type { Box } from '../../shared/geometry/mesh/triangleMesh.ts';
import type { Motion } from '../../shared/geometry/motion.ts';
import type { Vec3 } from '../../shared/geometry/vector.ts';
import type { ReadMesh } from './readers/mesh/mesh-file.ts';
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
  /** The mesh file of each mesh that the job names. */
  readonly meshFiles: Readonly<Record<string, string>>;
}

/** Cuts a scan into tiles for showing it and writes the tile file. */
export interface TileScanJob {
  readonly kind: 'tileScan';
  readonly scanFile: string;
  /** Where the tile file goes. */
  readonly out: string;
}

/** Reads a part file and writes the mesh file that every later job on it reads. */
export interface ReadMeshJob {
  readonly kind: 'readMesh';
  readonly file: string;
  /** Metres in one unit of the file, for formats that do not state it (3MF, GLB and STEP do). */
  readonly unitFactor: number;
  /** Where the mesh file goes. */
  readonly out: string;
}

/** Writes the points of a scan where a motion puts them: a binary PLY in millimetres. */
export interface MoveScanJob {
  readonly kind: 'moveScan';
  readonly scanFile: string;
  readonly motion: Motion;
  /** Where the file goes. */
  readonly out: string;
}

/** A scan that was written. */
export interface MovedScan {
  readonly points: number;
}

/** Formats a part is handed out in. */
export const exportFormats = ['stl', '3mf', 'glb', 'ply'] as const;
/** One of {@link exportFormats}. */
export type ExportFormat = (typeof exportFormats)[number];

/** Makes a file of a mesh for another program. */
export interface ExportMeshJob {
  readonly kind: 'exportMesh';
  readonly meshFile: string;
  readonly format: ExportFormat;
  /** Turns it about X, then Y, then Z, and sets it on z = 0, as a build pose does; radians. Left out, it stays as the part file has it. */
  readonly turn?: Vec3;
}

/** Makes a mended copy of a mesh: equal and near vertices joined, empty and double triangles dropped, all turned outwards. */
export interface MendMeshJob {
  readonly kind: 'mendMesh';
  readonly meshFile: string;
}

/** Makes one closed solid: of the parts, or of the tubes when there are none. */
export interface UniteJob {
  readonly kind: 'unite';
  /** Bore of every tube, metres. */
  readonly bore: number;
  readonly tubes: readonly TubeShape[];
  readonly parts: readonly { readonly name: string; readonly meshFile: string }[];
  /** Where the mesh file goes. */
  readonly out: string;
}

/** The header about a scan, in the frame of the scan. */
export interface HeaderAbout {
  readonly tubes: readonly TubeShape[];
  /** Meshes by name, in the frame of the car. */
  readonly meshes: readonly string[];
  /** From the frame of the scan to the car; null when they are one. */
  readonly motion: Motion | null;
  /** Metres. */
  readonly cap: number;
}

/** Levels of all points, in the order of the tiles. */
export interface Nearness {
  readonly levels: Uint8Array<ArrayBuffer>;
}

/** Tells how near each point of a scan is to the header. */
export interface NearnessJob extends HeaderAbout {
  readonly kind: 'nearness';
  readonly scanFile: string;
  /** The mesh file of each mesh. */
  readonly meshFiles: Readonly<Record<string, string>>;
}

/** What a worker can be asked to do. */
export type MeasureTask =
  | MendMeshJob
  | MoveScanJob
  | NearnessJob
  | UniteJob
  | ReadScanJob
  | MeasurementTask
  | TileScanJob
  | ReadMeshJob
  | ExportMeshJob;

/** What reading a scan found out; everything of the scan but its points. */
export type ScanReport = Omit<ReadScan, 'points'>;

/** Tiles that were written. */
export interface WrittenTiles {
  readonly points: number;
}

/** What reading a part found out; everything of it but the mesh. Bounds in metres. */
export interface PartReport extends Omit<ReadMesh, 'mesh'> {
  readonly triangles: number;
  readonly vertices: number;
  readonly bounds: Box;
}

/** A file's content. */
export interface ExportedMesh {
  readonly bytes: Uint8Array<ArrayBuffer>;
}

/** A solid that was made. */
export interface UnitedSolid {
  readonly triangles: number;
}

/** A mended mesh as a binary PLY file in millimetres, and what was done. */
export interface MendedMesh extends ExportedMesh {
  readonly account: RepairAccount;
}

interface TaskResults {
  readonly mendMesh: MendedMesh;
  readonly moveScan: MovedScan;
  readonly nearness: Nearness;
  readonly unite: UnitedSolid;
  readonly readScan: ScanReport;
  readonly readMesh: PartReport;
  readonly exportMesh: ExportedMesh;
  readonly tileScan: WrittenTiles;
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
