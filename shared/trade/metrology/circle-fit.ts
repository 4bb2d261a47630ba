import { derive, type Known, known } from '../../units/known.ts';
import { inconsistent } from '../data/validity.ts';
import { leastSquares, type Problem, parameterDeviation } from './least-squares.ts';
import { solveLinear } from './matrix.ts';
import { firstBad } from './vector.ts';

/** A point in the plane of the circle, m. */
export type PlanePoint = readonly [number, number];

/** A circle, how its fit went, and what the answer rests on; m and rad. */
export interface CircleFit {
  readonly centre: PlanePoint;
  readonly radius: number;
  /** Distances from the circle, positive outside. */
  readonly residuals: readonly number[];
  readonly rms: number;
  /** Arc the points cover: 2 pi less their widest gap. Below about half a turn the radius is poorly held. */
  readonly arc: number;
  /** One standard deviation of the radius from the covariance of the fit; null when three points fix it exactly. */
  readonly radiusDeviation: number | null;
}

interface Circle {
  readonly centre: PlanePoint;
  readonly radius: number;
}

/** Circle by Kasa's linear least squares on x^2 + y^2 = 2ax + 2by + c: quick, but drawn to a smaller radius on short arcs. At least three points not on a line. */
export function algebraicCircle(points: readonly PlanePoint[]): Known<CircleFit> {
  return derive({ circle: kasa(points) }, ({ circle }) => known(described(points, circle, null)));
}

/**
 * Circle of least squared distances, from Kasa's as a start. At least three points not on a line, else inconsistent. Source:
 * Levenberg-Marquardt on orthogonal distances, e.g. Shakarji, J. Res. NIST 103 (1998) 633.
 */
export function geometricCircle(points: readonly PlanePoint[]): Known<CircleFit> {
  return derive({ start: kasa(points) }, ({ start }): Known<CircleFit> => {
    const found = leastSquares(problem(points), start);
    const { centre, radius } = found.state;
    if (!found.converged || !(radius > 0) || !centre.every(Number.isFinite))
      return inconsistent('circle fit: expected points that fix a circle, got a search without end');
    return known(described(points, found.state, parameterDeviation(found, 2, points.length)));
  });
}

function kasa(points: readonly PlanePoint[]): Known<Circle> {
  if (points.length < 3) return inconsistent(`circle fit: expected at least 3 points, got ${points.length}`);
  const bad = firstBad(points);
  if (bad >= 0) return inconsistent(`circle fit: expected finite points, got ${points[bad]} at ${bad}`);
  const n = points.length;
  const mx = points.reduce((sum, [x]) => sum + x, 0) / n;
  const my = points.reduce((sum, [, y]) => sum + y, 0) / n;
  let [xx, xy, yy, xz, yz, zz] = [0, 0, 0, 0, 0, 0];
  for (const [px, py] of points) {
    const [x, y] = [px - mx, py - my];
    const z = x * x + y * y;
    xx += x * x;
    xy += x * y;
    yy += y * y;
    xz += x * z;
    yz += y * z;
    zz += z;
  }
  const spans = xx * yy - xy * xy > 1e-12 * (xx + yy) ** 2;
  const solved = spans
    ? solveLinear(
        [
          [xx, xy],
          [xy, yy],
        ],
        [xz / 2, yz / 2],
      )
    : null;
  if (!solved) return inconsistent('circle fit: expected points that fix a circle, got points on one line');
  const [a = 0, b = 0] = solved;
  return known({ centre: [a + mx, b + my], radius: Math.sqrt(zz / n + a * a + b * b) });
}

function problem(points: readonly PlanePoint[]): Problem<Circle> {
  return {
    observe: ({ centre, radius }) =>
      points.map(([x, y]) => {
        const [dx, dy] = [x - centre[0], y - centre[1]];
        const distance = Math.hypot(dx, dy);
        const [nx, ny] = distance > 0 ? [dx / distance, dy / distance] : [1, 0];
        return { residual: distance - radius, gradient: [-nx, -ny, -1] };
      }),
    step: ({ centre, radius }, [dx = 0, dy = 0, dr = 0]) => ({
      centre: [centre[0] + dx, centre[1] + dy],
      radius: radius + dr,
    }),
  };
}

function described(points: readonly PlanePoint[], { centre, radius }: Circle, deviation: number | null): CircleFit {
  const residuals = points.map(([x, y]) => Math.hypot(x - centre[0], y - centre[1]) - radius);
  return {
    centre,
    radius,
    residuals,
    rms: Math.sqrt(residuals.reduce((sum, r) => sum + r ** 2, 0) / residuals.length),
    arc: coveredArc(points.map(([x, y]) => Math.atan2(y - centre[1], x - centre[0]))),
    radiusDeviation: deviation,
  };
}

/** 2 pi less the widest gap between neighbouring directions, rad. */
export function coveredArc(angles: readonly number[]): number {
  const sorted = [...angles].sort((a, b) => a - b);
  const [first, last] = [sorted[0], sorted.at(-1)];
  if (first === undefined || last === undefined) return 0;
  let widest = 2 * Math.PI - last + first;
  for (const [i, angle] of sorted.entries()) widest = Math.max(widest, (sorted[i + 1] ?? angle) - angle);
  return 2 * Math.PI - widest;
}
