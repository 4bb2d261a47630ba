import type { Vec3 } from '../vector.ts';
import { add, scale } from '../vector.ts';
import type { EdgeTable } from './edges.ts';
import { edgesOf } from './edges.ts';
import { degenerateFaces, duplicateFaces } from './faces.ts';
import { massProperties } from './massProperties.ts';
import { crossingPairs } from './selfIntersection.ts';
import { holesOf, shellsOf } from './shells.ts';
import type { TriangleMesh } from './triangleMesh.ts';
import { cornerAt, vertexAt } from './triangleMesh.ts';

/** Triangles that hang together over shared edges. */
export interface Shell {
  readonly triangles: number;
  /** Signed, m3: negative for a cavity or a shell turned inside out. Of no meaning while the shell has open edges. */
  readonly volume: number;
}

/** What a mesh is like; counts unless said. Nothing in it has been repaired. */
export interface MeshReport {
  /** Edges with one triangle only. */
  readonly openEdges: number;
  /** Edges with more than two triangles. */
  readonly nonManifoldEdges: number;
  /** Edges whose two triangles run along them the same way: one of the two is inside out. */
  readonly flippedEdges: number;
  readonly shells: readonly Shell[];
  /** Pairs of triangles that cross or overlap, other than in the corners and edges they share. */
  readonly selfIntersections: number;
  /** False when the search was stopped at its limits: then a zero says nothing. */
  readonly selfIntersectionsComplete: boolean;
  /** Triangles without area. */
  readonly degenerate: number;
  /** Triangles on the same three vertices as an earlier one. */
  readonly duplicate: number;
  /** Closed loops of open edges. */
  readonly holes: number;
  /** Signed volume of all shells together, m3. */
  readonly volume: number;
  /** Surface, m2. */
  readonly area: number;
  /** One place where an edge is open, shared by more than two or flipped, else where triangles cross, metres; null when there is none. */
  readonly at: Vec3 | null;
}

/** Limits of the search for crossing triangles. */
export interface ReportLimits {
  /** Pairs counted before the search stops. */
  readonly maxPairs?: number;
  /** Exact tests done before the search stops. */
  readonly maxTests?: number;
}

/**
 * Says what a mesh is like. The vertices must have been welded (weld.ts), or every edge is open.
 * @param mesh as meshFault lets pass
 */
export function meshReport(mesh: TriangleMesh, limits: ReportLimits = {}): MeshReport {
  const edges = edgesOf(mesh);
  const shells = shellsOf(mesh, edges);
  const mass = massProperties(mesh);
  const crossings = crossingPairs(mesh, limits);
  return {
    ...edgeCounts(edges),
    shells: Array.from(shells.triangles, (triangles, i) => ({ triangles, volume: shells.volumes[i] ?? 0 })),
    selfIntersections: crossings.pairs.length / 2,
    selfIntersectionsComplete: crossings.complete,
    degenerate: marked(degenerateFaces(mesh)),
    duplicate: marked(duplicateFaces(mesh)),
    holes: holesOf(mesh, edges),
    volume: mass.volume,
    area: mass.area,
    at: faultyEdge(mesh, edges) ?? crossingPlace(mesh, crossings.pairs),
  };
}

/** The middle of the first edge that a closed, oriented surface would not have. */
function faultyEdge(mesh: TriangleMesh, { count, low, high, uses, balance }: EdgeTable): Vec3 | null {
  for (let edge = 0; edge < count; edge++) {
    if (uses[edge] === 2 && balance[edge] === 0) continue;
    const [a, b] = [vertexAt(mesh, low[edge] ?? 0), vertexAt(mesh, high[edge] ?? 0)];
    return scale(add(a, b), 0.5);
  }
  return null;
}

/** The middle of the first of the triangles that cross another. */
function crossingPlace(mesh: TriangleMesh, pairs: Uint32Array): Vec3 | null {
  const [triangle] = pairs;
  if (triangle === undefined) return null;
  const [a, b, c] = [cornerAt(mesh, triangle, 0), cornerAt(mesh, triangle, 1), cornerAt(mesh, triangle, 2)];
  return scale(add(add(a, b), c), 1 / 3);
}

const marked = (flags: Uint8Array): number => flags.reduce((sum, flag) => sum + flag, 0);

function edgeCounts(edges: EdgeTable): Pick<MeshReport, 'openEdges' | 'nonManifoldEdges' | 'flippedEdges'> {
  let [openEdges, nonManifoldEdges, flippedEdges] = [0, 0, 0];
  for (let edge = 0; edge < edges.count; edge++) {
    const uses = edges.uses[edge] ?? 0;
    if (uses === 1) openEdges++;
    else if (uses > 2) nonManifoldEdges++;
    else if (edges.balance[edge] !== 0) flippedEdges++;
  }
  return { openEdges, nonManifoldEdges, flippedEdges };
}
