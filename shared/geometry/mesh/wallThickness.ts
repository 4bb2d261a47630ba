import type { Vec3 } from '../vector.ts';
import type { SurfaceSamples } from './surfaceSamples.ts';
import { sampleSurface } from './surfaceSamples.ts';
import { type AtRest, BallGauge, type SeenAcross } from './touchingBall.ts';
import type { TriangleMesh } from './triangleMesh.ts';
import type { TriangleTree } from './triangleTree.ts';
import { triangleTree } from './triangleTree.ts';

/** How walls are looked for; what is not above zero and finite counts as left out. */
export interface WallOptions {
  /** Thickness above which a wall is of no interest, metres; 0.01 when left out. */
  readonly limit?: number;
  /** Largest distance between places looked at, metres; 0.003 when left out. */
  readonly spacing?: number;
  /** Casts the rays square into the surface, where something faster than this module does. */
  readonly cast?: CastRays;
}

/**
 * What rays square to the surface meet from samples within a limit (metres), and where the balls of the samples come to rest; undefined when it
 * cannot be told.
 */
export type CastRays = (tree: TriangleTree, samples: SurfaceSamples, limit: number) => RaysMet | undefined;

/** What each sample's ray meets: distance in metres (infinite for nothing) and the triangle as its place in the order of the leaves (-1). */
export interface RaysMet {
  readonly distances: ArrayLike<number>;
  readonly leaves: ArrayLike<number>;
  /** Where the ball of each sample came to rest, see {@link AtRest}; shrunk here when left out. */
  readonly rest?: { readonly before: ArrayLike<number>; readonly leaves: ArrayLike<number> };
}

/** The thinnest wall of a part. Metres. */
export interface ThinnestWall {
  /** Smallest thickness found. */
  readonly smallest: number;
  /** Thickness that one hundredth of the measured surface lies below. */
  readonly p1: number;
  /** The place on the surface of the smallest. */
  readonly at: Vec3;
  /** Share of the surface with no opposite face within the limit, 0 to 1: thicker there, or an edge and not a wall. */
  readonly unmeasured: number;
}

/** Where nothing is said: far above any wall of a header, and close enough that a thin place as wide as a weld is met (own). */
const USUAL = { limit: 0.01, spacing: 0.003 } as const;

/**
 * Thinnest wall of a closed, oriented mesh without self-intersections, looked for at places on its surface. A facet wall of `n` sides is
 * thinner than the round one by the cosine of pi / n: 0.14 % at 60. Parts that overlap without being united give thin walls that are none.
 * @returns undefined when nothing thinner than the limit was found, or there is no surface
 */
export function thinnestWall(mesh: TriangleMesh, options: WallOptions = {}): ThinnestWall | undefined {
  const tree = triangleTree(mesh);
  const samples = sampleSurface(tree, usable(options.spacing, USUAL.spacing));
  const limit = usable(options.limit, USUAL.limit);
  return thinnestOf(samples, wallWidths(tree, samples, limit, options.cast?.(tree, samples, limit)));
}

/** A length that can be measured by, or the usual one. */
export const usable = (length: number | undefined, usual: number): number =>
  length !== undefined && length > 0 && Number.isFinite(length) ? length : usual;

/** Thickness at each place, metres; NaN where no opposite face stands within the limit (metres). `met` saves casting the rays. */
export function wallWidths(tree: TriangleTree, samples: SurfaceSamples, limit: number, met?: RaysMet): Float64Array {
  const gauge = new BallGauge(tree);
  const widths = new Float64Array(samples.count);
  const { places, normals, leaves } = samples;
  for (let i = 0, o = 0; i < samples.count; i++, o += 3) {
    if (met?.rest && (met.rest.leaves[i] ?? -1) < 0) {
      // The ball was free from the first: what the ray met stands opposite.
      widths[i] = seesNothing(met, i) ? Number.NaN : (met.distances[i] ?? Number.NaN);
      continue;
    }
    const into: Vec3 = [-(normals[o] ?? 0), -(normals[o + 1] ?? 0), -(normals[o + 2] ?? 0)];
    const place: Vec3 = [places[o] ?? 0, places[o + 1] ?? 0, places[o + 2] ?? 0];
    const leaf = leaves[i] ?? 0;
    const found = met
      ? gauge.acrossFrom(place, into, { ...seenBy(met, i), leaf, limit })
      : gauge.across(place, into, leaf, limit);
    widths[i] = found?.width ?? Number.NaN;
  }
  return widths;
}

/** Whether neither the ray of a sample nor its ball meets anything, as far as is known. */
export const seesNothing = ({ leaves, rest }: RaysMet, i: number): boolean =>
  (leaves[i] ?? -1) < 0 && rest !== undefined && (rest.leaves[i] ?? -1) < 0;

/** What is known of a sample from its ray. */
export function seenBy({ distances, leaves, rest }: RaysMet, i: number): Omit<SeenAcross, 'leaf' | 'limit'> {
  const ball: AtRest | undefined = rest && { before: rest.before[i] ?? Number.NaN, leaf: rest.leaves[i] ?? -1 };
  return { seen: distances[i] ?? Number.NaN, hit: leaves[i] ?? -1, ...(ball && { rest: ball }) };
}

/** Sums up what was measured at each place. */
export function thinnestOf(samples: SurfaceSamples, widths: Float64Array): ThinnestWall | undefined {
  const measured: number[] = [];
  let [measuredArea, area, least] = [0, 0, -1];
  for (let i = 0; i < samples.count; i++) {
    const [width, share] = [widths[i] ?? Number.NaN, samples.areas[i] ?? 0];
    area += share;
    if (Number.isNaN(width)) continue;
    measured.push(i);
    measuredArea += share;
    if (least < 0 || width < (widths[least] ?? 0)) least = i;
  }
  if (least < 0) return undefined;
  measured.sort((a, b) => (widths[a] ?? 0) - (widths[b] ?? 0));
  let below = 0;
  const p1 = measured.find((i) => {
    below += samples.areas[i] ?? 0;
    return below >= measuredArea / 100;
  });
  const [x = 0, y = 0, z = 0] = samples.places.subarray(3 * least, 3 * least + 3);
  return {
    smallest: widths[least] ?? 0,
    p1: widths[p1 ?? least] ?? 0,
    at: [x, y, z],
    unmeasured: 1 - measuredArea / area,
  };
}
