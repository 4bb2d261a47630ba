import { type Known, known } from '../../units/known.ts';
import { type Limit, outsideLimits } from '../limits.ts';

/** A round bore as it lies in the build; m and rad. */
export interface PrintedBore {
  readonly diameter: number;
  /** Least self-supporting angle from the plate. */
  readonly limitAngle: number;
  /** Axis from the plate. */
  readonly tilt: number;
}
/** The part of the crown that does not carry itself: half its angle (rad), its width and its arc (m); all 0 when it carries itself. */
export interface BoreCrown {
  readonly polar: number;
  readonly chord: number;
  readonly arc: number;
}

const limits: Readonly<Record<keyof PrintedBore, Limit>> = {
  diameter: ['length', 1e-4, 0.3],
  limitAngle: ['angle', 0.1, 1.4],
  tilt: ['angle', 0, Math.PI / 2],
};

/** Crown of a bore that needs support. Source: own geometry, cos(alpha) = cos(phi) cos(beta). */
export function boreCrown(bore: PrintedBore): Known<BoreCrown> {
  const refused = outsideLimits('bore-crown', bore, limits);
  if (refused) return refused;
  const { diameter, limitAngle, tilt } = bore;
  const polar = tilt >= limitAngle ? 0 : Math.acos(Math.cos(limitAngle) / Math.cos(tilt));
  return known({ polar, chord: diameter * Math.sin(polar), arc: diameter * polar });
}
