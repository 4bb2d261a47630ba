import { orient2d } from 'robust-predicates';
import type { TriangleMesh } from './triangleMesh.ts';
import { triangleCount } from './triangleMesh.ts';

/** Area (m2), unit normal and middle (metres) of every triangle; the normal of a triangle without area is zero. */
export interface FaceTable {
  readonly count: number;
  readonly area: Float64Array;
  /** xyz a triangle. */
  readonly normal: Float64Array;
  readonly middle: Float64Array;
}

/** Works out the faces of a mesh once, for all that looks at them from many sides. */
export function facesOf(mesh: TriangleMesh): FaceTable {
  const { positions, indices } = mesh;
  const count = triangleCount(mesh);
  const table = {
    count,
    area: new Float64Array(count),
    normal: new Float64Array(3 * count),
    middle: new Float64Array(3 * count),
  };
  for (let t = 0, o = 0; t < count; t++, o += 3) {
    const [a, b, c] = [3 * (indices[o] ?? 0), 3 * (indices[o + 1] ?? 0), 3 * (indices[o + 2] ?? 0)];
    const [ax, ay, az] = [positions[a] ?? 0, positions[a + 1] ?? 0, positions[a + 2] ?? 0];
    const [ux, uy, uz] = [(positions[b] ?? 0) - ax, (positions[b + 1] ?? 0) - ay, (positions[b + 2] ?? 0) - az];
    const [vx, vy, vz] = [(positions[c] ?? 0) - ax, (positions[c + 1] ?? 0) - ay, (positions[c + 2] ?? 0) - az];
    const [x, y, z] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    const length = Math.sqrt(x * x + y * y + z * z);
    const inverse = length > 0 ? 1 / length : 0;
    table.area[t] = length / 2;
    table.normal[o] = x * inverse;
    table.normal[o + 1] = y * inverse;
    table.normal[o + 2] = z * inverse;
    table.middle[o] = ax + (ux + vx) / 3;
    table.middle[o + 1] = ay + (uy + vy) / 3;
    table.middle[o + 2] = az + (uz + vz) / 3;
  }
  return table;
}

/** Marks the triangles that have no area: a vertex named twice, or three vertices in line (exact, in all three projections). */
export function degenerateFaces({ positions, indices }: TriangleMesh): Uint8Array {
  const flags = new Uint8Array(indices.length / 3);
  for (let t = 0, o = 0; o < indices.length; t++, o += 3) {
    const [a, b, c] = [indices[o] ?? 0, indices[o + 1] ?? 0, indices[o + 2] ?? 0];
    if (a === b || b === c || c === a || inLine(positions, 3 * a, 3 * b, 3 * c)) flags[t] = 1;
  }
  return flags;
}

function inLine(p: Float64Array, a: number, b: number, c: number): boolean {
  for (let drop = 0; drop < 3; drop++) {
    const [i, j] = [drop === 0 ? 1 : 0, drop === 2 ? 1 : 2];
    const turn = orient2d(p[a + i] ?? 0, p[a + j] ?? 0, p[b + i] ?? 0, p[b + j] ?? 0, p[c + i] ?? 0, p[c + j] ?? 0);
    if (turn !== 0) return false;
  }
  return true;
}

/** Marks the triangles on the same three vertices as an earlier one, however they turn. */
export function duplicateFaces({ indices }: TriangleMesh): Uint8Array {
  const flags = new Uint8Array(indices.length / 3);
  const slots = new Int32Array(1 << Math.ceil(Math.log2(Math.max(16, indices.length / 2)))).fill(-1);
  const mask = slots.length - 1;
  const sorted = sortedCorners(indices);
  for (let t = 0, o = 0; o < sorted.length; t++, o += 3) {
    const [a, b, c] = [sorted[o] ?? 0, sorted[o + 1] ?? 0, sorted[o + 2] ?? 0];
    if (a === b || b === c) continue;
    let h = Math.imul(a, 0x9e3779b1) ^ Math.imul(b, 0x85ebca6b) ^ Math.imul(c, 0xc2b2ae35);
    h = Math.imul(h ^ (h >>> 15), 0x2c1b3c6d);
    let slot = (h ^ (h >>> 13)) & mask;
    for (let other = slots[slot] ?? -1; ; other = slots[slot] ?? -1) {
      if (other < 0) slots[slot] = t;
      else if (sorted[3 * other] === a && sorted[3 * other + 1] === b && sorted[3 * other + 2] === c) flags[t] = 1;
      else {
        slot = (slot + 1) & mask;
        continue;
      }
      break;
    }
  }
  return flags;
}

function sortedCorners(indices: Uint32Array): Uint32Array {
  const sorted = new Uint32Array(indices.length);
  for (let o = 0; o < indices.length; o += 3) {
    const [a, b, c] = [indices[o] ?? 0, indices[o + 1] ?? 0, indices[o + 2] ?? 0];
    const [low, high] = [Math.min(a, b, c), Math.max(a, b, c)];
    sorted[o] = low;
    sorted[o + 1] = Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
    sorted[o + 2] = high;
  }
  return sorted;
}
