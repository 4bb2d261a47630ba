import type { Vec3 } from '../vector.ts';
import { along, dot, norm, subtract } from '../vector.ts';
import { NearestFinder } from './nearest.ts';
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

  /** The same when it is known already what a ray meets. */
  acrossFrom(place: Vec3, into: Vec3, { leaf, limit, seen, hit }: SeenAcross): Opposite | undefined {
    const touched = this.shrink(place, into, Math.min(seen, limit) / 2);
    if (touched?.opposed) return touched;
    if (hit < 0 || (touched && !this.facing(leaf, hit))) return undefined;
    return { width: seen, place: along(place, into, seen), leaf: hit };
  }

  /** Shrinks a ball that touches at a place until it is free; undefined when it was free from the first. */
  private shrink(place: Vec3, into: Vec3, first: number): (Opposite & { readonly opposed: boolean }) | undefined {
    const { finder } = this;
    let radius = first;
    let touched: { readonly place: Vec3; readonly leaf: number } | undefined;
    for (let turn = 0; turn < TURNS; turn++) {
      finder.find(along(place, into, radius), (radius * FREE) ** 2);
      if (finder.leaf < 0) break;
      const contact: Vec3 = [finder.place[0] ?? 0, finder.place[1] ?? 0, finder.place[2] ?? 0];
      const way = subtract(contact, place);
      const [squared, ahead] = [dot(way, way), dot(way, into)];
      // Beside the place, not ahead of it: rounding of the surface itself, which no smaller ball would clear.
      if (!(ahead > 1e-9 * Math.sqrt(squared))) break;
      const next = squared / (2 * ahead);
      if (next >= radius) break;
      radius = next;
      touched = { place: contact, leaf: finder.leaf };
    }
    if (!touched) return undefined;
    const toMiddle = subtract(along(place, into, radius), touched.place);
    return { ...touched, width: 2 * radius, opposed: dot(into, toMiddle) <= OPPOSED * norm(toMiddle) };
  }

  private facing(a: number, b: number): boolean {
    const [n, m] = [leafNormal(this.tree, a), leafNormal(this.tree, b)];
    return dot(n, m) <= OPPOSED * norm(n) * norm(m);
  }
}
