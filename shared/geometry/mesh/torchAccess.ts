import type { Vec3 } from '../vector.ts';
import { along, unit } from '../vector.ts';
import type { Capsule } from './capsule.ts';
import { CapsuleProbe } from './capsule.ts';
import { coneDirections } from './rotation.ts';
import type { TriangleTree } from './triangleTree.ts';

/** A torch as two round-ended rods on one line, metres: from the arc outwards first the cup, then the body. */
export interface Torch {
  /** Distance from the place welded to the end of the cup. */
  readonly standOff: number;
  readonly cupRadius: number;
  readonly cupLength: number;
  readonly bodyRadius: number;
  readonly bodyLength: number;
}

/** A place of a seam and the way a torch points away from it when it stands as one would wish, unit length. */
export interface SeamPlace {
  readonly at: Vec3;
  readonly away: Vec3;
}

/** How a torch may lean. */
export interface Lean {
  /** Farthest from the wished way, radians. */
  readonly angle: number;
  /** Ways tried within that cone; 128 when left out. */
  readonly tries?: number;
  /** Look no further once a free way is found: then `free` is the share of one way, or none. */
  readonly firstOnly?: boolean;
}

/** Whether a torch gets at a place, and how. */
export interface TorchAccess {
  /** Share of the ways tried that are free, 0 to 1. */
  readonly free: number;
  /** The free way nearest to the wished one, unit length; undefined when none is free. */
  readonly best: Vec3 | undefined;
  /** Its lean from the wished way, radians; undefined when none is free. */
  readonly lean: number | undefined;
}

/**
 * At how many of the ways within a cone a torch stands free of a mesh, for each place of a seam. Exact for the ways tried: rods against
 * triangles. The torch only is looked at, not the hand, the hose or the view.
 * @param tree everything in the way, the parts welded included
 */
export function torchAccess(
  tree: TriangleTree,
  places: readonly SeamPlace[],
  torch: Torch,
  lean: Lean,
): readonly TorchAccess[] {
  const probe = new CapsuleProbe(tree);
  return places.map(({ at, away }): TorchAccess => {
    const wished = unit(away);
    // Nearest to the wished way first, so that the first free one is the best.
    const ways = coneDirections(wished, lean.angle, lean.tries ?? 128);
    const isFree = (way: Vec3): boolean => rodsOf(at, way, torch).every((rod) => !probe.meets(rod));
    const free = lean.firstOnly ? ways.filter(isFirst(isFree)) : ways.filter(isFree);
    const [best] = free;
    const cosine = best ? best[0] * wished[0] + best[1] * wished[1] + best[2] * wished[2] : 0;
    return { free: free.length / ways.length, best, lean: best && Math.acos(Math.min(1, cosine)) };
  });
}

/** Lets the first pass that a test lets pass, and tests none after it. */
function isFirst<T>(test: (item: T) => boolean): (item: T) => boolean {
  let found = false;
  return (item) => {
    if (found || !test(item)) return false;
    found = true;
    return true;
  };
}

/** The cup is looked at first: it is nearest to the metal. Its round end stands off by what is asked. */
function rodsOf(at: Vec3, way: Vec3, torch: Torch): readonly Capsule[] {
  const { standOff, cupRadius, cupLength, bodyRadius, bodyLength } = torch;
  const cupEnd = standOff + cupLength;
  return [
    { from: along(at, way, standOff + cupRadius), to: along(at, way, cupEnd), radius: cupRadius },
    { from: along(at, way, cupEnd), to: along(at, way, cupEnd + bodyLength), radius: bodyRadius },
  ];
}
