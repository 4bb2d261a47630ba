import type { Motion } from '../../shared/geometry/motion.ts';
import type { TileIndex } from '../../shared/geometry/tiles.ts';
import type { TubeShape } from '../../shared/geometry/tubeShape.ts';
import type { Vec3 } from '../../shared/geometry/vector.ts';
import type { Thread } from '../../shared/markup/markup.ts';
import type { EntryChanged } from '../../shared/papers/staleSince.ts';
import type { FeedSnapshot } from '../../shared/protocol/events.ts';
import type {
  AskedPoses,
  AskedReport,
  Bounds,
  ExportFormat,
  MendAccount,
  ScanUnit,
} from '../../shared/protocol/http.ts';
import type { AskedNearness } from '../../shared/protocol/nearness.ts';
import type { ScanFit } from '../../shared/protocol/scanFit.ts';
import type { Spec } from '../../shared/spec/spec.ts';
import type { Clock, Random } from '../ambient.ts';
import type { Auth } from '../auth/auth.ts';
import type { Config } from '../config.ts';
import type { PrintTask } from '../papers/workers/print.ts';
import type { Decisions } from '../record/decisions.ts';
import type { RecordKey } from '../record/recordKey.ts';
import type { Revisions } from '../revisions/revisions.ts';
import type { Scripted, ScriptedEdit, ScriptedRemark } from '../rooms/scripted.ts';
import type { Blobs, Records } from '../storage/ports.ts';

/** A scan as it lies on disk; its name tells the format, because a stored file has none. */
export interface ScanFile {
  readonly file: string;
  readonly name: string;
  readonly sha256: string;
  readonly unit: ScanUnit;
  readonly metresPerUnit: number;
}

/** What a reader found, or what the person who brought the file should know. */
export type ScanReading =
  | {
      readonly kind: 'read';
      readonly points: number;
      readonly format: string;
      /** Metres. */
      readonly bounds: Bounds;
      /** Median distance between neighbours, metres; null if it could not be told. */
      readonly spacing: number | null;
      /** Points of the file without a place, left out. */
      readonly unplaced: number;
    }
  | { readonly kind: 'problem'; readonly message: string; readonly expected?: string; readonly came?: string };

/** A scan cut into tiles. */
export interface TiledScan {
  readonly index: TileIndex;
  /** Bytes of all tiles. */
  readonly length: number;
  /** A stretch of the tiles' bytes; `end` not included, both within the length. */
  bytes(from: number, end: number): Promise<Uint8Array>;
}

/** The little that HTTP needs of the measuring part. */
export interface Measure {
  /** Never throws for bad data: that is a problem, not a fault. */
  readScan(scan: ScanFile): Promise<ScanReading>;
  /** The scan cut into tiles for showing it; made when they are not there yet. */
  tiles(scan: ScanFile): Promise<TiledScan>;
}

/** A scan as it lies on the car. */
export interface ScanOnCar {
  readonly scan: ScanFile;
  /** Names it in measuring: its content and unit, where it was moved to and what of it counts. */
  readonly name: string;
}

/** Where a fine fit stands; `motion` is of the moving scan from where it lies on the car. */
export type StandingFit =
  | { readonly state: 'pending' }
  | { readonly state: 'done'; readonly motion: Motion; readonly result: ScanFit }
  | { readonly state: 'failed'; readonly reason: string };

/** Lays scans on others that they overlap. */
export interface ScanFits {
  /** Where the fit stands; begun when it is new. */
  ask(moving: ScanOnCar, onto: ScanOnCar): Promise<StandingFit>;
  /** Writes a copy of a scan in millimetres, moved from where its own file has it. Gives the file, which is the caller's to keep or remove. */
  copy(scan: ScanFile, motion: Motion): Promise<string>;
}

/** Which header a scan is held against, and how the scan lies. */
export interface NearnessWish {
  readonly project: string;
  readonly spec: Spec;
  readonly placed: 'as-uploaded' | 'by-datums';
}

/** How near the points of a scan are to the header. */
export interface ScanNearness {
  /** Where the answer stands; begun when it is new. */
  ask(scan: ScanFile, wish: NearnessWish): AskedNearness;
  /** A level for each point in the order of the tiles; undefined for a name that is not, or no longer, kept of this scan. */
  levels(scan: ScanFile, name: string): Uint8Array | undefined;
}

/** A part as it lies on disk. */
export type PartFile = ScanFile;

/** What the reader of meshes found, or what the person who brought the file should know. */
export type PartReading =
  | {
      readonly kind: 'read';
      readonly triangles: number;
      readonly format: string;
      /** What names the part from now on: as it was given, unless the file states its own. */
      readonly unit: ScanUnit;
      readonly unitStated: boolean;
      /** Metres. */
      readonly bounds: Bounds;
    }
  | { readonly kind: 'problem'; readonly message: string; readonly expected?: string; readonly came?: string };

/** What HTTP needs of the meshes of parts. */
export interface Meshes {
  /** Never throws for bad data: that is a problem, not a fault. */
  readPart(part: PartFile): Promise<PartReading>;
  /** The part as a file; with a turn (about X, then Y, then Z, radians) turned so and set on z = 0. */
  exportPart(part: PartFile, form: { readonly format: ExportFormat; readonly turn?: Vec3 }): Promise<Uint8Array>;
  /** A copy with all put right that can be without guessing, as a PLY file in millimetres, and what was done. */
  mended(part: PartFile): Promise<{ readonly bytes: Uint8Array; readonly account: MendAccount }>;
  /** What is wrong with the mesh; `pending` while it is measured. */
  report(part: PartFile): Promise<AskedReport>;
  /** Poses to build it in; faces flatter than `overhang`, radians from the plate, need support; bores of `tubes` may run through it. */
  poses(part: PartFile, by: { readonly overhang: number; readonly tubes: readonly TubeShape[] }): Promise<AskedPoses>;
}

/** The whole header in a file, or why there is none. */
export type HeaderFile =
  | { readonly kind: 'made'; readonly bytes: Uint8Array }
  | { readonly kind: 'problem'; readonly message: string };

/** Tells the operator of a fault; never shown to the person who asked. */
export type Alarm = (error: unknown, where: string) => void;

/** Resolves if all is well, rejects with the reason. */
export type Check = () => Promise<void>;

/** The little that HTTP needs of the live projects. */
export interface LiveProjects extends Decisions {
  /** Entries of the spec document. */
  entries(project: string): Promise<ReadonlyMap<string, unknown>>;
  snapshot(project: string): Promise<FeedSnapshot>;
  /** An edit without a socket; checked before, for an account that may make it. */
  edit(project: string, edit: ScriptedEdit): Promise<Scripted>;
  remark(project: string, remark: ScriptedRemark): Promise<Scripted>;
  /** Ends all sockets an account has on a project. */
  expel(project: string, account: string): Promise<void>;
  /** A scan was added: tell who is looking, measure what waited for it. */
  scanAdded(project: string): Promise<void>;
  /** The same for a part. */
  partAdded(project: string): Promise<void>;
}

/** What HTTP needs to hand out papers. */
export interface Papers {
  /** Prints beside the main thread; rejects with PressBusy while too many wait. */
  print(task: PrintTask): Promise<Uint8Array>;
  /** The markups of a project. */
  threads(project: string): Promise<readonly Thread[]>;
  /** The first changes of the spec after a journal number, oldest first, at most so many. */
  changes(project: string, after: number, limit: number): Promise<readonly EntryChanged[]>;
}

/** What HTTP needs of notices. */
export interface NoticeDesk {
  /** Somebody's notices are others now. */
  changed(project: string, account: string): void;
  /** Why notices cannot be posted to an address, in words; null when they can. */
  hookProblem(url: string): Promise<string | null>;
  /** Absent: no mail can leave. */
  readonly mailCode?: (to: string, code: string) => Promise<void>;
}

export interface HttpParts {
  readonly notices: NoticeDesk;
  readonly papers: Papers;
  readonly records: Records;
  readonly blobs: Blobs;
  readonly auth: Auth;
  readonly measure: Measure;
  readonly meshes: Meshes;
  readonly nearness: ScanNearness;
  readonly scanFits: ScanFits;
  /** The whole header as one closed solid. */
  readonly headerFile: (spec: Spec, format: ExportFormat) => Promise<HeaderFile>;
  /** Signs heads of records. */
  readonly recordKey: RecordKey;
  readonly clock: Clock;
  readonly random: Random;
  readonly config: Config;
  readonly alarm: Alarm;
  readonly live: LiveProjects;
  readonly revisions: Revisions;
  /** More checks for /readyz, by name (the journal, for one). */
  readonly checks?: Readonly<Record<string, Check>>;
  /** Folder of the built web app; nothing is served without it. */
  readonly webDir?: string;
}
