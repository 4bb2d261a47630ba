import { type Known, known } from '../../units/known.ts';
import { inconsistent } from '../data/validity.ts';
import { algebraicCircle, coveredArc } from './circle-fit.ts';
import { leastSquares, type Minimum, type Problem, parameterDeviation } from './least-squares.ts';
import { principalAxes, signed } from './plane-fit.ts';
import { across, along, centroid, dot, firstBad, minus, norm, unit, type Vec } from './vector.ts';

/** A cylinder, how its fit went, and what the answer rests on; m and rad. */
export interface CylinderFit {
  /** Point of the axis nearest the mean of the points. */
  readonly centre: Vec;
  /** Unit direction, largest component positive. */
  readonly axis: Vec;
  readonly radius: number;
  /** Distances from the surface, positive outside. */
  readonly residuals: readonly number[];
  readonly rms: number;
  /** Arc the points cover about the axis. Below about half a turn the radius is poorly held. */
  readonly arc: number;
  /** One standard deviation of the radius from the covariance of the fit. */
  readonly radiusDeviation: number | null;
}

interface Cylinder {
  readonly centre: Vec;
  readonly axis: Vec;
  readonly radius: number;
}

/** A cylinder has five parameters; two more points keep several cylinders from passing through all of them. */
const fewestPoints = 7;

/**
 * Cylinder of least squared distances, the best of several starts (`axes`, else the principal axes of the points and fixed directions,
 * each with Kasa's circle across it). Where it is known about where the axis points, that direction alone is ten times as quick. Fewer than seven points, or points that fix no cylinder: inconsistent. Source: Levenberg-Marquardt on
 * orthogonal distances, five parameters, as in Shakarji, J. Res. NIST 103 (1998) 633.
 */
export function cylinderFit(points: readonly Vec[], axes?: readonly Vec[]): Known<CylinderFit> {
  if (points.length < fewestPoints)
    return inconsistent(`cylinder fit: expected at least ${fewestPoints} points, got ${points.length}`);
  const bad = firstBad(points);
  if (bad >= 0) return inconsistent(`cylinder fit: expected finite points, got ${points[bad]} at ${bad}`);
  const mean = centroid(points);
  const spread = Math.sqrt(points.reduce((sum, p) => sum + dot(minus(p, mean), minus(p, mean)), 0) / points.length);
  let best: Minimum<Cylinder> | null = null;
  for (const axis of axes ?? startAxes(points)) {
    const start = startAround(points, mean, axis);
    if (!start) continue;
    const found = leastSquares(problem(points, mean), start);
    // A flat patch is met ever better by ever larger cylinders: a radius far beyond the points is no answer.
    const sound = found.converged && found.state.radius > 0 && found.state.radius < 100 * spread;
    if (sound && (!best || found.squares < best.squares)) best = found;
  }
  if (!best) return inconsistent('cylinder fit: expected points that fix a cylinder, got points no start could fit');
  // The smallest principal value is the sum of squares about the best plane.
  if (best.squares >= (principalAxes(points).at(-1)?.value ?? 0))
    return inconsistent('cylinder fit: expected points that fix a cylinder, got points a plane meets as well');
  return known(described(points, mean, best));
}

function startAxes(points: readonly Vec[]): readonly Vec[] {
  const fixed: readonly Vec[] = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
    [1, 1, 1],
    [1, 1, -1],
    [1, -1, 1],
    [-1, 1, 1],
  ];
  const own = principalAxes(points).map(({ vector }) => signed(vector));
  return [...own, ...fixed].map((axis) => unit(axis)).filter((axis) => axis !== null);
}

function startAround(points: readonly Vec[], mean: Vec, axis: Vec): Cylinder | null {
  const [u, v] = across(axis);
  const circle = algebraicCircle(points.map((p) => [dot(minus(p, mean), u), dot(minus(p, mean), v)]));
  if (!circle.known) return null;
  const { centre, radius } = circle.value;
  return { centre: along(along(mean, centre[0], u), centre[1], v), axis, radius };
}

/** Parameters are taken afresh at each state: two tilts of the axis, two shifts across it, and the radius. */
function problem(points: readonly Vec[], mean: Vec): Problem<Cylinder> {
  return {
    observe({ centre, axis, radius }) {
      const [u, v] = across(axis);
      return points.map((point) => {
        const d = minus(point, centre);
        const height = dot(d, axis);
        const q = along(d, -height, axis);
        const distance = norm(q);
        const n = unit(q) ?? u;
        const [nu, nv] = [dot(n, u), dot(n, v)];
        return { residual: distance - radius, gradient: [-height * nu, -height * nv, -nu, -nv, -1] };
      });
    },
    step({ centre, axis, radius }, [a = 0, b = 0, s = 0, t = 0, dr = 0]) {
      const [u, v] = across(axis);
      const tilted = unit(along(along(axis, a, u), b, v)) ?? axis;
      const shifted = along(along(centre, s, u), t, v);
      // The centre slides along the axis to stay beside the points, where tilts and shifts do not mix.
      return { centre: along(shifted, dot(minus(mean, shifted), tilted), tilted), axis: tilted, radius: radius + dr };
    },
  };
}

function described(points: readonly Vec[], mean: Vec, found: Minimum<Cylinder>): CylinderFit {
  const { radius } = found.state;
  const axis = signed(found.state.axis);
  const centre = along(found.state.centre, dot(minus(mean, found.state.centre), axis), axis);
  const [u, v] = across(axis);
  const residuals = points.map((p) => {
    const d = minus(p, centre);
    return norm(along(d, -dot(d, axis), axis)) - radius;
  });
  const angles = points.map((p) => Math.atan2(dot(minus(p, centre), v), dot(minus(p, centre), u)));
  return {
    centre,
    axis,
    radius,
    residuals,
    rms: Math.sqrt(found.squares / points.length),
    arc: coveredArc(angles),
    radiusDeviation: parameterDeviation(found, 4, points.length),
  };
}
