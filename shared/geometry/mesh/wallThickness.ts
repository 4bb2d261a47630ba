import type { Vec3 } from '../vector.ts';
import type { TriangleMesh } from './triangleMesh.ts';

/** How walls are looked for. */
export interface WallOptions {
  /** Thickness above which a wall is of no interest, metres; 0.01 when left out. Thicker places count as this thick. */
  readonly limit?: number;
  /** Largest distance between places looked at, metres; 0.002 when left out. */
  readonly spacing?: number;
}

/** The thinnest wall of a part. Metres. */
export interface ThinnestWall {
  /** Smallest thickness found. */
  readonly smallest: number;
  /** Thickness that one hundredth of the measured surface lies below. */
  readonly p1: number;
  /** The place on the surface of the smallest. */
  readonly at: Vec3;
  /** Part of the surface with no opposite face within the limit or an edge in the way, 0 to 1: thick there, or not a wall. */
  readonly unmeasured: number;
}

/**
 * Thinnest wall of a closed, oriented mesh without self-intersections.
 * @returns undefined when nothing thinner than the limit was found, or there is no surface
 */
export function thinnestWall(mesh: TriangleMesh, options: WallOptions = {}): ThinnestWall | undefined {
  throw new Error(`being written ${mesh.indices.length} ${options.limit}`);
}
