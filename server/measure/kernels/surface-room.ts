import type { TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import type { KernelMemory } from './kernel-memory.ts';

/** Bytes of a node, a triangle, a box of a triangle, and the two nodes a triangle may make while the tree is built. */
const [NODE, TRIANGLE, BOX, BINARY] = [128, 160, 32, 64];

/** Where a surface stands in the memory, and for how many vertices and triangles there is room. */
export interface Held {
  readonly positions: number;
  readonly indices: number;
  readonly order: number;
  readonly triangles: number;
  readonly nodes: number;
  readonly roomVertices: number;
  readonly roomTriangles: number;
}

/** Room for a surface. Throws KernelFull. */
export function roomFor(memory: KernelMemory, mesh: TriangleMesh): Held {
  const [roomVertices, roomTriangles] = [mesh.positions.length / 3, mesh.indices.length / 3];
  return {
    // Corners are read four numbers at a time.
    positions: memory.allocate(12 * roomVertices + 16),
    indices: memory.allocate(12 * roomTriangles),
    order: memory.allocate(4 * roomTriangles),
    triangles: memory.allocate(TRIANGLE * roomTriangles),
    nodes: memory.allocate(NODE * Math.max(1, roomTriangles)),
    roomVertices,
    roomTriangles,
  };
}

/** Room to build a tree in, from a mark to release it to. Throws KernelFull. */
export function roomToBuild(
  memory: KernelMemory,
  triangles: number,
): { readonly mark: number; readonly boxes: number; readonly binary: number } {
  return {
    mark: memory.mark(),
    boxes: memory.allocate(BOX * triangles),
    binary: memory.allocate(BINARY * triangles + 64),
  };
}
