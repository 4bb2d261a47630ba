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

/** Triangles tried before the tree is walked (own: 8 to 16 are the fastest on headers). */
const RECENT = 12;

/** Asks whether rods meet the triangles of a tree, one after the other. Holds its own stack: one probe for one thread of work. */
export class CapsuleProbe {
  private readonly tree: TriangleTree;
  private readonly stack = new Int32Array(2 * DEEPEST);
  private readonly aim = new Float64Array(AIM);
  /** The triangles that blocked last stand in the way of the next rod more often than not; the latest first. */
  private readonly recent = new Int32Array(RECENT);

  constructor(tree: TriangleTree) {
    this.tree = tree;
  }

  /** Whether some triangle is nearer than the radius to the rod's segment. Exact. */
  meets(rod: Capsule): boolean {
    const { tree, aim } = this;
    if (tree.count === 0) return false;
    aimRod(aim, rod);
    for (let k = 0; k < RECENT; k++) {
      const leaf = this.recent[k] ?? 0;
      if (!this.blocks(leaf, rod)) continue;
      this.remember(leaf, k);
      return true;
    }
    return this.walk(rod);
  }

  private walk(rod: Capsule): boolean {
    const { tree, stack, aim } = this;
    stack[0] = 0;
    for (let top = 1; top > 0; ) {
      const node = stack[--top] ?? 0;
      const first = tree.start[node] ?? 0;
      const held = tree.held[node] ?? 0;
      for (let i = first; i < first + held; i++) {
        if (!this.blocks(i, rod)) continue;
        this.remember(i, RECENT - 1);
        return true;
      }
      if (held > 0) continue;
      const left = nearness(tree.boxes, 6 * first, aim);
      const right = nearness(tree.boxes, 6 * first + 6, aim);
      // The nearer one last, so that it is looked at first: what blocks is then found soon.
      const later = left <= right ? 1 : 0;
      if ((later ? right : left) < APART) stack[top++] = first + later;
      if ((later ? left : right) < APART) stack[top++] = first + 1 - later;
    }
    return false;
  }

  /** Most triangles are told by one corner: it is nearer than the radius, or farther by more than they are long. */
  private blocks(leaf: number, rod: Capsule): boolean {
    const { aim } = this;
    const t = this.tree.corners;
    const o = 9 * leaf;
    const ax = t[o] ?? 0;
    const ay = t[o + 1] ?? 0;
    const az = t[o + 2] ?? 0;
    const radius = aim[RADIUS] ?? 0;
    const squared = squaredToRod(aim, ax, ay, az);
    if (squared < radius * radius) return true;
    const ux = (t[o + 3] ?? 0) - ax;
    const uy = (t[o + 4] ?? 0) - ay;
    const uz = (t[o + 5] ?? 0) - az;
    const vx = (t[o + 6] ?? 0) - ax;
    const vy = (t[o + 7] ?? 0) - ay;
    const vz = (t[o + 8] ?? 0) - az;
    const reach = radius + Math.sqrt(Math.max(ux * ux + uy * uy + uz * uz, vx * vx + vy * vy + vz * vz));
    return squared < reach * reach * SLACK && within(t, o, rod, radius * radius);
  }

  /** Puts a triangle first; those before its old place move one back. */
  private remember(leaf: number, place: number): void {
    this.recent.copyWithin(1, 0, place);
    this.recent[0] = leaf;
  }
}

/** What a rod is asked by: start, way, inverse of the way (3 each), one over its square, radius. */
const AIM = 11;
const [INVERSE_SQUARE, RADIUS] = [9, 10];
/** Stands for a way's zero: its inverse times a zero is then zero and not NaN. */
const NEARLY_ZERO = 1e-300;
/** Keeps what rounding would part. */
const SLACK = 1 + 1e-9;
/** How near a box is that does not meet the rod. */
const APART = Number.POSITIVE_INFINITY;

function aimRod(into: Float64Array, { from, to, radius }: Capsule): void {
  let square = 0;
  for (let k = 0; k < 3; k++) {
    const way = (to[k] ?? 0) - (from[k] ?? 0);
    into[k] = from[k] ?? 0;
    into[3 + k] = way;
    into[6 + k] = 1 / (way || NEARLY_ZERO);
    square += way * way;
  }
  into[INVERSE_SQUARE] = square > 0 ? 1 / square : 0;
  into[RADIUS] = radius;
}

/** Square of the distance from a place to the segment. */
function squaredToRod(aim: Float64Array, px: number, py: number, pz: number): number {
  const dx = aim[3] ?? 0;
  const dy = aim[4] ?? 0;
  const dz = aim[5] ?? 0;
  const x = px - (aim[0] ?? 0);
  const y = py - (aim[1] ?? 0);
  const z = pz - (aim[2] ?? 0);
  const along = clamp((x * dx + y * dy + z * dz) * (aim[INVERSE_SQUARE] ?? 0));
  const ex = x - along * dx;
  const ey = y - along * dy;
  const ez = z - along * dz;
  return ex * ex + ey * ey + ez * ez;
}

/** Square of the distance from the middle of a box to the segment, or APART when nothing in the box is within the radius. */
function nearness(boxes: Float64Array, o: number, aim: Float64Array): number {
  const lx = boxes[o] ?? 0;
  const ly = boxes[o + 1] ?? 0;
  const lz = boxes[o + 2] ?? 0;
  const mx = boxes[o + 3] ?? 0;
  const my = boxes[o + 4] ?? 0;
  const mz = boxes[o + 5] ?? 0;
  const radius = aim[RADIUS] ?? 0;
  const squared = squaredToRod(aim, (lx + mx) / 2, (ly + my) / 2, (lz + mz) / 2);
  // First by the ball around the box, which is tighter about small ones, then by the box grown by the radius.
  const reach = radius + Math.sqrt((mx - lx) * (mx - lx) + (my - ly) * (my - ly) + (mz - lz) * (mz - lz)) / 2;
  if (squared > reach * reach * SLACK) return APART;
  const x = aim[0] ?? 0;
  const y = aim[1] ?? 0;
  const z = aim[2] ?? 0;
  const ix = aim[6] ?? 0;
  const iy = aim[7] ?? 0;
  const iz = aim[8] ?? 0;
  const ax = (lx - radius - x) * ix;
  const bx = (mx + radius - x) * ix;
  const ay = (ly - radius - y) * iy;
  const by = (my + radius - y) * iy;
  const az = (lz - radius - z) * iz;
  const bz = (mz + radius - z) * iz;
  const enter = Math.max(0, Math.min(ax, bx), Math.min(ay, by), Math.min(az, bz));
  const leave = Math.min(1, Math.max(ax, bx), Math.max(ay, by), Math.max(az, bz));
  return enter <= leave + 1e-12 ? squared : APART;
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
  const ux = to[0] - from[0];
  const uy = to[1] - from[1];
  const uz = to[2] - from[2];
  const px = t[p] ?? 0;
  const py = t[p + 1] ?? 0;
  const pz = t[p + 2] ?? 0;
  const vx = (t[q] ?? 0) - px;
  const vy = (t[q + 1] ?? 0) - py;
  const vz = (t[q + 2] ?? 0) - pz;
  const wx = from[0] - px;
  const wy = from[1] - py;
  const wz = from[2] - pz;
  const a = ux * ux + uy * uy + uz * uz;
  const b = ux * vx + uy * vy + uz * vz;
  const c = vx * vx + vy * vy + vz * vz;
  const d = ux * wx + uy * wy + uz * wz;
  const e = vx * wx + vy * wy + vz * wz;
  const f = wx * wx + wy * wy + wz * wz;
  const across = a * c - b * b;
  let s = across > 1e-14 * a * c ? clamp((b * e - c * d) / across) : 0;
  const r = c > 0 ? clamp((b * s + e) / c) : 0;
  // With the place on the side held, the best on the segment follows; the pair is then the nearest of both.
  s = a > 0 ? clamp((b * r - d) / a) : 0;
  return Math.max(0, f + s * (a * s + 2 * d) + r * (c * r - 2 * e) - 2 * b * s * r);
}

const clamp = (x: number): number => Math.min(Math.max(x, 0), 1);

/** Whether a triangle is nearer to the segment than the root of `squared`: stops at the first that says so. */
function within(t: Float64Array, o: number, rod: Capsule, squared: number): boolean {
  const { from, to } = rod;
  return (
    crosses(t, o, from, to) ||
    squaredToSide(t, o, o + 3, rod) < squared ||
    squaredToSide(t, o + 3, o + 6, rod) < squared ||
    squaredToSide(t, o + 6, o, rod) < squared ||
    squaredToTriangle(t, o, from[0], from[1], from[2], place) < squared ||
    squaredToTriangle(t, o, to[0], to[1], to[2], place) < squared
  );
}

function crosses(t: Float64Array, o: number, from: Vec3, to: Vec3): boolean {
  const ax = t[o] ?? 0;
  const ay = t[o + 1] ?? 0;
  const az = t[o + 2] ?? 0;
  const ux = (t[o + 3] ?? 0) - ax;
  const uy = (t[o + 4] ?? 0) - ay;
  const uz = (t[o + 5] ?? 0) - az;
  const vx = (t[o + 6] ?? 0) - ax;
  const vy = (t[o + 7] ?? 0) - ay;
  const vz = (t[o + 8] ?? 0) - az;
  const dx = to[0] - from[0];
  const dy = to[1] - from[1];
  const dz = to[2] - from[2];
  const px = dy * vz - dz * vy;
  const py = dz * vx - dx * vz;
  const pz = dx * vy - dy * vx;
  const inverse = 1 / (ux * px + uy * py + uz * pz);
  const tx = from[0] - ax;
  const ty = from[1] - ay;
  const tz = from[2] - az;
  const s = (tx * px + ty * py + tz * pz) * inverse;
  if (!(s >= 0 && s <= 1)) return false;
  const qx = ty * uz - tz * uy;
  const qy = tz * ux - tx * uz;
  const qz = tx * uy - ty * ux;
  const r = (dx * qx + dy * qy + dz * qz) * inverse;
  const l = (vx * qx + vy * qy + vz * qz) * inverse;
  return r >= 0 && s + r <= 1 && l >= 0 && l <= 1;
}
