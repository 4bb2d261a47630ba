import { derive, type Known, known } from '../../units/known.ts';
import { inconsistent } from '../data/validity.ts';
import { planeFit, principalAxes } from './plane-fit.ts';
import { along, centroid, cross, dot, firstBad, minus, unit, type Vec } from './vector.ts';

/** What the datum is taken from, m. For a header: head flange face, a line through two stud centres, one stud. */
export interface DatumFeatures {
  /** At least three points of the primary face. */
  readonly primary: readonly Vec[];
  /** Rough direction the primary face looks in: decides the sign of z. */
  readonly outward: Vec;
  /** At least two points of the secondary line, in the sense of +x. */
  readonly secondary: readonly Vec[];
  /** The point that stops the last freedom. */
  readonly tertiary: Vec;
}
/** Right-handed frame: origin in m, unit axes. */
export interface DatumFrame {
  readonly origin: Vec;
  readonly x: Vec;
  readonly y: Vec;
  readonly z: Vec;
}

/**
 * 3-2-1 frame: z is the outward normal of the least-squares plane, x the secondary line laid into that plane, y = z cross x; the
 * origin lies on the plane, on the secondary line and level with the tertiary point. Too few points, points in line, or a line square
 * to the plane: inconsistent. Source: concept of ISO 5459 and ASME Y14.5 (from memory).
 */
export function datumFrame(features: DatumFeatures): Known<DatumFrame> {
  const { primary, outward, secondary, tertiary } = features;
  return derive({ plane: planeFit(primary) }, ({ plane }): Known<DatumFrame> => {
    if (secondary.length < 2 || firstBad([...secondary, tertiary, outward]) >= 0)
      return inconsistent(`datum frame: expected at least 2 finite secondary points, got ${secondary.length}`);
    const side = dot(plane.normal, outward);
    if (side === 0)
      return inconsistent('datum frame: expected an outward direction off the primary plane, got one in it');
    const z: Vec = side > 0 ? plane.normal : [-plane.normal[0], -plane.normal[1], -plane.normal[2]];
    const laid = secondary.map((p) => along(p, -dot(minus(p, plane.centroid), z), z));
    const [first, last] = [laid[0], laid.at(-1)];
    const [main] = principalAxes(laid);
    const length = Math.max(...secondary.map((p) => Math.hypot(...minus(p, centroid(secondary)))));
    if (!first || !last || !main || !(Math.sqrt(main.value) > 1e-6 * length))
      return inconsistent(
        'datum frame: expected a secondary line across the normal, got one along it or a single place',
      );
    const [a = 0, b = 0, c = 0] = main.vector;
    const sense = dot([a, b, c], minus(last, first)) < 0 ? -1 : 1;
    const x = unit([sense * a, sense * b, sense * c]);
    if (!x) return inconsistent('datum frame: expected a secondary line, got points without a direction');
    const onLine = centroid(laid);
    return known({ origin: along(onLine, dot(minus(tertiary, onLine), x), x), x, y: cross(z, x), z });
  });
}

/** A point told in a frame, m. */
export function inFrame({ origin, x, y, z }: DatumFrame, point: Vec): Vec {
  const d = minus(point, origin);
  return [dot(d, x), dot(d, y), dot(d, z)];
}
