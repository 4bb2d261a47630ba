import type { Element } from '../spec/spec.ts';
import { type CylinderFit, cylinderFit } from '../trade/metrology/cylinder-fit.ts';
import type { Vec } from '../trade/metrology/vector.ts';
import { at, derive, type Known, known } from '../units/known.ts';
import type { FactContext } from './context.ts';

/** Points that fix a cylinder with something to spare. */
export const fewestOfStud = 7;

/** How well the points picked on a stud lie on a cylinder, and how that stands. Metres and rad. */
export interface StudFit extends Pick<CylinderFit, 'centre' | 'rms' | 'arc'> {
  readonly points: number;
  readonly diameter: number;
  /** Angle of the axis from square to the flange. */
  readonly lean: number;
}

/** The points picked on the stud of a hole, in order, metres on the car; a point of no stated stud may be anybody's. */
export function studPoints(context: FactContext, hole: Element<'holes'>): Known<readonly Vec[]> {
  const { studPoints: rows } = context.spec;
  return context.memo(`stud-points/${hole.id}`, [rows, hole.name], () => {
    const studs = rows.map((row) => [row.id, at<string>(`studPoints.${row.id}.stud`, row.stud)] as const);
    return derive({ of: derive(Object.fromEntries(studs), known) }, ({ of }): Known<readonly Vec[]> => {
      const own = rows.filter((row) => of[row.id] === hole.name);
      return derive(Object.fromEntries(own.map((row) => [row.id, placeOf(row)])), (found) => Object.values(found));
    });
  });
}

function placeOf(row: Element<'studPoints'>): Known<Vec> {
  const path = `studPoints.${row.id}`;
  return derive(
    {
      x: at<number>(`${path}.x`, row.x),
      y: at<number>(`${path}.y`, row.y),
      z: at<number>(`${path}.z`, row.z),
    },
    ({ x, y, z }): Vec => [x, y, z],
  );
}

/** The flange lies across y, and a stud stands about square to it. */
const square: Vec = [0, 1, 0];

/** Cylinder of least squares through at least seven picked points, the one that leans least; points that fix none: inconsistent. */
export function fittedStud(points: readonly Vec[]): Known<StudFit> {
  return derive({ fit: cylinderFit(points, [square]) }, ({ fit: { centre, axis, radius, rms, arc } }) => ({
    centre,
    rms,
    arc,
    points: points.length,
    diameter: 2 * radius,
    lean: Math.acos(Math.min(1, Math.abs(axis[1]))),
  }));
}
