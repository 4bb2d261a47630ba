import type { FlattestBore } from './mesh/boreTilt.ts';
import type { PoseMeasures } from './mesh/buildPose.ts';
import type { MeshReport } from './mesh/meshReport.ts';
import type { TubeShape } from './tubeShape.ts';
import type { Vec3 } from './vector.ts';

/** What every job on a part names: its mesh, by the SHA-256 of the part file (lower-case hex) and its unit, `<sha256>-mm`. */
interface PartJob {
  readonly mesh: string;
}

/** What the mesh of a part is like. */
export interface MeshReportJob extends PartJob {
  readonly kind: 'meshReport';
}

/** As {@link MeshReport}, the shells counted; lengths in metres. */
export interface MeshReportResult extends Omit<MeshReport, 'shells'> {
  readonly shells: number;
  readonly triangles: number;
  readonly least: Vec3;
  readonly greatest: Vec3;
  /** One place where an edge is open, shared by more than two or flipped, or where triangles cross; null when there is none. */
  readonly at: Vec3 | null;
}

/** A part as it stands on the plate. */
export interface PoseJob extends PartJob {
  readonly kind: 'pose';
  /** Turns about X, then Y, then Z of the plate, from the part file to the build; radians. */
  readonly turn: Vec3;
  /** Least angle from the plate at which a face carries itself: support is counted below it; radians. */
  readonly overhangAngle: number;
  /** Angle from the plate below which a face without support is sure to fail, radians. */
  readonly leastAngle: number;
}

/** Measures in a pose. Places in part coordinates, metres. */
export interface PoseResult extends PoseMeasures {
  /** Downward surface flatter than the least angle that does not lie on the plate, m2. */
  readonly hangingArea: number;
  /** The middle of its largest face. */
  readonly hangingAt: Vec3 | null;
  /** The part of it whose support no straight tool reaches, m2. See overhangReach.ts. */
  readonly trappedArea: number;
  readonly trappedAt: Vec3 | null;
  /** A tenth of the sloped surface is flatter than this; radians from the plate, a right angle when nothing slopes. */
  readonly slope: number;
}

/** Poses worth a look. */
export interface PoseSearchJob extends PartJob {
  readonly kind: 'poseSearch';
  readonly overhangAngle: number;
  /** How many of the least support; a quarter as many that are low, and as many whose bores stand steep, may come besides. */
  readonly count: number;
  /** Tubes in the frame of the part, whose bores may run through it. */
  readonly tubes: readonly TubeShape[];
}

/** A pose with its figures, in SI. */
export interface FoundPose {
  /** As the turn of a pose job; radians. */
  readonly turn: Vec3;
  readonly downskinArea: number;
  readonly plateArea: number;
  readonly supportToPlate: number;
  readonly supportToPart: number;
  readonly height: number;
  /** Least angle between the plate and a bore of the tubes that runs through the part, radians; null when none does. */
  readonly leastBoreAngle: number | null;
}

/** Least support first. */
export interface PoseSearchResult {
  /** Of the part, m3. */
  readonly volume: number;
  readonly choices: readonly FoundPose[];
}

/** The thinnest wall of a part. */
export interface ThinnestWallJob extends PartJob {
  readonly kind: 'thinnestWall';
}

/** Metres. Where no wall is thinner than the limit of the search, both thicknesses are that limit and there is no place. */
export interface ThinnestWallResult {
  readonly smallest: number;
  /** Thickness that one hundredth of the measured surface lies below. */
  readonly p1: number;
  readonly at: Vec3 | null;
  readonly limit: number;
}

/** The narrowest gap between faces of a part over air. */
export interface InnerGapJob extends PartJob {
  readonly kind: 'innerGap';
}

/** Metres. Where no gap is narrower than the limit of the search, the gap is that limit and there is no place. */
export interface InnerGapResult {
  readonly gap: number;
  readonly at: Vec3 | null;
  readonly to: Vec3 | null;
  readonly limit: number;
}

/** Volumes from which powder must come out. */
export interface EnclosedJob extends PartJob {
  readonly kind: 'enclosed';
  /** Edge of a cube looked with, metres; larger ones are used where too many would come. */
  readonly voxel: number;
}

/** The enclosed volume that is hardest to empty: whose second opening is narrowest, the larger one first. SI. */
export interface EnclosedResult {
  /** How many enclosed volumes there are; with none all else is 0 and null. */
  readonly count: number;
  /** What it holds, m3. */
  readonly air: number;
  /** Openings of that volume. */
  readonly openings: number;
  /** Diameter of its second widest opening; 0 with fewer than two. */
  readonly second: number;
  /** That opening, or the widest, or a place in the volume. */
  readonly at: Vec3 | null;
  /** Edge of the cubes used, metres: a way out narrower than two of them counts as none. */
  readonly edge: number;
}

/** How the runners' bores lie in the build where they run through a part. */
export interface BoreTiltJob extends PartJob {
  readonly kind: 'boreTilt';
  readonly turn: Vec3;
  readonly tubes: readonly TubeShape[];
}

/** A place of a bore. Metres, radians from the plate; `at` in part coordinates, `s` from the port along the centreline. */
export interface BorePlace extends FlattestBore {
  /** Place of its tube in the job's list. */
  readonly tube: number;
}

/** Where the bores lie flattest; null when none of the tubes runs through the part. */
export interface BoreTiltResult {
  readonly flattest: BorePlace | null;
  /** Where one lies flattest whose crown no straight tool reaches; null when all are reached. */
  readonly hidden: BorePlace | null;
}

/** The kinds of measurement on a part. */
export interface PartKinds {
  readonly meshReport: { readonly job: MeshReportJob; readonly result: MeshReportResult };
  readonly pose: { readonly job: PoseJob; readonly result: PoseResult };
  readonly poseSearch: { readonly job: PoseSearchJob; readonly result: PoseSearchResult };
  readonly thinnestWall: { readonly job: ThinnestWallJob; readonly result: ThinnestWallResult };
  readonly innerGap: { readonly job: InnerGapJob; readonly result: InnerGapResult };
  readonly enclosed: { readonly job: EnclosedJob; readonly result: EnclosedResult };
  readonly boreTilt: { readonly job: BoreTiltJob; readonly result: BoreTiltResult };
}
