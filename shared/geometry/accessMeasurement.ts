import type { Torch } from './mesh/torchAccess.ts';
import type { TubeShape } from './tubeShape.ts';
import type { Vec3 } from './vector.ts';

/** How near a part comes to a scan. */
export interface PartGapJob {
  readonly kind: 'partGap';
  readonly mesh: string;
  readonly scan: string;
  /** Faces of the part that lie nearer to the head than this (y, metres) do not count: there it is bolted on. */
  readonly fromY: number;
}

/** Smallest distance between the surface of a part and a scan, and where; metres. */
export interface PartGapResult {
  /** Negative when scan points lie inside the part: then by how much the deepest of them. */
  readonly gap: number;
  readonly point: Vec3;
  readonly onPart: Vec3;
  /** Number of points in the scan. */
  readonly points: number;
  /** See ClearanceResult. */
  readonly cover: number;
}

/** What stands in the way: the header as tubes and parts, and what was scanned. */
interface Surroundings {
  readonly tubes: readonly TubeShape[];
  readonly meshes: readonly string[];
  readonly scans: readonly string[];
}

/** How far a round tool goes onto a fastener. */
export interface ToolReachJob extends Surroundings {
  readonly kind: 'toolReach';
  /** Middle of the mouth of the tool when it is on, and the unit vector from there towards the hand. */
  readonly from: Vec3;
  readonly way: Vec3;
  readonly radius: number;
  /** The end of the stud, which goes into the tool: scan points of it do not count. */
  readonly stud: { readonly radius: number; readonly depth: number };
  /** How far is looked, metres. */
  readonly reach: number;
}

/** The length that is free above the mouth, metres, at most the reach; what ends it and where, null when nothing does. */
export interface ToolReachResult {
  readonly free: number;
  readonly by: 'tube' | 'part' | 'scan' | null;
  readonly at: Vec3 | null;
}

/** How far the header can be drawn straight off the head. */
export interface StraightOffJob extends Surroundings {
  readonly kind: 'straightOff';
  /** Unit vector of the studs, away from the head. */
  readonly way: Vec3;
  /** How far is looked, metres. */
  readonly reach: number;
}

/** Free travel, metres, at most the reach; the scan point that ends it and the place on the header before it moved, null when nothing does. */
export interface StraightOffResult {
  readonly free: number;
  readonly point: Vec3 | null;
  readonly onPart: Vec3 | null;
}

/** How much of a seam round a tube a torch gets at, the header off the car. */
export interface TorchReachJob {
  readonly kind: 'torchReach';
  readonly tubes: readonly TubeShape[];
  readonly meshes: readonly string[];
  /** The tube with the seam, by its place in `tubes`, and where along its centreline; metres. */
  readonly seam: { readonly tube: number; readonly s: number };
  readonly torch: Torch;
  /** Farthest the torch may lean from square to the tube, radians. */
  readonly lean: number;
  /** Places looked at, evenly round the seam. */
  readonly places: number;
}

/** Share of the places the torch gets at, 0 to 1; the middle of the longest run it does not, and how long that is round the tube, metres. */
export interface TorchReachResult {
  readonly share: number;
  readonly blind: number;
  readonly at: Vec3 | null;
}

/** The kinds of measurement of room for tools, for other parts and for getting there. */
export interface AccessKinds {
  readonly partGap: { readonly job: PartGapJob; readonly result: PartGapResult };
  readonly toolReach: { readonly job: ToolReachJob; readonly result: ToolReachResult };
  readonly straightOff: { readonly job: StraightOffJob; readonly result: StraightOffResult };
  readonly torchReach: { readonly job: TorchReachJob; readonly result: TorchReachResult };
}
