import type { Vec3 } from '../vector.ts';
import { dot } from '../vector.ts';
import { leafNormal, type RayCaster } from './rayHit.ts';
import type { TriangleTree } from './triangleTree.ts';

/** Directions that lie along no edge or face of a made thing, so that a ray meets edges by chance only (own choice). */
const OUT: readonly Vec3[] = [
  [0.5773, 0.2131, 0.7882],
  [-0.3127, 0.8511, -0.4217],
  [0.1931, -0.6377, 0.7457],
];

/**
 * Whether a point is in the metal: how often more a ray out of it leaves solids than enters them, as two of three rays say. For closed,
 * oriented meshes; overlapping solids count as one.
 */
export function inSolid(tree: TriangleTree, caster: RayCaster, point: Vec3): boolean {
  let votes = 0;
  for (const along of OUT) {
    let leaves = 0;
    caster.every(point, along, { from: 0, to: Number.MAX_VALUE }, (leaf) => {
      leaves += dot(leafNormal(tree, leaf), along) > 0 ? 1 : -1;
    });
    if (leaves > 0) votes++;
  }
  return votes >= 2;
}

/**
 * In how many of some groups of triangles a point lies, a group being closed: those through which a ray from it goes an odd number of
 * times, as the middle of three rays says. Which way triangles face does not matter.
 * @param groupOf group of a triangle in the order of the leaves; negative ones are looked through
 */
export function groupsAround(caster: RayCaster, point: Vec3, groupOf: (leaf: number) => number): number {
  const counts = OUT.map((along) => {
    const odd = new Set<number>();
    caster.every(point, along, { from: 0, to: Number.MAX_VALUE }, (leaf) => {
      const group = groupOf(leaf);
      if (group >= 0 && !odd.delete(group)) odd.add(group);
    });
    return odd.size;
  });
  return counts.sort((a, b) => a - b)[1] ?? 0;
}
