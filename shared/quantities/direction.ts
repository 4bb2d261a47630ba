import { cross, dot, norm, unit, type Vec3 } from '../geometry/vector.ts';
import { at, derive, type Known, unknown } from '../units/known.ts';

/** Angle between two directions of any length, rad, 0 to pi. */
export function angleBetween(a: Vec3, b: Vec3): number {
  // Sine and cosine keep full precision at both ends of the range.
  return Math.atan2(norm(cross(a, b)), dot(a, b));
}

/** The three parts of a direction as the spec holds them. */
export interface DirectionFields {
  readonly directionX: number | undefined;
  readonly directionY: number | undefined;
  readonly directionZ: number | undefined;
}

/** A direction given by its parts below `path`, made unit length; three zeros are inconsistent. */
export function directionAt(path: string, fields: DirectionFields): Known<Vec3> {
  return derive(
    {
      x: at(`${path}.directionX`, fields.directionX),
      y: at(`${path}.directionY`, fields.directionY),
      z: at(`${path}.directionZ`, fields.directionZ),
    },
    ({ x, y, z }): Vec3 | Known<Vec3> => {
      if (norm([x, y, z]) > 1e-6) return unit([x, y, z]);
      const detail = 'expected a direction with at least one part other than 0, got 0, 0, 0';
      const paths = ['X', 'Y', 'Z'].map((part) => `${path}.direction${part}`);
      return unknown({ reason: 'inconsistent', detail, paths });
    },
  );
}
