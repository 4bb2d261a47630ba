import { buildPointGrid, type PointGrid } from '../../../shared/geometry/cloud.ts';
import { put, vectorAt } from '../../../shared/geometry/fit/footFinder.ts';
import { type PointsAtPlanes, planeStep } from '../../../shared/geometry/fit/planeStep.ts';
import { STAY } from '../../../shared/geometry/fit/roughFit.ts';
import { principalAxes } from '../../../shared/geometry/fit/smallSystems.ts';
import { after, type Motion, movedBy } from '../../../shared/geometry/motion.ts';
import type { LeftBetween, ScanFitResult } from '../../../shared/geometry/scanFitMeasurement.ts';
import { add, distance, dot, subtract, type Vec3 } from '../../../shared/geometry/vector.ts';
import type { Attempt } from '../jobs.ts';
import { grouped } from '../readers/problem.ts';
import { NearbyPoints } from './nearby-points.ts';

/** Points looked at of the scan that is moved (own: its motion is then uncertain by a hundredth of the noise). */
const LOOKED_AT = 40_000;
/** How far off the other scan a point may be and still belong to it, metres (own: far more than picked points leave). */
const REACH = 0.01;
/** The reach follows what is left: this many times what four of five are off by, but no less than the second. */
const [FOLLOWS, LEAST_REACH] = [5, 0.002];
/** Four points of five hold the fit: what moved between two scans, and strays, stay out of it. */
const KEEP = 0.8;
const ROUNDS = 100;
/** A step shorter than this ends the fit, metres (own: a hundredth of a scan's noise). */
const SETTLED = 2e-6;
/** Points of the other scan that the planes are made of (own: neighbours then stand apart by more than the noise, and by less than what is round). */
const PLANE_POINTS = 500_000;
/** Points around one that tell the plane there, and how flat they must be: the least spread over the middle one, squared (own). */
const [AROUND, FLAT] = [16, 0.1];
/** Fewest points that a fit goes by (own). */
const FEWEST = 200;
/** Surfaces must face at least this much, squared, into every direction, or the scan could slide along them (own). */
const HELD = 0.01;

/** Lays a scan finely on another that it overlaps, both on the car: points to planes, trimmed. */
export function scanFitOf(moving: PointGrid, onto: PointGrid): Attempt<ScanFitResult> {
  if (moving.count === 0 || onto.count === 0)
    return failed('empty', `Expected two scans with points, got ${grouped(moving.count)} and ${grouped(onto.count)}.`);
  const pairs = new Pairs(moving, thinned(onto));
  pairs.pair(STAY, REACH);
  const before = left(pairs.gaps);
  if (pairs.paired < FEWEST) {
    const message = `Expected scans that overlap: ${grouped(FEWEST)} points of the first within ${REACH * 1000} mm of flat places of the second, got ${grouped(pairs.paired)} of ${grouped(pairs.count)}. Place both by their datum points first.`;
    return failed('no-overlap', message);
  }
  if (pairs.leastHold() < HELD)
    return failed(
      'not-held',
      'Expected surfaces that face three ways where both scans overlap, these leave the scan free to slide along them.',
    );
  const { motion, settled } = fitted(pairs);
  pairs.pair(motion, REACH);
  return {
    ok: true,
    result: {
      motion: about(onto.origin, motion),
      ...{ shift: pairs.farthestMoved(), compared: pairs.paired, overlap: pairs.paired / pairs.count },
      ...{ before, after: left(pairs.gaps), settled },
    },
  };
}

/** A scan of so many points at most, every so many-th of its own. */
function thinned(grid: PointGrid): PointGrid {
  if (grid.count <= PLANE_POINTS) return grid;
  const few = new Float32Array(3 * PLANE_POINTS);
  for (let i = 0; i < PLANE_POINTS; i++) {
    const o = 3 * Math.floor((i * grid.count) / PLANE_POINTS);
    for (let k = 0; k < 3; k++) few[3 * i + k] = grid.positions[o + k] ?? 0;
  }
  return buildPointGrid(few, grid.origin);
}

/** A motion in a frame whose zero is there, as one of the frame outside. */
function about(zero: Vec3, { rotation, translation }: Motion): Motion {
  const turned = movedBy({ rotation, translation: [0, 0, 0] }, zero);
  return { rotation, translation: add(translation, subtract(zero, turned)) };
}

const failed = (code: string, message: string): Attempt<never> => ({ ok: false, problem: { code, message } });

function fitted(pairs: Pairs): { readonly motion: Motion; readonly settled: boolean } {
  let [motion, reach] = [STAY, REACH];
  for (let round = 0; round < ROUNDS; round++) {
    pairs.pair(motion, reach);
    const kept = share(pairs.gaps, KEEP);
    const step = planeStep(pairs, kept);
    motion = after(step.motion, motion);
    if (step.length < SETTLED) return { motion, settled: true };
    reach = Math.min(reach, Math.max(LEAST_REACH, FOLLOWS * kept));
  }
  return { motion, settled: false };
}

/** Sizes of the gaps that are numbers, least first. */
const sizes = (gaps: Float64Array): Float64Array =>
  gaps
    .filter((gap) => !Number.isNaN(gap))
    .map(Math.abs)
    .sort();

/** The size that this share of the gaps is not above. */
function share(gaps: Float64Array, part: number): number {
  const sorted = sizes(gaps);
  return sorted[Math.max(0, Math.ceil(part * sorted.length) - 1)] ?? 0;
}

function left(gaps: Float64Array): LeftBetween {
  const sorted = sizes(gaps);
  const squares = sorted.reduce((sum, gap) => sum + gap * gap, 0);
  return { rms: Math.sqrt(squares / Math.max(1, sorted.length)), size95: share(gaps, 0.95) };
}

/** Points of one scan with the planes of another that are nearest to them. */
class Pairs implements PointsAtPlanes {
  readonly count: number;
  readonly moved: Float64Array;
  readonly ways: Float64Array;
  readonly gaps: Float64Array;
  /** How many have a plane. */
  paired = 0;
  /** On the car, metres from the origin of the other scan. */
  private readonly points: Float64Array;
  /** 1 for a point that is so far off that it is not looked at again. */
  private readonly far: Uint8Array;
  private readonly nearest: NearbyPoints;
  private readonly planes: Planes;
  private readonly onto: PointGrid;

  constructor(moving: PointGrid, onto: PointGrid) {
    this.onto = onto;
    this.count = Math.min(LOOKED_AT, moving.count);
    this.points = new Float64Array(3 * this.count);
    const offset = subtract(moving.origin, onto.origin);
    for (let i = 0; i < this.count; i++) {
      const o = 3 * Math.floor((i * moving.count) / this.count);
      const at = (k: number): number => moving.positions[o + k] ?? 0;
      put(this.points, i, add([at(0), at(1), at(2)], offset));
    }
    this.moved = new Float64Array(3 * this.count);
    this.ways = new Float64Array(3 * this.count);
    this.gaps = new Float64Array(this.count);
    this.nearest = new NearbyPoints(onto, 1);
    this.planes = new Planes(onto);
    this.far = Uint8Array.from({ length: this.count }, (_, i) =>
      this.nearest.find(vectorAt(this.points, i), 2 * REACH) === 0 ? 1 : 0,
    );
  }

  /** Finds the plane of each point where a motion puts it. */
  pair(motion: Motion, reach: number): void {
    this.paired = 0;
    for (let i = 0; i < this.count; i++) {
      this.gaps[i] = Number.NaN;
      if (this.far[i]) continue;
      const p = movedBy(motion, vectorAt(this.points, i));
      put(this.moved, i, p);
      if (this.nearest.find(p, reach) === 0) continue;
      const near = this.nearest.found[0] ?? 0;
      const way = this.planes.at(near);
      if (!way) continue;
      put(this.ways, i, way);
      this.gaps[i] = dot(way, subtract(p, pointOf(this.onto, near)));
      this.paired++;
    }
  }

  /** How much the planes hold the direction they hold least: 0 when the scan may slide, a third when they face all ways alike. */
  leastHold(): number {
    const facing = new Array<number>(9).fill(0);
    for (let i = 0; i < this.count; i++) {
      if (Number.isNaN(this.gaps[i])) continue;
      const way = vectorAt(this.ways, i);
      for (let k = 0; k < 9; k++)
        facing[k] = (facing[k] ?? 0) + ((way[Math.floor(k / 3)] ?? 0) * (way[k % 3] ?? 0)) / this.paired;
    }
    return spreadAlong(facing, principalAxes(facing)[2]);
  }

  farthestMoved(): number {
    let most = 0;
    for (let i = 0; i < this.count; i++)
      if (!Number.isNaN(this.gaps[i]))
        most = Math.max(most, distance(vectorAt(this.moved, i), vectorAt(this.points, i)));
    return most;
  }
}

const pointOf = ({ positions }: PointGrid, i: number): Vec3 => [
  positions[3 * i] ?? 0,
  positions[3 * i + 1] ?? 0,
  positions[3 * i + 2] ?? 0,
];

/** Planes of a scan around its points, worked out when they are first asked for. */
class Planes {
  private readonly grid: PointGrid;
  private readonly around: NearbyPoints;
  private readonly known = new Map<number, Vec3 | null>();

  constructor(grid: PointGrid) {
    this.grid = grid;
    this.around = new NearbyPoints(grid, AROUND);
  }

  /** Square to the plane around a point, unit; null where its neighbours do not lie in one. */
  at(point: number): Vec3 | null {
    const known = this.known.get(point);
    if (known !== undefined) return known;
    const way = this.wayAt(point);
    this.known.set(point, way);
    return way;
  }

  private wayAt(point: number): Vec3 | null {
    const count = this.around.find(pointOf(this.grid, point), REACH);
    if (count < AROUND / 2) return null;
    const near = Array.from(this.around.found.subarray(0, count), (i) => pointOf(this.grid, i));
    const middle = near.reduce((sum, p) => add(sum, p), [0, 0, 0] as Vec3).map((x) => x / count);
    const spread = Array.from({ length: 9 }, (_, k) => {
      const [i, j] = [Math.floor(k / 3), k % 3];
      return near.reduce((sum, p) => sum + ((p[i] ?? 0) - (middle[i] ?? 0)) * ((p[j] ?? 0) - (middle[j] ?? 0)), 0);
    });
    const [, second, third] = principalAxes(spread);
    const [x = 0, y = 0, z = 0] = third ?? [];
    return spreadAlong(spread, third) <= FLAT * spreadAlong(spread, second) ? [x, y, z] : null;
  }
}

/** What a symmetric matrix of nine numbers gives along a direction. */
function spreadAlong(matrix: readonly number[], way: readonly number[] = []): number {
  return matrix.reduce((sum, value, k) => sum + value * (way[Math.floor(k / 3)] ?? 0) * (way[k % 3] ?? 0), 0);
}
