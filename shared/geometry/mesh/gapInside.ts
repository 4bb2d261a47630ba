import type { Vec3 } from '../vector.ts';
import { add, distance, scale } from '../vector.ts';
import type { EdgeTable } from './edges.ts';
import { edgesOf, NO_EDGE, NO_TRIANGLE } from './edges.ts';
import { inSolid } from './inside.ts';
import { squaredToTriangle } from './nearest.ts';
import { RayCaster } from './rayHit.ts';
import { shellsOf } from './shells.ts';
import { sampleSurface } from './surfaceSamples.ts';
import { BallGauge } from './touchingBall.ts';
import { nearerTrees, nearerTriangles, noPairWithin, squaredBetween } from './triangleDistance.ts';
import type { TriangleMesh } from './triangleMesh.ts';
import type { TriangleTree } from './triangleTree.ts';
import { triangleTree } from './triangleTree.ts';
import { type CastRays, seenBy, seesNothing, usable } from './wallThickness.ts';

/** Two places of a part that face each other over air, and the distance between them, metres. */
export interface InnerGap {
  readonly gap: number;
  readonly at: Vec3;
  readonly to: Vec3;
}

/** How gaps are looked for; what is not above zero and finite counts as left out. */
export interface GapOptions {
  /** Gaps wider than this are of no interest, metres; 0.005 when left out. */
  readonly limit?: number;
  /** Largest distance between places looked at, metres; 0.003 when left out. */
  readonly spacing?: number;
  /** Casts the rays square out of the surface, where something faster than this module does. */
  readonly cast?: CastRays;
}

/** The same with what is left out filled in. */
interface Looking {
  readonly tree: TriangleTree;
  readonly limit: number;
  readonly spacing: number;
  readonly cast: CastRays | undefined;
}

const USUAL = { limit: 0.005, spacing: 0.003 } as const;
/**
 * Two faces are sides of one notch, and no gap, when they join within this many gap widths of the middle between them (own). Any two faces
 * that meet at an acute angle come as near as one likes at its root.
 */
const NOTCH = 4;
/** Most shells measured pair by pair (own); the places on the surface see the others too. */
const MOST_SHELLS = 64;
/** Most triangles looked at to tell a notch from a gap; past that it counts as a gap, which is the safe side (own). */
const MOST_PATCH = 20_000;
/** Candidates measured again triangle by triangle around their places. */
const REFINED = 24;

/**
 * Smallest gap of a closed, oriented mesh without self-intersections over air. Between shells it is exact (up to 64 of them). Between faces
 * of one shell it is looked for from places on the surface and made exact around the best of them; so a gap may be missed only where it is
 * narrower over less than the spacing. Faces that join nearby are a notch, and no gap.
 * @returns undefined when no gap up to the limit was found
 */
export function smallestInnerGap(mesh: TriangleMesh, options: GapOptions = {}): InnerGap | undefined {
  const tree = triangleTree(mesh);
  const edges = edgesOf(mesh);
  const limit = usable(options.limit, USUAL.limit);
  const between = gapBetweenShells(mesh, edges, { tree, limit });
  const within = gapWithin(mesh, edges, {
    tree,
    limit: between?.gap ?? limit,
    spacing: usable(options.spacing, USUAL.spacing),
    cast: options.cast,
  });
  return within ?? between;
}

const vec = (p: Float64Array): Vec3 => [p[0] ?? 0, p[1] ?? 0, p[2] ?? 0];

function gapBetweenShells(
  mesh: TriangleMesh,
  edges: EdgeTable,
  { tree, limit }: { readonly tree: TriangleTree; readonly limit: number },
): InnerGap | undefined {
  const shells = shellsOf(mesh, edges);
  if (shells.count < 2 || shells.count > MOST_SHELLS) return undefined;
  const trees = Array.from({ length: shells.count }, (_, shell) =>
    triangleTree({
      positions: mesh.positions,
      indices: mesh.indices.filter((_, i) => shells.ofTriangle[Math.floor(i / 3)] === shell),
    }),
  );
  const caster = new RayCaster(tree);
  let best: InnerGap | undefined;
  for (const [i, a] of trees.entries()) {
    for (const b of trees.slice(i + 1)) {
      const reach = (best?.gap ?? limit) ** 2;
      if (squaredBetween(a.boxes, 0, b.boxes, 0) >= reach) continue;
      const pair = noPairWithin(reach);
      nearerTrees(a, b, pair);
      if (pair.squared >= reach) continue;
      const [at, to] = [vec(pair.a), vec(pair.b)];
      // The wall of a cavity lies between two shells as well: only air counts.
      if (!inSolid(tree, caster, scale(add(at, to), 0.5))) best = { gap: Math.sqrt(pair.squared), at, to };
    }
  }
  return best;
}

interface Candidate extends InnerGap {
  /** The triangles on both sides, by their numbers in the mesh. */
  readonly triangles: readonly [number, number];
}

function gapWithin(mesh: TriangleMesh, edges: EdgeTable, looking: Looking): InnerGap | undefined {
  const near = new Neighbourhood(mesh, edges);
  const found = candidates(looking, near);
  let best: InnerGap | undefined;
  for (const candidate of found) {
    const exact = refined(candidate, near, 2 * looking.spacing);
    if (!best || exact.gap < best.gap) best = exact;
  }
  return best;
}

/**
 * The narrowest places seen from the surface, notches left out, narrowest first. Looked at in that order, because telling a notch from a gap
 * costs the more the wider it is.
 */
function candidates({ tree, limit, spacing, cast }: Looking, near: Neighbourhood): readonly Candidate[] {
  const samples = sampleSurface(tree, spacing);
  const met = cast?.(tree, samples, limit);
  const gauge = new BallGauge(tree);
  const seen: Candidate[] = [];
  for (let i = 0; i < samples.count; i++) {
    if (met && seesNothing(met, i)) continue;
    const [at, out] = [vec(samples.places.subarray(3 * i)), vec(samples.normals.subarray(3 * i))];
    const leaf = samples.leaves[i] ?? 0;
    const opposite = met
      ? gauge.acrossFrom(at, out, { ...seenBy(met, i), leaf, limit })
      : gauge.across(at, out, leaf, limit);
    if (!opposite) continue;
    const triangles = [tree.order[samples.leaves[i] ?? 0] ?? 0, tree.order[opposite.leaf] ?? 0] as const;
    seen.push({ gap: distance(at, opposite.place), at, to: opposite.place, triangles });
  }
  seen.sort((p, q) => p.gap - q.gap);
  const kept: Candidate[] = [];
  for (const candidate of seen) {
    if (kept.length >= REFINED) break;
    if (!near.joins(candidate)) kept.push(candidate);
  }
  return kept;
}

/** The nearest places of the two patches around both ends of a gap. */
function refined(candidate: Candidate, near: Neighbourhood, radius: number): InnerGap {
  const [first, second] = candidate.triangles;
  // Patches that reached each other would measure the root of a notch between them.
  const reach = Math.max(candidate.gap, Math.min(radius, NOTCH * candidate.gap - candidate.gap / 2));
  const [a, b] = [near.patch(first, candidate.at, reach), near.patch(second, candidate.to, reach)];
  const pair = noPairWithin(candidate.gap ** 2);
  for (const s of a) {
    for (const t of b) if (s !== t) nearerTriangles(near.corners, 9 * s, near.corners, 9 * t, pair);
  }
  return pair.squared < candidate.gap ** 2
    ? { gap: Math.sqrt(pair.squared), at: vec(pair.a), to: vec(pair.b) }
    : { gap: candidate.gap, at: candidate.at, to: candidate.to };
}

/** Walks over a surface from triangle to triangle. */
class Neighbourhood {
  /** Nine coordinates a triangle, in the order of the mesh. */
  readonly corners: Float64Array;
  private readonly edges: EdgeTable;
  private readonly place = new Float64Array(3);

  constructor(mesh: TriangleMesh, edges: EdgeTable) {
    this.edges = edges;
    this.corners = new Float64Array(3 * mesh.indices.length);
    mesh.indices.forEach((vertex, i) => {
      this.corners.set(mesh.positions.subarray(3 * vertex, 3 * vertex + 3), 3 * i);
    });
  }

  /** Whether both sides of a gap join without leaving the ball of NOTCH gap widths around its middle. */
  joins({ at, to, gap, triangles }: Candidate): boolean {
    return this.patch(triangles[0], scale(add(at, to), 0.5), NOTCH * gap, triangles[1]).has(triangles[1]);
  }

  /**
   * The triangles that come within a radius (metres) of a point and hang together with one of them there, up to MOST_PATCH.
   * @param until a triangle with which the search may stop
   */
  patch(seed: number, centre: Vec3, radius: number, until = NO_TRIANGLE): ReadonlySet<number> {
    const [x, y, z] = centre;
    const { ofSide, first, second } = this.edges;
    const found = new Set([seed]);
    for (const t of found) {
      if (found.size > MOST_PATCH || found.has(until)) break;
      for (let k = 0; k < 3; k++) {
        const edge = ofSide[3 * t + k] ?? NO_EDGE;
        if (edge === NO_EDGE) continue;
        const next = (first[edge] === t ? second[edge] : first[edge]) ?? NO_TRIANGLE;
        if (next === NO_TRIANGLE || found.has(next)) continue;
        if (squaredToTriangle(this.corners, 9 * next, x, y, z, this.place) <= radius * radius) found.add(next);
      }
    }
    return found;
  }
}
