import { type Known, known } from '../../units/known.ts';
import { inconsistent } from '../data/validity.ts';
import { symmetricEigen } from './matrix.ts';
import { centroid, dot, firstBad, minus, norm, type Vec } from './vector.ts';

/** A rotation (rows) followed by a shift: y = R x + t. */
export interface RigidFit {
  readonly rotation: readonly [Vec, Vec, Vec];
  readonly translation: Vec;
  /** Turn about its axis, rad. */
  readonly angle: number;
  /** Distance left at each pair, m, and their RMS. */
  readonly residuals: readonly number[];
  readonly rms: number;
  /** Scale a similarity fit would choose; far from 1 it is an alarm for wrong units, it is never applied. */
  readonly scale: number;
}

/**
 * Rigid motion that brings `from` onto `onto` with least squares, never a mirror image. Needs at least three pairs that do not lie on
 * one line. Fewer, unequal lists, or points that are not finite: inconsistent. Source: Horn 1987 (quaternion form of Kabsch and
 * Umeyama), scale as in Umeyama 1991 (from memory).
 */
export function rigidFit(from: readonly Vec[], onto: readonly Vec[]): Known<RigidFit> {
  if (from.length !== onto.length || from.length < 3)
    return inconsistent(
      `rigid fit: expected two equal lists of at least 3 points, got ${from.length} and ${onto.length}`,
    );
  const bad = Math.max(firstBad(from), firstBad(onto));
  if (bad >= 0) return inconsistent(`rigid fit: expected finite points, got ${from[bad]} and ${onto[bad]} at ${bad}`);
  const [fromMean, ontoMean] = [centroid(from), centroid(onto)];
  const x = from.map((p) => minus(p, fromMean));
  const y = onto.map((p) => minus(p, ontoMean));
  const spread = x.reduce((sum, p) => sum + dot(p, p), 0);
  const [best, second] = symmetricEigen(quaternionMatrix(x, y));
  const ambiguous = !best || !second || best.value - second.value <= 1e-9 * Math.abs(best.value);
  if (ambiguous || !(spread > 0))
    return inconsistent('rigid fit: expected points that fix a rotation, got points on one line');
  const rotation = rotationOf(best.vector);
  const turn = (p: Vec): Vec => [dot(rotation[0], p), dot(rotation[1], p), dot(rotation[2], p)];
  const residuals = x.map((p, i) => norm(minus(y[i] ?? [Number.NaN, 0, 0], turn(p))));
  return known({
    rotation,
    translation: minus(ontoMean, turn(fromMean)),
    angle: 2 * Math.atan2(Math.hypot(...best.vector.slice(1)), Math.abs(best.vector[0] ?? 0)),
    residuals,
    rms: Math.sqrt(residuals.reduce((sum, r) => sum + r ** 2, 0) / residuals.length),
    scale: best.value / spread,
  });
}

/** Where the fit puts a point, m. */
export function moved({ rotation, translation }: RigidFit, p: Vec): Vec {
  return [
    dot(rotation[0], p) + translation[0],
    dot(rotation[1], p) + translation[1],
    dot(rotation[2], p) + translation[2],
  ];
}

/** Horn's symmetric matrix: its greatest eigenvalue is the trace of the correlation after the best rotation, its vector the quaternion. */
function quaternionMatrix(x: readonly Vec[], y: readonly Vec[]): number[][] {
  const s = (i: 0 | 1 | 2, j: 0 | 1 | 2) => x.reduce((sum, p, k) => sum + p[i] * (y[k]?.[j] ?? Number.NaN), 0);
  const [xx, xy, xz] = [s(0, 0), s(0, 1), s(0, 2)];
  const [yx, yy, yz] = [s(1, 0), s(1, 1), s(1, 2)];
  const [zx, zy, zz] = [s(2, 0), s(2, 1), s(2, 2)];
  return [
    [xx + yy + zz, yz - zy, zx - xz, xy - yx],
    [yz - zy, xx - yy - zz, xy + yx, zx + xz],
    [zx - xz, xy + yx, yy - xx - zz, yz + zy],
    [xy - yx, zx + xz, yz + zy, zz - xx - yy],
  ];
}

function rotationOf([w = 1, x = 0, y = 0, z = 0]: readonly number[]): readonly [Vec, Vec, Vec] {
  return [
    [w * w + x * x - y * y - z * z, 2 * (x * y - w * z), 2 * (x * z + w * y)],
    [2 * (x * y + w * z), w * w - x * x + y * y - z * z, 2 * (y * z - w * x)],
    [2 * (x * z - w * y), 2 * (y * z + w * x), w * w - x * x - y * y + z * z],
  ];
}
