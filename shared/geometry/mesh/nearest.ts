import type { Vec3 } from '../vector.ts';
import type { TriangleTree } from './triangleTree.ts';
import { DEEPEST } from './triangleTree.ts';

/** Finds the nearest place on the triangles of a tree, point after point. Holds its own stack: one finder for one thread of work. */
export class NearestFinder {
  /** Place in the order of the leaves of the triangle found last; -1 when nothing was near enough. */
  leaf = -1;
  /** The nearest place on it, metres. */
  readonly place = new Float64Array(3);
  private readonly tree: TriangleTree;
  private readonly stack = new Int32Array(2 * DEEPEST);
  private readonly bounds = new Float64Array(2 * DEEPEST);
  private readonly trial = new Float64Array(3);

  constructor(tree: TriangleTree) {
    this.tree = tree;
  }

  /** Square of the distance to the nearest place nearer than a limit (both squared metres); the limit when there is none. Exact. */
  find([x, y, z]: Vec3, limit: number): number {
    const { tree, stack, bounds } = this;
    this.leaf = -1;
    if (tree.count === 0) return limit;
    let best = limit;
    stack[0] = 0;
    bounds[0] = 0;
    for (let top = 1; top > 0; ) {
      const node = stack[--top] ?? 0;
      if ((bounds[top] ?? 0) >= best) continue;
      const first = tree.start[node] ?? 0;
      const held = tree.held[node] ?? 0;
      for (let i = first; i < first + held; i++) {
        const squared = squaredToTriangle(tree.corners, 9 * i, x, y, z, this.trial);
        if (squared >= best) continue;
        best = squared;
        this.leaf = i;
        this.place.set(this.trial);
      }
      if (held > 0) continue;
      const left = squaredToBox(tree.boxes, 6 * first, x, y, z);
      const right = squaredToBox(tree.boxes, 6 * first + 6, x, y, z);
      const nearer = left <= right ? 0 : 1;
      stack[top] = first + 1 - nearer;
      bounds[top++] = Math.max(left, right);
      stack[top] = first + nearer;
      bounds[top++] = Math.min(left, right);
    }
    return best;
  }
}

/** Square of the distance from a point to a box at an offset, m2; 0 inside. */
export function squaredToBox(boxes: Float64Array, o: number, x: number, y: number, z: number): number {
  const dx = Math.max((boxes[o] ?? 0) - x, 0, x - (boxes[o + 3] ?? 0));
  const dy = Math.max((boxes[o + 1] ?? 0) - y, 0, y - (boxes[o + 4] ?? 0));
  const dz = Math.max((boxes[o + 2] ?? 0) - z, 0, z - (boxes[o + 5] ?? 0));
  return dx * dx + dy * dy + dz * dz;
}

/**
 * Square of the distance from a point to a triangle of nine coordinates at an offset, m2, and the nearest place on it.
 * Source: C. Ericson, Real-Time Collision Detection, 2005, closest point by regions (memory). Slivers end on their edges.
 */
export function squaredToTriangle(
  t: Float64Array,
  o: number,
  x: number,
  y: number,
  z: number,
  place: Float64Array,
): number {
  const ax = t[o] ?? 0;
  const ay = t[o + 1] ?? 0;
  const az = t[o + 2] ?? 0;
  const ux = (t[o + 3] ?? 0) - ax;
  const uy = (t[o + 4] ?? 0) - ay;
  const uz = (t[o + 5] ?? 0) - az;
  const vx = (t[o + 6] ?? 0) - ax;
  const vy = (t[o + 7] ?? 0) - ay;
  const vz = (t[o + 8] ?? 0) - az;
  const [px, py, pz] = [x - ax, y - ay, z - az];
  const du = ux * px + uy * py + uz * pz;
  const dv = vx * px + vy * py + vz * pz;
  const uu = ux * ux + uy * uy + uz * uz;
  const uv = ux * vx + uy * vy + uz * vz;
  const vv = vx * vx + vy * vy + vz * vz;
  const inside = uu * vv - uv * uv;
  const onS = vv * du - uv * dv;
  const onR = uu * dv - uv * du;
  // Within rounding of no area the inner part is not told apart from the edges, which are then as near.
  if (onS > 0 && onR > 0 && onS + onR < inside && inside > 1e-14 * uu * vv) {
    place[0] = onS / inside;
    place[1] = onR / inside;
  } else onEdges(du, dv, uu, uv, vv, place);
  const [s, r] = [place[0] ?? 0, place[1] ?? 0];
  place[0] = ax + ux * s + vx * r;
  place[1] = ay + uy * s + vy * r;
  place[2] = az + uz * s + vz * r;
  const ex = px - ux * s - vx * r;
  const ey = py - uy * s - vy * r;
  const ez = pz - uz * s - vz * r;
  return ex * ex + ey * ey + ez * ez;
}

/** Shares of both sides at the nearest place on the edges, from the scalar products of sides and way; put where the place will be. */
function onEdges(du: number, dv: number, uu: number, uv: number, vv: number, shares: Float64Array): void {
  const alongU = ratio(du, uu);
  const alongV = ratio(dv, vv);
  const alongW = ratio(dv - du - uv + uu, uu - 2 * uv + vv);
  const toU = alongU * (alongU * uu - 2 * du);
  const toV = alongV * (alongV * vv - 2 * dv);
  const w = 1 - alongW;
  const toW = w * w * uu + 2 * w * alongW * uv + alongW * alongW * vv - 2 * (w * du + alongW * dv);
  const isU = toU <= toV && toU <= toW;
  const isV = !isU && toV <= toW;
  shares[0] = isU ? alongU : isV ? 0 : w;
  shares[1] = isU ? 0 : isV ? alongV : alongW;
}

const ratio = (part: number, whole: number): number => (part <= 0 || whole <= 0 ? 0 : part >= whole ? 1 : part / whole);
