import type { TriangleMesh } from './triangleMesh.ts';

/** The edges of a mesh, numbered as they come. Triangles that name a vertex twice have none. */
export interface EdgeTable {
  readonly count: number;
  /** The two vertices of an edge, low number first. */
  readonly low: Uint32Array;
  readonly high: Uint32Array;
  /** Triangles on an edge. */
  readonly uses: Uint32Array;
  /** Triangles that run low to high, less those that run high to low. */
  readonly balance: Int32Array;
  /** First triangle on an edge, and the second or NO_TRIANGLE. */
  readonly first: Int32Array;
  readonly second: Int32Array;
  /** Edge of each side of each triangle: 3 t + k is the side from corner k to the next; NO_EDGE when the triangle has none. */
  readonly ofSide: Int32Array;
}

/** Stands for no second triangle. */
export const NO_TRIANGLE = -1;
/** Stands for a side of a triangle that names a vertex twice. */
export const NO_EDGE = -1;

/** Finds the edges of a mesh. */
export function edgesOf(mesh: TriangleMesh): EdgeTable {
  const { indices } = mesh;
  const sides = indices.length;
  const table = {
    count: 0,
    low: new Uint32Array(sides),
    high: new Uint32Array(sides),
    uses: new Uint32Array(sides),
    balance: new Int32Array(sides),
    first: new Int32Array(sides),
    second: new Int32Array(sides).fill(NO_TRIANGLE),
    ofSide: new Int32Array(sides).fill(NO_EDGE),
  };
  const slots = new Int32Array(1 << Math.ceil(Math.log2(Math.max(16, 1.2 * sides)))).fill(NO_EDGE);
  for (let o = 0; o < sides; o += 3) {
    const [a, b, c] = [indices[o] ?? 0, indices[o + 1] ?? 0, indices[o + 2] ?? 0];
    if (a === b || b === c || c === a) continue;
    table.ofSide[o] = addSide(table, slots, a, b);
    table.ofSide[o + 1] = addSide(table, slots, b, c);
    table.ofSide[o + 2] = addSide(table, slots, c, a);
    for (let k = 0; k < 3; k++) noteTriangle(table, table.ofSide[o + k] ?? 0, o / 3);
  }
  return table;
}

/** Whether each edge belongs to two triangles: what is open has no inside. */
export function isClosed(mesh: TriangleMesh): boolean {
  const { uses, count } = edgesOf(mesh);
  for (let edge = 0; edge < count; edge++) if (uses[edge] !== 2) return false;
  return count > 0;
}

interface Growing extends EdgeTable {
  count: number;
}

function addSide(table: Growing, slots: Int32Array, from: number, to: number): number {
  const { low, high, uses, balance } = table;
  const [l, h] = from < to ? [from, to] : [to, from];
  const mask = slots.length - 1;
  let slot = hashOf(l, h) & mask;
  let edge = slots[slot] ?? NO_EDGE;
  while (edge !== NO_EDGE && (low[edge] !== l || high[edge] !== h)) {
    slot = (slot + 1) & mask;
    edge = slots[slot] ?? NO_EDGE;
  }
  if (edge === NO_EDGE) {
    edge = table.count++;
    slots[slot] = edge;
    low[edge] = l;
    high[edge] = h;
  }
  uses[edge] = (uses[edge] ?? 0) + 1;
  balance[edge] = (balance[edge] ?? 0) + (from < to ? 1 : -1);
  return edge;
}

function noteTriangle({ uses, first, second }: Growing, edge: number, triangle: number): void {
  if (uses[edge] === 1) first[edge] = triangle;
  else if (uses[edge] === 2) second[edge] = triangle;
}

function hashOf(low: number, high: number): number {
  let h = Math.imul(low, 0x9e3779b1) ^ Math.imul(high, 0x85ebca6b);
  h ^= h >>> 15;
  h = Math.imul(h, 0x2c1b3c6d);
  return h ^ (h >>> 13);
}
