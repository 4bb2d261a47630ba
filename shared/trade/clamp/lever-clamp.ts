import { type Known, known } from '../../units/known.ts';
import { contradiction, type Limit, outsideLimits } from '../limits.ts';

/** A flange hooked under a fixed wedge ledge on one edge and pulled down by a bolt rail on the other. */
export interface LeverClamp {
  /** F_b, N. */
  readonly boltForce: number;
  /** b, ledge contact to bolts, m. */
  readonly boltDistance: number;
  /** g, ledge contact to the resultant of the gasket, m. */
  readonly gasketDistance: number;
  /** alpha from the sealing plane, rad. */
  readonly angle: number;
  /** mu on the ledge. */
  readonly friction: number;
}
/** Forces in N; the last is the friction the gasket must supply so that the flange does not slide out. */
export interface LeverClampForces {
  readonly gasket: number;
  readonly ledge: number;
  readonly pushIn: number;
  readonly hold: number;
  readonly gasketFrictionNeeded: number;
}

const limits: Readonly<Record<keyof LeverClamp, Limit>> = {
  boltForce: ['force', 1, 1e6],
  boltDistance: ['length', 1e-3, 1],
  gasketDistance: ['length', 1e-3, 1],
  angle: ['angle', 0, 1.3],
  friction: ['ratio', 0, 0.6],
};

/** Case 3. Bolts must stand beyond the gasket resultant, else the ledge would pull. Source: own statics. */
export function leverClamp(clamp: LeverClamp): Known<LeverClampForces> {
  const refused = outsideLimits('lever-clamp', clamp, limits);
  if (refused) return refused;
  const { boltForce, boltDistance, gasketDistance, angle, friction } = clamp;
  if (boltDistance < gasketDistance)
    return contradiction(
      `lever-clamp: expected bolts at or beyond the gasket resultant (${gasketDistance} m), got ${boltDistance} m`,
    );
  const slip = Math.atan(friction);
  if (angle + slip >= Math.PI / 2)
    return contradiction(`lever-clamp: expected alpha + phi below 90 degrees, got ${((angle + slip) * 180) / Math.PI}`);
  const gasket = (boltForce * boltDistance) / gasketDistance;
  const ledge = gasket - boltForce;
  const hold = ledge * Math.max(0, Math.tan(angle - slip));
  const pushIn = ledge * Math.tan(angle + slip);
  return known({ gasket, ledge, pushIn, hold, gasketFrictionNeeded: hold / gasket });
}

/** A gasket strip under an eccentric load: force in N, area in m2, eccentricity and half length in m, second moment in m4. */
export interface EccentricGasket {
  readonly force: number;
  readonly area: number;
  readonly eccentricity: number;
  readonly halfLength: number;
  readonly secondMoment: number;
}

/** Least and greatest gasket stress, Pa, of a straight-line distribution; a least value below 0 means it lifts. Source: beam theory (memory). */
export function gasketStressRange(load: EccentricGasket): Known<readonly [number, number]> {
  const refused = outsideLimits('gasket-stress-range', load, {
    force: ['force', 0, 1e6],
    area: ['area', 1e-7, 1],
    eccentricity: ['length', -1, 1],
    halfLength: ['length', 1e-3, 1],
    secondMoment: ['m4', 1e-14, 1],
  });
  if (refused) return refused;
  const mean = load.force / load.area;
  const swing = Math.abs((load.force * load.eccentricity * load.halfLength) / load.secondMoment);
  return known([mean - swing, mean + swing]);
}
