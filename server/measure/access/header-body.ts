import type { TubeReach } from '../../../shared/geometry/gap.ts';
import { joinMeshes, meshFrom, type TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { type TriangleTree, triangleTree } from '../../../shared/geometry/mesh/triangleTree.ts';
import { sweepTube } from '../../../shared/geometry/sweep.ts';

/** Facets round a tube: they stand out by 0.05 % of its radius at most. */
const FACETS = 96;
/** Largest distance between the mesh of a tube and its surface along its bends, metres. */
const CHORD = 2e-5;
/** Headers kept between questions (own: some 60 MB each). Every hole and every joint asks about the same few. */
const KEPT = 4;

/** A tube as a mesh that nowhere lies inside it across: its facets touch the tube from outside. */
export function tubeMesh({ centreline, outerRadius }: TubeReach): TriangleMesh {
  const radius = outerRadius / Math.cos(Math.PI / FACETS);
  const swept = sweepTube(centreline, { radius, maxChordError: CHORD, facets: FACETS });
  return meshFrom(swept.positions, swept.indices);
}

/** The header as triangles: its tubes one by one, its parts, and all of it as one tree, made when first asked for. */
export interface HeaderBody {
  readonly tubes: readonly TriangleMesh[];
  readonly parts: readonly TriangleMesh[];
  readonly tree: () => TriangleTree;
}

/** A body that is not kept. */
export function headerBody(tubes: readonly TubeReach[], parts: readonly TriangleMesh[]): HeaderBody {
  const meshes = tubes.map(tubeMesh);
  let tree: TriangleTree | undefined;
  return {
    tubes: meshes,
    parts,
    tree: () => {
      tree ??= triangleTree(joinMeshes([...meshes, ...parts]));
      return tree;
    },
  };
}

const kept = new Map<string, HeaderBody>();

/** The body under a name; made when it is not one of those asked for last. */
export function keptBody(name: string, make: () => HeaderBody): HeaderBody {
  const body = kept.get(name) ?? make();
  kept.delete(name);
  kept.set(name, body);
  for (const oldest of kept.keys()) {
    if (kept.size <= KEPT) break;
    kept.delete(oldest);
  }
  return body;
}
