import { leafNormal } from '../mesh/rayHit.ts';
import type { TriangleTree } from '../mesh/triangleTree.ts';
import { after, type Motion } from '../motion.ts';
import type { Vec3 } from '../vector.ts';
import { norm, scale, subtract } from '../vector.ts';
import { FootFinder, movedPoints, type NearestLeaves, put, vectorAt } from './footFinder.ts';
import { type PlaneStep, planeStep } from './planeStep.ts';

/** A step shorter than this ends the fit, metres: below the rounding of any scan. */
const SETTLED = 1e-9;
/** Nearer than this a point lies on the surface, and its way out is the triangle's normal; metres. */
const ON_SURFACE = 1e-10;

/** How a fit is made. */
export interface FitEffort {
  /** Share of the points, nearest first, that each round goes by: strays and what is not on the model stay out. 0 to 1. */
  readonly keep: number;
  /** Rounds at most. */
  readonly rounds: number;
  /** Names nearest triangles, where something faster does. */
  readonly nearest?: NearestLeaves | undefined;
}

/** A motion of points onto a surface. */
export interface SurfaceFit {
  readonly motion: Motion;
  /** Root mean square distance of the points it went by, metres. */
  readonly rms: number;
  /** Whether it came to rest within the rounds it had. */
  readonly settled: boolean;
}

/**
 * Rigid motion that brings points onto a surface, from a start that is near already: each round takes the nearest place on the surface for
 * every point and makes the distances along the ways there least in squares (trimmed iterative closest points, distances to planes).
 * Source: Chen and Medioni 1992, Chetverikov 2002 for the trimming (from memory).
 * @param points xyz, metres; at least one
 */
export function fitToSurface(
  tree: TriangleTree,
  points: Float64Array,
  start: Motion,
  { keep, rounds, nearest }: FitEffort,
): SurfaceFit {
  const pairing = new Pairing(tree, points, nearest);
  let motion = start;
  for (let round = 0; round < rounds; round++) {
    const step = pairing.step(motion, keep);
    motion = after(step.motion, motion);
    if (step.length < SETTLED) return { motion, rms: pairing.rms(motion, keep), settled: true };
  }
  return { motion, rms: pairing.rms(motion, keep), settled: false };
}

/** Points with their nearest places on the surface. */
class Pairing {
  private readonly tree: TriangleTree;
  private readonly points: Float64Array;
  readonly count: number;
  private readonly finder: FootFinder;
  /** Moved points, ways out of the surface (unit) and distances along them, three, three and one a point. */
  moved: Float64Array;
  readonly ways: Float64Array;
  readonly gaps: Float64Array;

  constructor(tree: TriangleTree, points: Float64Array, nearest: NearestLeaves | undefined) {
    this.tree = tree;
    this.points = points;
    this.count = Math.floor(points.length / 3);
    this.finder = new FootFinder(tree, nearest);
    this.moved = new Float64Array(3 * this.count);
    this.ways = new Float64Array(3 * this.count);
    this.gaps = new Float64Array(this.count);
  }

  /** One round: the step from a motion to a better one, and how far it moves a point about as far out as most. */
  step(motion: Motion, keep: number): PlaneStep {
    this.pair(motion);
    return planeStep(this, this.farthestKept(keep));
  }

  /** Root mean square of the kept distances. */
  rms(motion: Motion, keep: number): number {
    this.pair(motion);
    const farthest = this.farthestKept(keep);
    let [sum, kept] = [0, 0];
    for (const gap of this.gaps)
      if (gap <= farthest) {
        sum += gap * gap;
        kept++;
      }
    return Math.sqrt(sum / Math.max(1, kept));
  }

  private pair(motion: Motion): void {
    const { finder } = this;
    this.moved = movedPoints(motion, this.points);
    finder.look(this.moved);
    for (let i = 0; i < this.count; i++) {
      const p = vectorAt(this.moved, i);
      const gap = Math.sqrt(finder.foot(i, p));
      const way = gap > ON_SURFACE ? scale(subtract(p, vectorAt(finder.place, 0)), 1 / gap) : this.facing(finder.leaf);
      put(this.ways, i, way);
      this.gaps[i] = gap;
    }
  }

  /** The way a triangle faces, unit; none for one without area, which then holds nothing. */
  private facing(leaf: number): Vec3 {
    const normal = leafNormal(this.tree, leaf);
    const length = norm(normal);
    return length > 0 ? scale(normal, 1 / length) : [0, 0, 0];
  }

  private farthestKept(keep: number): number {
    const sorted = Float64Array.from(this.gaps).sort();
    return sorted[Math.max(0, Math.ceil(keep * this.count) - 1)] ?? 0;
  }
}
