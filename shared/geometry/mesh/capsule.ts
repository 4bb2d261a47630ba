import type { Vec3 } from '../vector.ts';
import { squaredToTriangle } from './nearest.ts';
import type { TriangleTree } from './triangleTree.ts';
import { DEEPEST } from './triangleTree.ts';

/** A rod with round ends: all places nearer than the radius to a segment. Metres. */
export interface Capsule {
  readonly from: Vec3;
  readonly to: Vec3;
  readonly radius: number;
}

/** Asks whether rods meet the triangles of a tree, one after the other. Holds its own stack: one probe for one thread of work. */
export class CapsuleProbe {
  private readonly tree: TriangleTree;
  private readonly stack = new Int32Array(2 * DEEPEST);
  /** The triangle that blocked last stands in the way of the next rod more often than not. */
  private last = 0;

  constructor(tree: TriangleTree) {
    this.tree = tree;
  }

  /** Whether some triangle is nearer than the radius to the rod's segment. Exact. */
  meets(rod: Capsule): boolean {
    const { tree, stack } = this;
    if (tree.count === 0) return false;
    const squared = rod.radius * rod.radius;
    if (squaredSegmentToTriangle(tree.corners, 9 * this.last, rod) < squared) return true;
    stack[0] = 0;
    for (let top = 1; top > 0; ) {
      const node = stack[--top] ?? 0;
      if (!mayMeet(tree.boxes, 6 * node, rod)) continue;
      const first = tree.start[node] ?? 0;
      const held = tree.held[node] ?? 0;
      for (let i = first; i < first + held; i++) {
        if (squaredSegmentToTriangle(tree.corners, 9 * i, rod) >= squared) continue;
        this.last = i;
        return true;
      }
      if (held > 0) continue;
      stack[top++] = first;
      stack[top++] = first + 1;
    }
    return false;
  }
}

/** Whether the segment passes a box grown by the radius: never false when something in the box is near enough. */
function mayMeet(boxes: Float64Array, o: number, { from, to, radius }: Capsule): boolean {
  let enter = 0;
  let leave = 1;
  for (let k = 0; k < 3; k++) {
    const origin = from[k] ?? 0;
    const way = (to[k] ?? 0) - origin;
    const low = (boxes[o + k] ?? 0) - radius - origin;
    const high = (boxes[o + 3 + k] ?? 0) + radius - origin;
    if (way === 0) {
      if (low > 0 || high < 0) return false;
      continue;
    }
    const [a, b] = [low / way, high / way];
    enter = Math.max(enter, Math.min(a, b));
    leave = Math.min(leave, Math.max(a, b));
  }
  // The slack keeps what rounding would part.
  return enter <= leave + 1e-12;
}

const place = new Float64Array(3);

/**
 * Square of the distance between a segment and a triangle of nine coordinates at an offset, m2: 0 where they cross, else from an end of the
 * segment to the triangle or from the segment to a side.
 */
export function squaredSegmentToTriangle(t: Float64Array, o: number, rod: Pick<Capsule, 'from' | 'to'>): number {
  const { from, to } = rod;
  if (crosses(t, o, from, to)) return 0;
  let best = squaredToTriangle(t, o, from[0], from[1], from[2], place);
  best = Math.min(best, squaredToTriangle(t, o, to[0], to[1], to[2], place));
  for (let k = 0; k < 9; k += 3) best = Math.min(best, squaredToSide(t, o + k, o + ((k + 3) % 9), rod));
  return best;
}

/** Inner places of a side and the segment only: the ends are looked at elsewhere, but for those of the side. */
function squaredToSide(t: Float64Array, p: number, q: number, { from, to }: Pick<Capsule, 'from' | 'to'>): number {
  let [a, b, c, d, e, f] = [0, 0, 0, 0, 0, 0];
  for (let k = 0; k < 3; k++) {
    const u = (to[k] ?? 0) - (from[k] ?? 0);
    const v = (t[q + k] ?? 0) - (t[p + k] ?? 0);
    const w = (from[k] ?? 0) - (t[p + k] ?? 0);
    a += u * u;
    b += u * v;
    c += v * v;
    d += u * w;
    e += v * w;
    f += w * w;
  }
  const across = a * c - b * b;
  let s = across > 1e-14 * a * c ? clamp((b * e - c * d) / across) : 0;
  const r = c > 0 ? clamp((b * s + e) / c) : 0;
  // With the place on the side held, the best on the segment follows; the pair is then the nearest of both.
  s = a > 0 ? clamp((b * r - d) / a) : 0;
  return Math.max(0, f + s * (a * s + 2 * d) + r * (c * r - 2 * e) - 2 * b * s * r);
}

const clamp = (x: number): number => Math.min(Math.max(x, 0), 1);

function crosses(t: Float64Array, o: number, from: Vec3, to: Vec3): boolean {
  const [ax, ay, az] = [t[o] ?? 0, t[o + 1] ?? 0, t[o + 2] ?? 0];
  const [ux, uy, uz] = [(t[o + 3] ?? 0) - ax, (t[o + 4] ?? 0) - ay, (t[o + 5] ?? 0) - az];
  const [vx, vy, vz] = [(t[o + 6] ?? 0) - ax, (t[o + 7] ?? 0) - ay, (t[o + 8] ?? 0) - az];
  const [dx, dy, dz] = [to[0] - from[0], to[1] - from[1], to[2] - from[2]];
  const [px, py, pz] = [dy * vz - dz * vy, dz * vx - dx * vz, dx * vy - dy * vx];
  const inverse = 1 / (ux * px + uy * py + uz * pz);
  const [tx, ty, tz] = [from[0] - ax, from[1] - ay, from[2] - az];
  const s = (tx * px + ty * py + tz * pz) * inverse;
  if (!(s >= 0 && s <= 1)) return false;
  const [qx, qy, qz] = [ty * uz - tz * uy, tz * ux - tx * uz, tx * uy - ty * ux];
  const r = (dx * qx + dy * qy + dz * qz) * inverse;
  const l = (vx * qx + vy * qy + vz * qz) * inverse;
  return r >= 0 && s + r <= 1 && l >= 0 && l <= 1;
}
