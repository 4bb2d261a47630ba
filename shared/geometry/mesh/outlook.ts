import type { Vec3 } from '../vector.ts';
import { dot } from '../vector.ts';
import { RayCaster } from './rayHit.ts';
import { spreadDirections } from './rotation.ts';
import type { TriangleTree } from './triangleTree.ts';

/** A place on a surface: metres, outward unit normal, and the triangle it lies on by its place in the order of the leaves. */
export interface OutlookPlace {
  readonly at: Vec3;
  readonly normal: Vec3;
  readonly leaf: number;
}

/** Looks out of the half space over a place. */
const LOOKS = 256;
/**
 * Free looks with which a straight tool counts as reaching a place. The open end of a tube, seen from its wall three diameters inside, fills
 * 1.4 % of the half space, which is 3.5 of 256 looks. Source of the three diameters: common practice, no source.
 */
export const REACHED = 3;
/** Looks flatter than this graze the face they come from (sine of the angle; own). */
const GRAZING = 0.02;
/** Looks begin a hair off the surface, metres (own: far below any wall), and go on for ever. */
const FAR = { from: 1e-7, to: Number.POSITIVE_INFINITY };

/** Looks from places on a surface into the open. */
export class Outlook {
  private readonly caster: RayCaster;
  private readonly looks = spreadDirections(2 * LOOKS);

  constructor(tree: TriangleTree) {
    this.caster = new RayCaster(tree);
  }

  /** Looks from a place, of 256 spread evenly over the half space before it, that meet nothing; counted up to {@link REACHED}. */
  free({ at, normal, leaf }: OutlookPlace): number {
    let free = 0;
    for (const look of this.looks) {
      if (dot(look, normal) < GRAZING) continue;
      if (!this.caster.blocked(at, look, FAR, leaf) && ++free >= REACHED) break;
    }
    return free;
  }
}
