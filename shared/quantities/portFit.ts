import type { Element, Runner } from '../spec/spec.ts';
import { geometricCircle } from '../trade/metrology/circle-fit.ts';
import { planeFit } from '../trade/metrology/plane-fit.ts';
import { across, dot, minus, type Vec } from '../trade/metrology/vector.ts';
import { at, derive, type Known, known } from '../units/known.ts';
import type { FactContext } from './context.ts';

/** How well the points picked on a port lie on a plane, and those of its rim on a circle. Lengths in metres. */
export interface PortFit {
  readonly points: number;
  readonly rimPoints: number;
  /** RMS distance of all points from their least-squares plane. */
  readonly planeRms: number;
  /** RMS distance of the rim's points from their least-squares circle in that plane; 0 without points on the rim. */
  readonly circleRms: number;
  /** Diameter of that circle; 0 without it. */
  readonly diameter: number;
  /** Angle that the rim's points cover, rad; 0 without them. */
  readonly arc: number;
  readonly middle: Vec;
}

/** Points that fix a plane with something to spare, and a circle. */
export const fewestOfPlane = 4;
/** One point more than a circle needs, and one to see a bad one by. */
export const fewestOfRim = 5;

interface Picked {
  readonly place: Vec;
  readonly rim: boolean;
}

/** The points picked on the port of a runner, in order; a point of no stated cylinder may be anybody's. */
export function portPoints(context: FactContext, runner: Runner): Known<readonly Picked[]> {
  const { portPoints: rows } = context.spec;
  return context.memo(`port-points/${runner.id}`, [rows, runner.cylinder], () => {
    const cylinders = rows.map((row) => [row.id, at<number>(`portPoints.${row.id}.cylinder`, row.cylinder)] as const);
    const inputs = {
      mine: at<number>(`runners.${runner.id}.cylinder`, runner.cylinder),
      of: derive(Object.fromEntries(cylinders), known),
    };
    return derive(inputs, ({ mine, of }): Known<readonly Picked[]> => {
      const own = rows.filter((row) => of[row.id] === mine);
      return derive(Object.fromEntries(own.map((row) => [row.id, pickedOf(row)])), (found) => Object.values(found));
    });
  });
}

function pickedOf(row: Element<'portPoints'>): Known<Picked> {
  const path = `portPoints.${row.id}`;
  return derive(
    {
      picked: at(`${path}.picked`, row.picked),
      x: at<number>(`${path}.x`, row.x),
      y: at<number>(`${path}.y`, row.y),
      z: at<number>(`${path}.z`, row.z),
    },
    ({ picked, x, y, z }): Picked => ({ place: [x, y, z], rim: picked === 'rim' }),
  );
}

/** Plane and circle of least squares through at least three picked points; too few or in line: inconsistent. */
export function fittedPort(picked: readonly Picked[]): Known<PortFit> {
  return derive({ plane: planeFit(picked.map(({ place }) => place)) }, ({ plane }): Known<PortFit> => {
    const [u, v] = across(plane.normal);
    const rim = picked.filter((one) => one.rim).map(({ place }) => minus(place, plane.centroid));
    const counts = { points: picked.length, rimPoints: rim.length, planeRms: plane.rms, middle: plane.centroid };
    if (rim.length === 0) return known({ ...counts, circleRms: 0, diameter: 0, arc: 0 });
    const circle = geometricCircle(rim.map((p) => [dot(p, u), dot(p, v)]));
    return derive({ circle }, ({ circle: { rms, radius, arc } }) => ({
      ...counts,
      circleRms: rms,
      diameter: 2 * radius,
      arc,
    }));
  });
}
