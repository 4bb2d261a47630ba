import type { Vec3 } from '../vector.ts';
import type { Mat3, Quaternion } from './rotation.ts';
import type { TriangleMesh } from './triangleMesh.ts';

/** How to look at a pose. */
export interface PoseOptions {
  /** Least angle from the plate, radians, at which a face carries itself; a downward face flatter than this needs support. */
  readonly overhangAngle: number;
  /** Width of the columns in which support down to the part is counted, metres; 0.001 when left out. */
  readonly raster?: number;
}

/** Measures of a part in a pose, the plate level and touching its lowest point. */
export interface PoseMeasures {
  /** Area of the downward faces flatter than the limit angle, those on the plate included, m2. */
  readonly downskinArea: number;
  /** The part of that area that lies flat on the plate and needs no support, m2. */
  readonly plateArea: number;
  /** Volume from those faces straight down to the plate, through everything in between; exact, m3. */
  readonly supportToPlate: number;
  /** Volume from those faces down to the next surface of the part or the plate, m3; counted in columns. */
  readonly supportToPart: number;
  /** The part of that which stands on the part itself, m3. */
  readonly supportOnPart: number;
  /** Width of the columns used, metres: wider than asked when the part would have taken too many. */
  readonly raster: number;
  /** Size of the box around the part in the pose: x, y and height z, metres. */
  readonly box: Vec3;
  /** Height of the lowest point over the origin of the turned frame, metres. */
  readonly lowest: number;
}

/**
 * Measures a part in a pose. The mesh should be closed and oriented; support under an open mesh is counted from what faces there are.
 * @param pose turns the part's frame into the build's, whose plate is level and whose layers grow along +z
 */
export function poseMeasures(mesh: TriangleMesh, pose: Quaternion | Mat3, options: PoseOptions): PoseMeasures {
  throw new Error(`being written ${mesh.indices.length} ${pose.length} ${options.raster}`);
}

/** What to search poses by. */
export interface PoseSearch extends PoseOptions {
  /** Number of directions tried; 1000 when left out. */
  readonly directions?: number;
  /** How many of the best are measured fully and given; 20 when left out. */
  readonly best?: number;
  /** Directions of the bores in the part's frame, unit length: tangents sampled along their centrelines. */
  readonly bores?: readonly Vec3[];
  /** What the choices are ordered by; support down to the part when left out. */
  readonly by?: 'support' | 'height' | 'bore';
}

/** A pose worth looking at. */
export interface PoseChoice {
  /** The direction of the part's frame that stands upright, unit length. */
  readonly up: Vec3;
  /** The turn that brings it there. Turning on about the upright changes none of the figures. */
  readonly pose: Quaternion;
  /** As in PoseMeasures; m2 and m3. */
  readonly downskinArea: number;
  readonly supportToPlate: number;
  readonly supportToPart: number;
  /** Height of the part, metres. */
  readonly height: number;
  /** Least angle between a bore and the plate, radians; undefined when no bores were named. */
  readonly leastBoreAngle: number | undefined;
}

/** The best poses of a part, best first: the best of all directions by each of the three measures are in it. */
export function searchPoses(mesh: TriangleMesh, search: PoseSearch): readonly PoseChoice[] {
  throw new Error(`being written ${mesh.indices.length} ${search.best}`);
}
