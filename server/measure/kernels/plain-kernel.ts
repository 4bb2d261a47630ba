import { squaredToBox } from '../../../shared/geometry/mesh/nearest.ts';
import type { TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { meshFault } from '../../../shared/geometry/mesh/triangleMesh.ts';
import type { TriangleTree } from '../../../shared/geometry/mesh/triangleTree.ts';
import { DEEPEST, triangleTree } from '../../../shared/geometry/mesh/triangleTree.ts';
import type { Coordinates, KernelFault, Nearest, PointsUnder, ScanKernel, ScanSurface } from './clearance.ts';
import { finitePoints, raggedPoints, singleNotBelow } from './clearance.ts';
import { NearestPlace } from './place.ts';

/** The kernel without vector instructions: one walk down a tree of doubles a point. */
export function plainKernel(points: Coordinates): ScanKernel | KernelFault {
  const fault = raggedPoints(points);
  if (fault) return fault;
  const numbers = finitePoints(points);
  const count = points.length / 3;
  return {
    kind: 'plain',
    count,
    notFinite: count - numbers.length,
    surface: (mesh) => meshFault(mesh) ?? new PlainSurface(points, numbers, mesh),
    // What nobody holds is collected.
    clear: () => undefined,
  };
}

/** A square no smaller than that of any lesser distance, whatever the rounding; distances themselves are compared after. */
const squareBeyond = (distance: number): number => (distance > 0 ? distance * distance * (1 + 2 ** -50) : 0);

class PlainSurface implements ScanSurface {
  readonly accuracy = 1e-7;
  #mesh: TriangleMesh;
  #tree: TriangleTree;
  readonly #points: Coordinates;
  readonly #numbers: Uint32Array;
  readonly #nearest = new NearestPlace();
  readonly #place = new Float64Array(3);
  readonly #stack = new Int32Array(2 * DEEPEST);
  readonly #bounds = new Float64Array(2 * DEEPEST);
  /** Place in the order of the leaves of the triangle found last; -1 for none. */
  #leaf = -1;

  constructor(points: Coordinates, numbers: Uint32Array, mesh: TriangleMesh) {
    this.#points = points;
    this.#numbers = numbers;
    this.#mesh = mesh;
    this.#tree = triangleTree(mesh);
  }

  get triangles(): number {
    return this.#tree.count;
  }

  smallest(within = Number.POSITIVE_INFINITY): Nearest | undefined {
    let best = squareBeyond(within);
    let found: Nearest | undefined;
    for (const point of this.#numbers) {
      const squared = this.#find(point, best);
      if (this.#leaf < 0) continue;
      const distance = Math.sqrt(squared);
      if (distance >= within) continue;
      best = squared;
      const [x = 0, y = 0, z = 0] = this.#place;
      const triangle = this.#tree.order[this.#leaf] ?? 0;
      found = { distance, point, triangle, place: [x, y, z] };
    }
    return found;
  }

  under(limit: number): PointsUnder {
    const points: number[] = [];
    const distances: number[] = [];
    const bound = squareBeyond(limit);
    for (const point of this.#numbers) {
      const squared = this.#find(point, bound);
      const distance = Math.sqrt(squared);
      if (this.#leaf < 0 || distance >= limit) continue;
      points.push(point);
      distances.push(distance);
    }
    return { points: Uint32Array.from(points), distances: Float32Array.from(distances) };
  }

  field(cap: number): Float32Array {
    const distances = new Float32Array(this.#points.length / 3).fill(Number.NaN);
    for (const point of this.#numbers) {
      const squared = this.#find(point, cap > 0 ? cap * cap : 0);
      distances[point] = this.#leaf < 0 ? singleNotBelow(cap) : Math.sqrt(squared);
    }
    return distances;
  }

  move(positions: Float64Array): KernelFault | undefined {
    return this.replace({ positions, indices: this.#mesh.indices });
  }

  replace(mesh: TriangleMesh): KernelFault | undefined {
    const fault = meshFault(mesh);
    if (fault) return fault;
    this.#mesh = mesh;
    this.#tree = triangleTree(mesh);
    return undefined;
  }

  /** Square of the distance of a point to what is nearer than a bound (both m2); the bound when nothing is. */
  #find(point: number, bound: number): number {
    const [x, y, z] = [
      this.#points[3 * point] ?? 0,
      this.#points[3 * point + 1] ?? 0,
      this.#points[3 * point + 2] ?? 0,
    ];
    this.#leaf = -1;
    if (this.#tree.count === 0) return bound;
    this.#nearest.from(x, y, z);
    const { boxes, start, held } = this.#tree;
    let best = bound;
    this.#stack[0] = 0;
    this.#bounds[0] = 0;
    for (let top = 1; top > 0; ) {
      const node = this.#stack[--top] ?? 0;
      if ((this.#bounds[top] ?? 0) >= best) continue;
      const first = start[node] ?? 0;
      const holds = held[node] ?? 0;
      if (holds > 0) {
        best = this.#measure(first, first + holds, best);
        continue;
      }
      const left = squaredToBox(boxes, 6 * first, x, y, z);
      const right = squaredToBox(boxes, 6 * first + 6, x, y, z);
      const nearer = left <= right ? 0 : 1;
      this.#stack[top] = first + 1 - nearer;
      this.#bounds[top++] = Math.max(left, right);
      this.#stack[top] = first + nearer;
      this.#bounds[top++] = Math.min(left, right);
    }
    return best;
  }

  #measure(first: number, end: number, bound: number): number {
    let best = bound;
    for (let i = first; i < end; i++) {
      const squared = this.#nearest.squared(this.#tree.corners, 9 * i);
      if (squared >= best) continue;
      best = squared;
      this.#leaf = i;
      this.#place.set(this.#nearest.place);
    }
    return best;
  }
}
