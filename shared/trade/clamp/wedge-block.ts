import { type Known, known } from '../../units/known.ts';
import { contradiction, type Limit, outsideLimits } from '../limits.ts';

/** A wedge block pulled by a bolt normal to the sealing face against a back wall. */
export interface WedgeBlock {
  /** F_b, N. */
  readonly boltForce: number;
  /** alpha from the sealing plane, rad. */
  readonly angle: number;
  /** mu_1 on the bevel. */
  readonly bevelFriction: number;
  /** mu_2 on the back wall. */
  readonly wallFriction: number;
}
/** Forces in N: on the bevel, on the gasket, sideways into the wall. */
export interface WedgeBlockForces {
  readonly bevel: number;
  readonly gasket: number;
  readonly wall: number;
}

const limits: Readonly<Record<keyof WedgeBlock, Limit>> = {
  boltForce: ['force', 0, 1e6],
  angle: ['angle', 0, 1.4],
  bevelFriction: ['ratio', 0, 0.6],
  wallFriction: ['ratio', 0, 0.6],
};

/** Case 2. There is no gain of force: gasket + mu_2 wall = bolt. Below the friction angle nothing pushes on the wall. Source: own statics. */
export function wedgeBlock(block: WedgeBlock): Known<WedgeBlockForces> {
  const refused = outsideLimits('wedge-block', block, limits);
  if (refused) return refused;
  const { boltForce, angle, bevelFriction, wallFriction } = block;
  const along = Math.sin(angle) - bevelFriction * Math.cos(angle);
  if (along <= 0) return known({ bevel: boltForce / Math.cos(angle), gasket: boltForce, wall: 0 });
  const across = Math.cos(angle) + bevelFriction * Math.sin(angle);
  const bevel = boltForce / (across + wallFriction * along);
  return known({ bevel, gasket: bevel * across, wall: bevel * along });
}

/** A block of weight `load` raised by a wedge, friction angle the same on all faces and on the guiding wall. */
export interface RaisedBlock {
  /** N. */
  readonly load: number;
  /** rad. */
  readonly angle: number;
  /** rad. */
  readonly frictionAngle: number;
}
/** Reactions at wall, between block and wedge, and the push on the wedge; N. */
export interface RaisedBlockForces {
  readonly wall: number;
  readonly bevel: number;
  readonly push: number;
}

/** The textbook wedge, a check of the statics above. Source: published wedge example (angles inferred from its printed Lami angles). */
export function raisedBlock(block: RaisedBlock): Known<RaisedBlockForces> {
  const refused = outsideLimits('raised-block', block, {
    load: ['force', 0, 1e6],
    angle: ['angle', 0, 1.4],
    frictionAngle: ['angle', 0, 0.6],
  });
  if (refused) return refused;
  const { load, angle, frictionAngle } = block;
  const lean = angle + frictionAngle;
  const lift = Math.cos(lean) - Math.sin(lean) * Math.tan(frictionAngle);
  if (lift <= 0)
    return contradiction(`raised-block: expected a wedge that can lift, got ${angle} + ${frictionAngle} rad`);
  const bevel = load / lift;
  const wall = (bevel * Math.sin(lean)) / Math.cos(frictionAngle);
  return known({ wall, bevel, push: bevel * (Math.sin(lean) + Math.cos(lean) * Math.tan(frictionAngle)) });
}
