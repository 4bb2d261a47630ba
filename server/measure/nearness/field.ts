import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import { eachUnder, type TubeReach } from '../../../shared/geometry/gap.ts';
import { isClosed } from '../../../shared/geometry/mesh/edges.ts';
import { inSolid } from '../../../shared/geometry/mesh/inside.ts';
import { RayCaster } from '../../../shared/geometry/mesh/rayHit.ts';
import { boxOf, type TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { triangleTree } from '../../../shared/geometry/mesh/triangleTree.ts';
import { NEARNESS_FAR, nearnessLevel } from '../../../shared/geometry/nearness.ts';
import { shifted } from '../access/part-gap.ts';
import { isFault, type KernelFault } from '../kernels/clearance.ts';
import { keptKernel } from '../kernels/kept-kernel.ts';

/** A level for each point of a grid, in its order: see {@link nearnessLevel}. */
export type Field = Uint8Array<ArrayBuffer>;

/** How near each point is to a tube from its `fromS` on: the distance that clearances are checked by; 0 inside it. Cap in metres. */
export function tubeField(tube: TubeReach, grid: PointGrid, cap: number): Field {
  const field = new Uint8Array(grid.count).fill(NEARNESS_FAR);
  eachUnder(tube, grid, cap, (index, gap) => {
    field[index] = nearnessLevel(gap, cap);
  });
  return field;
}

/** How near each point is to a mesh; 0 inside it when it is closed. Cap in metres. */
export function meshField(mesh: TriangleMesh, grid: PointGrid, cap: number): Field | KernelFault {
  const kernel = keptKernel(grid);
  if (isFault(kernel)) return kernel;
  const here = shifted(mesh, grid.origin);
  const surface = kernel.surface(here);
  if (isFault(surface)) {
    kernel.clear();
    return surface;
  }
  const distances = surface.field(cap);
  kernel.clear();
  const field = new Uint8Array(grid.count);
  for (let i = 0; i < grid.count; i++) field[i] = nearnessLevel(distances[i] ?? cap, cap);
  fillInside(field, here, { positions: grid.positions, distances, slack: surface.accuracy });
  return field;
}

/** Points with the distance of each to a surface (capped ones no less than it is; metres), which may be too great by a slack. */
interface Measured {
  readonly positions: Float32Array;
  readonly distances: Float32Array;
  readonly slack: number;
}

/**
 * A point deep in the metal is far from its surface and all the same in contact. Nothing of the surface is nearer to a point than its distance, so
 * all that lies that near to it is on its side: neighbours come one after the other, and few of them have to be asked.
 */
function fillInside(field: Field, mesh: TriangleMesh, { positions, distances, slack }: Measured): void {
  const box = boxOf(mesh);
  if (!box || !isClosed(mesh)) return;
  const tree = triangleTree(mesh);
  const caster = new RayCaster(tree);
  const { least, greatest } = box;
  const known = { x: 0, y: 0, z: 0, reach: 0, inside: false };
  for (let i = 0, o = 0; i < field.length; i++, o += 3) {
    const [x, y, z] = [positions[o] ?? 0, positions[o + 1] ?? 0, positions[o + 2] ?? 0];
    const out =
      x <= least[0] || x >= greatest[0] || y <= least[1] || y >= greatest[1] || z <= least[2] || z >= greatest[2];
    const away = (x - known.x) ** 2 + (y - known.y) ** 2 + (z - known.z) ** 2;
    const alike = known.reach > 0 && away < known.reach ** 2;
    const inside = !out && (alike ? known.inside : inSolid(tree, caster, [x, y, z]));
    if (inside) field[i] = 0;
    const reach = (distances[i] ?? 0) - slack;
    if (!alike || reach > known.reach) Object.assign(known, { x, y, z, reach, inside });
  }
}
