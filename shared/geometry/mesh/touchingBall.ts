import type { Vec3 } from '../vector.ts';
import { along, dot, norm, subtract } from '../vector.ts';
import { NearestFinder, squaredToTriangle } from './nearest.ts';
import { leafNormal, RayCaster } from './rayHit.ts';
import type { TriangleTree } from './triangleTree.ts';

/** What stands opposite a place of a surface. */
export interface Opposite {
  /** Distance between the two faces, metres. */
  readonly width: number;
  /** The place opposite. */
  readonly place: Vec3;
  /** Triangle there, as its place in the order of the leaves. */
  readonly leaf: number;
}

/**
 * Two faces count as opposite when their directions part by more than this, as a cosine (own: 120 degrees, so a wedge up to 60 degrees has
 * two opposite faces and a square edge has none).
 */
const OPPOSED = -0.5;
/** A ball counts as free when nothing is nearer to its middle than this part of its radius: the width's relative error is half of what lacks to 1. */
const FREE = 0.9999;
/** Turns after which a ball that still shrinks is taken as it is (own; seeded by a ray it needs one or two). */
const TURNS = 40;

/** What a ray square into a surface meets first. */
export interface SeenAcross {
  /** The triangle it starts on, as its place in the order of the leaves. */
  readonly leaf: number;
  /** How far is looked, metres. */
  readonly limit: number;
  /** Distance to what it meets, metres; infinite for nothing within the limit. */
  readonly seen: number;
  /** The triangle met, as its place in the order of the leaves; -1 for none. */
  readonly hit: number;
  /** Where the ball came to rest, when something faster than this module shrank it. */
  readonly rest?: AtRest;
}

/** The last step of a shrinking ball. */
export interface AtRest {
  /** Radius from which it shrank, metres; not read for one that was free from the first. */
  readonly before: number;
  /** The triangle it touched, as its place in the order of the leaves; -1 for one that was free from the first. */
  readonly leaf: number;
}

/** A ball that touches at two places. Metres. */
interface Touched {
  readonly radius: number;
  readonly place: Vec3;
  readonly leaf: number;
}

/**
 * Measures across from places of a surface by the largest ball that touches there and goes through nothing, seeded by a ray; so a slanted
 * opposite face is measured square to the middle between both, not along the ray. Where an edge nearby stops the ball, and not an opposite
 * face, the ray counts if it ends at an opposite face.
 */
export class BallGauge {
  private readonly tree: TriangleTree;
  private readonly caster: RayCaster;
  private readonly finder: NearestFinder;
  private readonly contact = new Float64Array(3);

  constructor(tree: TriangleTree) {
    this.tree = tree;
    this.caster = new RayCaster(tree);
    this.finder = new NearestFinder(tree);
  }

  /**
   * What stands opposite a place within a limit (metres), or undefined.
   * @param into unit direction from the surface into what is measured: minus the outward normal for walls, the normal for gaps
   * @param leaf the triangle that the place is on, as its place in the order of the leaves
   */
  across(place: Vec3, into: Vec3, leaf: number, limit: number): Opposite | undefined {
    const seen = this.caster.first(place, into, { from: limit * 1e-9, to: limit }, leaf);
    return this.acrossFrom(place, into, { leaf, limit, seen, hit: this.caster.leaf });
  }

  /** The same when it is known already what a ray meets, and perhaps where the ball comes to rest. */
  acrossFrom(place: Vec3, into: Vec3, { leaf, limit, seen, hit, rest }: SeenAcross): Opposite | undefined {
    const ball = rest ? this.atRest(place, into, rest) : this.shrink(place, into, Math.min(seen, limit) / 2);
    if (ball) {
      const toMiddle = subtract(along(place, into, ball.radius), ball.place);
      const opposed = dot(into, toMiddle) <= OPPOSED * norm(toMiddle);
      if (opposed) return { width: 2 * ball.radius, place: ball.place, leaf: ball.leaf };
    }
    if (hit < 0 || (ball && !this.facing(leaf, hit))) return undefined;
    return { width: seen, place: along(place, into, seen), leaf: hit };
  }

  /** Shrinks a ball that touches at a place until it is free; undefined when it was free from the first. */
  private shrink(place: Vec3, into: Vec3, first: number): Touched | undefined {
    const { finder } = this;
    let ball: Touched | undefined;
    for (let turn = 0; turn < TURNS; turn++) {
      const radius = ball?.radius ?? first;
      finder.find(along(place, into, radius), (radius * FREE) ** 2);
      if (finder.leaf < 0) break;
      const smaller = touching(place, into, radius, { place: vec(finder.place), leaf: finder.leaf });
      if (!smaller) break;
      ball = smaller;
    }
    return ball;
  }

  /** The ball that comes of the last step of another, in double precision. */
  private atRest(place: Vec3, into: Vec3, { before, leaf }: AtRest): Touched | undefined {
    if (leaf < 0) return undefined;
    const [x, y, z] = along(place, into, before);
    squaredToTriangle(this.tree.corners, 9 * leaf, x, y, z, this.contact);
    return touching(place, into, before, { place: vec(this.contact), leaf });
  }

  private facing(a: number, b: number): boolean {
    const [n, m] = [leafNormal(this.tree, a), leafNormal(this.tree, b)];
    return dot(n, m) <= OPPOSED * norm(n) * norm(m);
  }
}

const vec = (p: Float64Array): Vec3 => [p[0] ?? 0, p[1] ?? 0, p[2] ?? 0];

/** The ball that touches at a place and at a contact, when it is smaller than one of a radius that the contact stands in. */
function touching(
  place: Vec3,
  into: Vec3,
  radius: number,
  contact: { readonly place: Vec3; readonly leaf: number },
): Touched | undefined {
  const way = subtract(contact.place, place);
  const [squared, ahead] = [dot(way, way), dot(way, into)];
  // Beside the place, not ahead of it: rounding of the surface itself, which no smaller ball would clear.
  if (!(ahead > 1e-9 * Math.sqrt(squared))) return undefined;
  const smaller = squared / (2 * ahead);
  return smaller < radius ? { ...contact, radius: smaller } : undefined;
}
