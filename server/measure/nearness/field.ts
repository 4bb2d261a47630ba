import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import { eachUnder, type TubeReach } from '../../../shared/geometry/gap.ts';
import { inSolid } from '../../../shared/geometry/mesh/inside.ts';
import { RayCaster } from '../../../shared/geometry/mesh/rayHit.ts';
import { boxOf, type TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { triangleTree } from '../../../shared/geometry/mesh/triangleTree.ts';
import { NEARNESS_FAR, nearnessLevel } from '../../../shared/geometry/nearness.ts';
import type { Vec3 } from '../../../shared/geometry/vector.ts';
import { isClosed, shifted } from '../access/part-gap.ts';
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
  const distances = isFault(surface) ? surface : surface.field(cap);
  kernel.clear();
  if (isFault(distances)) return distances;
  const field = new Uint8Array(grid.count);
  for (let i = 0; i < grid.count; i++) field[i] = nearnessLevel(distances[i] ?? cap, cap);
  fillInside(field, here, grid.positions);
  return field;
}

/** A point deep in the metal is far from its surface and all the same in contact. */
function fillInside(field: Field, mesh: TriangleMesh, positions: Float32Array): void {
  const box = boxOf(mesh);
  if (!box || !isClosed(mesh)) return;
  const tree = triangleTree(mesh);
  const caster = new RayCaster(tree);
  const { least, greatest } = box;
  for (let i = 0; i < field.length; i++) {
    const point: Vec3 = [positions[3 * i] ?? 0, positions[3 * i + 1] ?? 0, positions[3 * i + 2] ?? 0];
    if (field[i] === 0 || point.some((x, k) => x <= (least[k] ?? 0) || x >= (greatest[k] ?? 0))) continue;
    if (inSolid(tree, caster, point)) field[i] = 0;
  }
}
