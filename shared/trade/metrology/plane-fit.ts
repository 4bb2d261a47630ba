import { derive, type Known, known } from '../../units/known.ts';
import { inconsistent } from '../data/validity.ts';
import { type EigenPair, symmetricEigen } from './matrix.ts';
import { centroid, dot, firstBad, minus, type Vec } from './vector.ts';

/** Least-squares plane: a point on it, its unit normal (largest component positive), signed distances of the points, m. */
export interface PlaneFit {
  readonly centroid: Vec;
  readonly normal: Vec;
  readonly residuals: readonly number[];
  readonly rms: number;
  /** Highest point less lowest point. */
  readonly range: number;
}

/** A unit direction with the sign that makes its largest component positive, so that a fit does not flip with rounding. */
export function signed(vector: readonly number[]): Vec {
  const [x = 0, y = 0, z = 0] = vector;
  const largest = [x, y, z].reduce((a, b) => (Math.abs(b) > Math.abs(a) * (1 + 1e-9) ? b : a), 0);
  return largest < 0 ? [-x, -y, -z] : [x, y, z];
}

/** Principal axes of points about their mean, largest spread first; values are sums of squares, m2. */
export function principalAxes(points: readonly Vec[]): readonly EigenPair[] {
  const mean = centroid(points);
  const scatter = [
    [0, 0, 0],
    [0, 0, 0],
    [0, 0, 0],
  ];
  for (const point of points) {
    const d = minus(point, mean);
    for (const [i, row] of scatter.entries())
      for (const j of row.keys()) row[j] = (row[j] ?? 0) + (d[i] ?? Number.NaN) * (d[j] ?? Number.NaN);
  }
  return symmetricEigen(scatter);
}

/**
 * Plane of least squared distances through at least three points that do not lie on one line; otherwise inconsistent. Source: total
 * least squares, e.g. Shakarji, J. Res. NIST 103 (1998) 633.
 */
export function planeFit(points: readonly Vec[]): Known<PlaneFit> {
  if (points.length < 3) return inconsistent(`plane fit: expected at least 3 points, got ${points.length}`);
  const bad = firstBad(points);
  if (bad >= 0) return inconsistent(`plane fit: expected finite points, got ${points[bad]} at ${bad}`);
  const [widest, second, least] = principalAxes(points);
  if (!widest || !second || !least || !(second.value > 1e-12 * widest.value))
    return inconsistent('plane fit: expected points that span a plane, got points on one line');
  const mean = centroid(points);
  const normal = signed(least.vector);
  const residuals = points.map((point) => dot(minus(point, mean), normal));
  const rms = Math.sqrt(residuals.reduce((sum, r) => sum + r ** 2, 0) / residuals.length);
  const [high, low] = residuals.reduce(([h, l], r) => [Math.max(h, r), Math.min(l, r)], [-Infinity, Infinity]);
  return known({ centroid: mean, normal, residuals, rms, range: high - low });
}

/**
 * Flatness of a face, m: range of the distances from the least-squares plane. An upper estimate of the minimum zone of ISO 1101.
 * Needs at least four points, eight a port to mean much (common practice); fewer or degenerate: inconsistent.
 */
export function flatness(points: readonly Vec[]): Known<number> {
  if (points.length < 4) return inconsistent(`flatness: expected at least 4 points, got ${points.length}`);
  return derive({ plane: planeFit(points) }, ({ plane }) => plane.range);
}
