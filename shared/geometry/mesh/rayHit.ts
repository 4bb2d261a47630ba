import type { Vec3 } from '../vector.ts';
import type { TriangleTree } from './triangleTree.ts';
import { DEEPEST } from './triangleTree.ts';

/** A stretch of a ray, in lengths of its direction. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** Edges count this much wider than they are, in parts of the triangle, so that a ray does not slip between two (own: rounding of the test). */
const HAIR = 1e-9;
/** Stands for a direction's zero: its inverse times a zero is then zero and not NaN. */
const NEARLY_ZERO = 1e-300;

/** A box that is missed is infinitely far: only an end before that tells it from one that is met. */
const finite = ({ from, to }: Stretch): { readonly near: number; readonly to: number } => ({
  near: from,
  to: Math.min(to, Number.MAX_VALUE),
});

/** Sends rays through the triangles of a tree, one after the other. Holds its own stack: one caster for one thread of work. */
export class RayCaster {
  /** Place in the order of the leaves of the triangle hit last; -1 when the last ray hit none. */
  leaf = -1;
  private readonly tree: TriangleTree;
  private readonly stack = new Int32Array(2 * DEEPEST);
  private readonly ray = new Float64Array(9);

  constructor(tree: TriangleTree) {
    this.tree = tree;
  }

  /**
   * Distance to the first triangle in a stretch of a ray, in lengths of the direction; infinite when there is none.
   * @param skip place in the order of the leaves of a triangle to look through; -1 for none
   */
  first(from: Vec3, along: Vec3, stretch: Stretch, skip = -1): number {
    const { near, to } = finite(stretch);
    this.aim(from, along);
    this.leaf = -1;
    if (this.tree.count === 0) return Number.POSITIVE_INFINITY;
    const { start, held } = this.tree;
    let best = to;
    this.stack[0] = 0;
    for (let top = 1; top > 0; ) {
      const node = this.stack[--top] ?? 0;
      if (this.entry(node, near, best) > best) continue;
      const first = start[node] ?? 0;
      const end = first + (held[node] ?? 0);
      for (let i = first; i < end; i++) {
        if (i === skip) continue;
        const t = this.through(9 * i);
        if (t > near && t <= best && (t < best || this.leaf < 0)) {
          best = t;
          this.leaf = i;
        }
      }
      if (end === first) top = this.pushNearerLast(first, near, best, top);
    }
    return this.leaf < 0 ? Number.POSITIVE_INFINITY : best;
  }

  /**
   * Whether any triangle stands in a stretch of a ray: much quicker than finding the first.
   * @param skip as in {@link first}
   */
  blocked(from: Vec3, along: Vec3, stretch: Stretch, skip = -1): boolean {
    const { near, to } = finite(stretch);
    this.aim(from, along);
    if (this.tree.count === 0) return false;
    const { start, held } = this.tree;
    this.stack[0] = 0;
    for (let top = 1; top > 0; ) {
      const node = this.stack[--top] ?? 0;
      if (this.entry(node, near, to) > to) continue;
      const first = start[node] ?? 0;
      const end = first + (held[node] ?? 0);
      for (let i = first; i < end; i++) {
        if (i === skip) continue;
        const t = this.through(9 * i);
        if (t > near && t <= to) return true;
      }
      if (end === first) top = this.pushNearerLast(first, near, to, top);
    }
    return false;
  }

  /** Calls `see` with every triangle in a stretch of a ray (place in the order of the leaves), in no order. One through an edge may meet both. */
  every(from: Vec3, along: Vec3, stretch: Stretch, see: (leaf: number, distance: number) => void): void {
    const { near, to } = finite(stretch);
    this.aim(from, along);
    if (this.tree.count === 0) return;
    const { start, held } = this.tree;
    this.stack[0] = 0;
    for (let top = 1; top > 0; ) {
      const node = this.stack[--top] ?? 0;
      if (this.entry(node, near, to) > to) continue;
      const first = start[node] ?? 0;
      const end = first + (held[node] ?? 0);
      for (let i = first; i < end; i++) {
        const t = this.through(9 * i);
        if (t > near && t <= to) see(i, t);
      }
      if (end > first) continue;
      this.stack[top++] = first;
      this.stack[top++] = first + 1;
    }
  }

  private aim(from: Vec3, along: Vec3): void {
    const { ray } = this;
    for (let k = 0; k < 3; k++) {
      const d = along[k] ?? 0;
      ray[k] = from[k] ?? 0;
      ray[3 + k] = d;
      ray[6 + k] = 1 / (Math.abs(d) < NEARLY_ZERO ? NEARLY_ZERO : d);
    }
  }

  private pushNearerLast(child: number, near: number, best: number, at: number): number {
    const [left, right] = [this.entry(child, near, best), this.entry(child + 1, near, best)];
    let top = at;
    if (left <= right) {
      if (right <= best) this.stack[top++] = child + 1;
      if (left <= best) this.stack[top++] = child;
    } else {
      if (left <= best) this.stack[top++] = child;
      if (right <= best) this.stack[top++] = child + 1;
    }
    return top;
  }

  /** Where the ray enters a node's box; infinite when it passes by within the stretch. */
  private entry(node: number, near: number, far: number): number {
    const { boxes } = this.tree;
    const { ray } = this;
    const o = 6 * node;
    let enter = near;
    let leave = far;
    for (let k = 0; k < 3; k++) {
      const inverse = ray[6 + k] ?? 0;
      const origin = ray[k] ?? 0;
      const a = ((boxes[o + k] ?? 0) - origin) * inverse;
      const b = ((boxes[o + 3 + k] ?? 0) - origin) * inverse;
      const low = Math.min(a, b);
      const high = Math.max(a, b);
      if (low > enter) enter = low;
      // The slack keeps a box that rounding would put just behind its own front.
      if (high * (1 + 1e-12) < leave) leave = high * (1 + 1e-12);
    }
    return enter <= leave || Math.abs(enter - leave) <= 1e-12 * Math.abs(enter) ? enter : Number.POSITIVE_INFINITY;
  }

  /** Distance to a triangle's plane if the ray goes through the triangle, else NaN. Source: Moeller and Trumbore 1997 (memory). */
  private through(o: number): number {
    const { corners } = this.tree;
    const { ray } = this;
    const dx = ray[3] ?? 0;
    const dy = ray[4] ?? 0;
    const dz = ray[5] ?? 0;
    const ax = corners[o] ?? 0;
    const ay = corners[o + 1] ?? 0;
    const az = corners[o + 2] ?? 0;
    const ux = (corners[o + 3] ?? 0) - ax;
    const uy = (corners[o + 4] ?? 0) - ay;
    const uz = (corners[o + 5] ?? 0) - az;
    const vx = (corners[o + 6] ?? 0) - ax;
    const vy = (corners[o + 7] ?? 0) - ay;
    const vz = (corners[o + 8] ?? 0) - az;
    const px = dy * vz - dz * vy;
    const py = dz * vx - dx * vz;
    const pz = dx * vy - dy * vx;
    const inverse = 1 / (ux * px + uy * py + uz * pz);
    const tx = (ray[0] ?? 0) - ax;
    const ty = (ray[1] ?? 0) - ay;
    const tz = (ray[2] ?? 0) - az;
    const u = (tx * px + ty * py + tz * pz) * inverse;
    if (!(u >= -HAIR && u <= 1 + HAIR)) return Number.NaN;
    const qx = ty * uz - tz * uy;
    const qy = tz * ux - tx * uz;
    const qz = tx * uy - ty * ux;
    const v = (dx * qx + dy * qy + dz * qz) * inverse;
    return v >= -HAIR && u + v <= 1 + HAIR ? (vx * qx + vy * qy + vz * qz) * inverse : Number.NaN;
  }
}

/** Twice the signed area normal of a triangle in the order of the leaves: not unit length, zero without area. */
export function leafNormal({ corners }: TriangleTree, leaf: number): Vec3 {
  const o = 9 * leaf;
  const [ax, ay, az] = [corners[o] ?? 0, corners[o + 1] ?? 0, corners[o + 2] ?? 0];
  const [ux, uy, uz] = [(corners[o + 3] ?? 0) - ax, (corners[o + 4] ?? 0) - ay, (corners[o + 5] ?? 0) - az];
  const [vx, vy, vz] = [(corners[o + 6] ?? 0) - ax, (corners[o + 7] ?? 0) - ay, (corners[o + 8] ?? 0) - az];
  return [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
}
