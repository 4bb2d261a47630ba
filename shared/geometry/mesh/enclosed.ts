import type { Vec3 } from '../vector.ts';
import type { TriangleMesh } from './triangleMesh.ts';

/** A way out of an enclosed volume: diameter of the largest ball that passes (metres) and the narrowest place. */
export interface Opening {
  readonly diameter: number;
  readonly at: Vec3;
}

/** Air that the part closes in, m3, and its ways out; without any it is sealed. */
export interface EnclosedVolume {
  readonly volume: number;
  readonly openings: readonly Opening[];
}

/**
 * Volumes from which powder must come out, largest first.
 * @param voxel edge of the cubes the part is cut into, metres
 */
export function enclosedVolumes(mesh: TriangleMesh, voxel: number): readonly EnclosedVolume[] {
  throw new Error(`being written ${mesh.indices.length} ${voxel}`);
}
