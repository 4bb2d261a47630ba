import type { TubeReach } from '../../../shared/geometry/gap.ts';
import { joinMeshes, meshFrom, type TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { sweepTube } from '../../../shared/geometry/sweep.ts';

/** Facets round a tube: they stand out by 0.05 % of its radius at most. */
const FACETS = 96;
/** Largest distance between the mesh of a tube and its surface along its bends, metres. */
const CHORD = 2e-5;

/** A tube as a mesh that nowhere lies inside it across: its facets touch the tube from outside. */
export function tubeMesh({ centreline, outerRadius }: TubeReach): TriangleMesh {
  const radius = outerRadius / Math.cos(Math.PI / FACETS);
  const swept = sweepTube(centreline, { radius, maxChordError: CHORD, facets: FACETS });
  return meshFrom(swept.positions, swept.indices);
}

/** The header as one mesh: tubes and parts. */
export const headerMesh = (tubes: readonly TubeReach[], parts: readonly TriangleMesh[]): TriangleMesh =>
  joinMeshes([...tubes.map(tubeMesh), ...parts]);
