import type { Vec3 } from '../vector.ts';
import { dot } from '../vector.ts';
import { LIMIT_SLACK } from './normalBins.ts';
import { Outlook, type OutlookPlace, REACHED } from './outlook.ts';
import { sampleSurface } from './surfaceSamples.ts';
import type { TriangleMesh } from './triangleMesh.ts';
import { triangleTree } from './triangleTree.ts';

/** Where a part needs support that cannot be taken out again. */
export interface OverhangReach {
  /** Downward surface flatter than the limit whose support no straight tool reaches, m2; what lies on the plate does not count. */
  readonly trappedArea: number;
  /** One place of it, metres in the part's frame: that with the least way out. */
  readonly trappedAt: Vec3 | null;
}

/** How a part stands, in its own frame. */
export interface Standing {
  /** The way up, unit length. */
  readonly up: Vec3;
  /** Least angle from the plate at which a face carries itself, radians. */
  readonly overhangAngle: number;
}

/** Places looked at along the surface, metres apart (own: a support block is no smaller). */
const SPACING = 0.003;
/** Most overhanging places looked from (own: some 2 s). */
const MOST_PLACES = 2000;
/** A place counts as on the plate when it is no higher than this, metres. */
const ON_PLATE = 1e-6;

/**
 * How much of the surface that needs support can be reached with a straight tool once the part is off the plate: looked for from places on
 * it, each with looks spread over the half space before it.
 * @param mesh closed and oriented
 */
export function overhangReach(mesh: TriangleMesh, { up, overhangAngle }: Standing): OverhangReach {
  const tree = triangleTree(mesh);
  const outlook = new Outlook(tree);
  const places = overhangs(mesh, { up, overhangAngle });
  const stride = Math.max(1, Math.ceil(places.length / MOST_PLACES));
  let [seenArea, allArea, trapped] = [0, 0, 0];
  let worst = Number.POSITIVE_INFINITY;
  let trappedAt: Vec3 | null = null;
  for (const [i, place] of places.entries()) {
    allArea += place.area;
    if (i % stride !== 0) continue;
    seenArea += place.area;
    const free = outlook.free(place);
    if (free >= REACHED) continue;
    trapped += place.area;
    if (free < worst) [worst, trappedAt] = [free, place.at];
  }
  return { trappedArea: seenArea > 0 ? (trapped * allArea) / seenArea : 0, trappedAt };
}

interface Place extends OutlookPlace {
  readonly area: number;
}

function overhangs(mesh: TriangleMesh, { up, overhangAngle }: Standing): readonly Place[] {
  const { count, places, normals, areas, leaves } = sampleSurface(triangleTree(mesh), SPACING);
  const cosine = Math.cos(overhangAngle) + LIMIT_SLACK;
  const plate = lowestAlong(mesh, up) + ON_PLATE;
  const found: Place[] = [];
  for (let i = 0; i < count; i++) {
    const normal = vec(normals, i);
    const at = vec(places, i);
    if (-dot(normal, up) <= cosine || dot(at, up) <= plate) continue;
    found.push({ at, normal, area: areas[i] ?? 0, leaf: leaves[i] ?? 0 });
  }
  return found;
}

const vec = (list: Float64Array, i: number): Vec3 => [list[3 * i] ?? 0, list[3 * i + 1] ?? 0, list[3 * i + 2] ?? 0];

function lowestAlong({ positions }: TriangleMesh, up: Vec3): number {
  let lowest = Number.POSITIVE_INFINITY;
  for (let i = 0; i < positions.length / 3; i++) lowest = Math.min(lowest, dot(vec(positions, i), up));
  return lowest;
}
