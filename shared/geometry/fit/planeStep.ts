import { type Motion, movedBy } from '../motion.ts';
import type { Vec3 } from '../vector.ts';
import { add, cross, dot, norm, rotate, scale, subtract, unit } from '../vector.ts';
import { vectorAt } from './footFinder.ts';
import { solveHeld } from './smallSystems.ts';

/** Holds directions that the surface leaves free, such as the turn of a round bar about itself; slows the others by a millionth. */
const HOLD = 1e-6;

/** Points with a plane each that it is to come to: metres. */
export interface PointsAtPlanes {
  readonly count: number;
  /** Where the points are, and the ways square to the planes (unit), three each. */
  readonly moved: Float64Array;
  readonly ways: Float64Array;
  /** Distance of each point from its plane along the way; not a number for a point that has none. */
  readonly gaps: Float64Array;
}

/** A motion that brings points nearer to their planes, and how far it moves a point about as far out as most, metres. */
export interface PlaneStep {
  readonly motion: Motion;
  readonly length: number;
}

/**
 * The small motion that makes the distances of points from their planes least in squares.
 * Source: Chen and Medioni 1992 (from memory).
 * @param farthest points farther from their plane than this stay out, metres
 */
export function planeStep(points: PointsAtPlanes, farthest: number): PlaneStep {
  const { count, moved, ways, gaps } = points;
  const { middle, radius } = spread(points, farthest);
  const [a, b] = [new Float64Array(36), new Float64Array(6)];
  const row = new Float64Array(6);
  for (let i = 0; i < count; i++) {
    if (!(Math.abs(gaps[i] ?? Number.NaN) <= farthest)) continue;
    const way = vectorAt(ways, i);
    const lever = cross(subtract(vectorAt(moved, i), middle), way);
    for (const k of [0, 1, 2] as const) {
      row[k] = lever[k] / radius;
      row[3 + k] = way[k];
    }
    for (let j = 0; j < 6; j++) {
      b[j] = (b[j] ?? 0) - (row[j] ?? 0) * (gaps[i] ?? 0);
      for (let k = 0; k < 6; k++) a[6 * j + k] = (a[6 * j + k] ?? 0) + (row[j] ?? 0) * (row[k] ?? 0);
    }
  }
  solveHeld(a, b, HOLD);
  const turn = scale(vectorAt(b, 0), 1 / radius);
  const shift = vectorAt(b, 1);
  return { motion: turnAbout(middle, turn, shift), length: radius * norm(turn) + norm(shift) };
}

function spread(
  { count, moved, gaps }: PointsAtPlanes,
  farthest: number,
): { readonly middle: Vec3; readonly radius: number } {
  let [sum, kept]: [Vec3, number] = [[0, 0, 0], 0];
  const isKept = (i: number): boolean => Math.abs(gaps[i] ?? Number.NaN) <= farthest;
  for (let i = 0; i < count; i++) {
    if (!isKept(i)) continue;
    sum = add(sum, vectorAt(moved, i));
    kept++;
  }
  const middle = scale(sum, 1 / Math.max(1, kept));
  let squares = 0;
  for (let i = 0; i < count; i++) {
    if (!isKept(i)) continue;
    const out = subtract(vectorAt(moved, i), middle);
    squares += dot(out, out);
  }
  return { middle, radius: Math.sqrt(squares / Math.max(1, kept)) || 1 };
}

/** A turn about a place by a rotation vector (radians), and then a shift. */
function turnAbout(middle: Vec3, turn: Vec3, shift: Vec3): Motion {
  const angle = norm(turn);
  const axis: Vec3 = angle > 0 ? unit(turn) : [0, 0, 1];
  const [x, y, z] = (
    [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as const
  ).map((e) => rotate(e, axis, angle));
  const row = (k: 0 | 1 | 2): Vec3 => [x?.[k] ?? 0, y?.[k] ?? 0, z?.[k] ?? 0];
  const rotation = [row(0), row(1), row(2)] as const;
  const back = movedBy({ rotation, translation: [0, 0, 0] }, middle);
  return { rotation, translation: add(subtract(middle, back), shift) };
}
