import { fitBox, splitRun, splitWork } from './treeSplit.ts';
import type { TriangleMesh } from './triangleMesh.ts';
import { triangleCount } from './triangleMesh.ts';

/**
 * Boxes around boxes around triangles, flat in typed arrays. A node's two children stand side by side; a leaf holds a run of triangles.
 * Boxes are doubles and hold their triangles exactly, so nothing that an exact test would find is missed.
 */
export interface TriangleTree {
  readonly count: number;
  /** Nine coordinates a triangle, in the order of the leaves. */
  readonly corners: Float64Array;
  /** Triangle number in the mesh of each of those. */
  readonly order: Uint32Array;
  /** Least and greatest corner of each node, six numbers. */
  readonly boxes: Float64Array;
  /** For a leaf its first triangle in the order, for others the first of the two children. */
  readonly start: Int32Array;
  /** Triangles in a leaf; 0 for others. */
  readonly held: Int32Array;
  readonly nodes: number;
}

/** Deepest a tree gets for any mesh of up to 2^32 triangles: stacks of walkers are this long. */
export const DEEPEST = 96;

const LEAF = 4;

/** Builds the tree of a mesh (surface-area heuristic over 16 bins). */
export function triangleTree(mesh: TriangleMesh): TriangleTree {
  const count = triangleCount(mesh);
  const room = Math.max(1, 2 * count);
  const work = splitWork(mesh, count, new Float64Array(6 * room));
  const [start, held] = [new Int32Array(room), new Int32Array(room)];
  let nodes = 1;
  held[0] = count;
  fitBox(work, 0, 0, count);
  const waiting = new Int32Array(2 * DEEPEST);
  let top = 2;
  while (top > 0) {
    const depth = waiting[--top] ?? 0;
    const node = waiting[--top] ?? 0;
    const first = start[node] ?? 0;
    const end = first + (held[node] ?? 0);
    if (end - first <= LEAF) continue;
    const left = nodes;
    nodes += 2;
    const middle = splitRun(work, left, { first, end, depth });
    start[left] = first;
    start[left + 1] = middle;
    held[left] = middle - first;
    held[left + 1] = end - middle;
    start[node] = left;
    held[node] = 0;
    waiting[top++] = left;
    waiting[top++] = depth + 1;
    waiting[top++] = left + 1;
    waiting[top++] = depth + 1;
  }
  return {
    count,
    corners: cornersInOrder(mesh, work.order),
    order: work.order,
    boxes: work.nodes.slice(0, 6 * nodes),
    start: start.slice(0, nodes),
    held: held.slice(0, nodes),
    nodes,
  };
}

function cornersInOrder({ positions, indices }: TriangleMesh, order: Uint32Array): Float64Array {
  const corners = new Float64Array(9 * order.length);
  for (let i = 0; i < order.length; i++) {
    const t = 3 * (order[i] ?? 0);
    for (let k = 0; k < 3; k++) {
      const from = 3 * (indices[t + k] ?? 0);
      const to = 9 * i + 3 * k;
      corners[to] = positions[from] ?? 0;
      corners[to + 1] = positions[from + 1] ?? 0;
      corners[to + 2] = positions[from + 2] ?? 0;
    }
  }
  return corners;
}
