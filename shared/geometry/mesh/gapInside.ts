import type { Vec3 } from '../vector.ts';
import type { TriangleMesh } from './triangleMesh.ts';

/** Two places of a part that face each other over air, and the distance between them, metres. */
export interface InnerGap {
  readonly gap: number;
  readonly at: Vec3;
  readonly to: Vec3;
}

/** How gaps are looked for. */
export interface GapOptions {
  /** Gaps wider than this are of no interest, metres; 0.005 when left out. */
  readonly limit?: number;
  /** Largest distance between places looked at, metres; 0.002 when left out. */
  readonly spacing?: number;
}

/**
 * Smallest gap inside a part: between shells, or between faces of one shell that face each other over air.
 * @returns undefined when no gap up to the limit was found
 */
export function smallestInnerGap(mesh: TriangleMesh, options: GapOptions = {}): InnerGap | undefined {
  throw new Error(`being written ${mesh.indices.length} ${options.limit}`);
}
