import type { TriangleMesh } from './triangleMesh.ts';

/** What welding gave: the mesh on fewer vertices, and how many vertices were joined to an earlier one. */
export interface Welded {
  readonly mesh: TriangleMesh;
  readonly joined: number;
}

const NONE = -1;

/** Gives equal points the same number, as they come. Memory grows with the number of different points. */
export class VertexJoiner {
  private positions: Float64Array;
  private slots: Int32Array;
  private count = 0;
  private readonly point = new Float64Array(3);
  private readonly bits = new Uint32Array(this.point.buffer);

  /** @param expected different points, as far as known */
  constructor(expected = 1024) {
    const room = 1 << Math.ceil(Math.log2(Math.max(16, expected)));
    this.positions = new Float64Array(3 * room);
    this.slots = new Int32Array(2 * room).fill(NONE);
  }

  /** Number of different points so far. */
  get size(): number {
    return this.count;
  }

  /** The number of this point: that of the equal one before it, or the next. Minus zero is zero. */
  add(x: number, y: number, z: number): number {
    const { slots } = this;
    const mask = slots.length - 1;
    for (let slot = this.hash(x, y, z) & mask; ; slot = (slot + 1) & mask) {
      const vertex = slots[slot] ?? NONE;
      if (vertex === NONE) return this.keep(x, y, z, slot);
      const o = 3 * vertex;
      const { positions } = this;
      if (positions[o] === x && positions[o + 1] === y && positions[o + 2] === z) return vertex;
    }
  }

  /** The different points so far, xyz. */
  joined(): Float64Array {
    return this.positions.slice(0, 3 * this.count);
  }

  private keep(x: number, y: number, z: number, slot: number): number {
    const o = 3 * this.count;
    this.slots[slot] = this.count;
    this.positions[o] = x;
    this.positions[o + 1] = y;
    this.positions[o + 2] = z;
    const vertex = this.count++;
    // Room for the next one too: it is written before it is counted.
    if (2 * this.count >= this.slots.length) this.grow();
    return vertex;
  }

  private grow(): void {
    const positions = new Float64Array(2 * this.positions.length);
    positions.set(this.positions);
    this.positions = positions;
    this.slots = new Int32Array(2 * this.slots.length).fill(NONE);
    const mask = this.slots.length - 1;
    for (let vertex = 0; vertex < this.count; vertex++) {
      const o = 3 * vertex;
      let slot = this.hash(positions[o] ?? 0, positions[o + 1] ?? 0, positions[o + 2] ?? 0) & mask;
      while (this.slots[slot] !== NONE) slot = (slot + 1) & mask;
      this.slots[slot] = vertex;
    }
  }

  private hash(x: number, y: number, z: number): number {
    const { point, bits } = this;
    // Adding zero turns minus zero, whose bits differ, into zero.
    point[0] = x + 0;
    point[1] = y + 0;
    point[2] = z + 0;
    const low =
      Math.imul(bits[0] ?? 0, 0x9e3779b1) ^ Math.imul(bits[2] ?? 0, 0x85ebca6b) ^ Math.imul(bits[4] ?? 0, 0xc2b2ae35);
    const high =
      Math.imul(bits[1] ?? 0, 0x27d4eb2f) ^ Math.imul(bits[3] ?? 0, 0x165667b1) ^ Math.imul(bits[5] ?? 0, 0xd3a2646d);
    return mixed(low ^ high);
  }
}

/** Spreads all bits of a number over its low ones. Source: the finaliser of MurmurHash3, public domain (memory). */
function mixed(hash: number): number {
  let h = hash ^ (hash >>> 16);
  h = Math.imul(h, 0x85ebca6b);
  h ^= h >>> 13;
  h = Math.imul(h, 0xc2b2ae35);
  return h ^ (h >>> 16);
}

/**
 * Joins each vertex to the nearest earlier kept vertex within the tolerance, which keeps its place; so no vertex moves by more than that,
 * and nothing creeps along chains of near vertices. Vertices that no triangle uses go.
 * @param tolerance metres; 0 joins only equal vertices
 */
export function weldVertices(mesh: TriangleMesh, tolerance = 0): Welded {
  const { positions, indices } = mesh;
  const kept = tolerance > 0 ? new NearJoiner(positions, tolerance) : new VertexJoiner(positions.length / 6);
  const numbers = new Int32Array(positions.length / 3).fill(NONE);
  const out = new Uint32Array(indices.length);
  let used = 0;
  for (let i = 0; i < indices.length; i++) {
    const vertex = indices[i] ?? 0;
    let number = numbers[vertex] ?? NONE;
    if (number === NONE) {
      const o = 3 * vertex;
      number = kept.add(positions[o] ?? 0, positions[o + 1] ?? 0, positions[o + 2] ?? 0);
      numbers[vertex] = number;
      used++;
    }
    out[i] = number;
  }
  return { mesh: { positions: kept.joined(), indices: out }, joined: used - kept.size };
}

/**
 * Kept points in cells of twice the tolerance: what is near a point lies in its cell or the nearer neighbour along each axis. Rounding to
 * a grid instead would part points on either side of a grid plane, however near they are.
 */
class NearJoiner {
  private readonly kept: Float64Array;
  private readonly heads: Int32Array;
  private readonly next: Int32Array;
  private readonly tolerance: number;
  private count = 0;

  constructor(positions: Float64Array, tolerance: number) {
    this.tolerance = tolerance;
    this.kept = new Float64Array(positions.length);
    this.next = new Int32Array(positions.length / 3);
    this.heads = new Int32Array(1 << Math.ceil(Math.log2(Math.max(16, positions.length / 3)))).fill(NONE);
  }

  get size(): number {
    return this.count;
  }

  joined(): Float64Array {
    return this.kept.slice(0, 3 * this.count);
  }

  add(x: number, y: number, z: number): number {
    const cell = 2 * this.tolerance;
    const [u, v, w] = [x / cell, y / cell, z / cell];
    const [i, j, k] = [Math.floor(u), Math.floor(v), Math.floor(w)];
    const [di, dj, dk] = [u - i < 0.5 ? -1 : 1, v - j < 0.5 ? -1 : 1, w - k < 0.5 ? -1 : 1];
    let [best, least] = [NONE, this.tolerance * this.tolerance];
    for (let corner = 0; corner < 8; corner++) {
      const head = this.headAt(i + (corner & 1 ? di : 0), j + (corner & 2 ? dj : 0), k + (corner & 4 ? dk : 0));
      for (let vertex = this.heads[head] ?? NONE; vertex !== NONE; vertex = this.next[vertex] ?? NONE) {
        const squared = this.squaredTo(vertex, x, y, z);
        if (squared > least || (squared === least && best !== NONE && vertex > best)) continue;
        [best, least] = [vertex, squared];
      }
    }
    return best === NONE ? this.keep(x, y, z, this.headAt(i, j, k)) : best;
  }

  private squaredTo(vertex: number, x: number, y: number, z: number): number {
    const o = 3 * vertex;
    const [dx, dy, dz] = [x - (this.kept[o] ?? 0), y - (this.kept[o + 1] ?? 0), z - (this.kept[o + 2] ?? 0)];
    return dx * dx + dy * dy + dz * dz;
  }

  private keep(x: number, y: number, z: number, head: number): number {
    const vertex = this.count++;
    this.kept.set([x, y, z], 3 * vertex);
    this.next[vertex] = this.heads[head] ?? NONE;
    this.heads[head] = vertex;
    return vertex;
  }

  private headAt(i: number, j: number, k: number): number {
    return (
      mixed(Math.imul(i, 0x9e3779b1) ^ Math.imul(j, 0x85ebca6b) ^ Math.imul(k, 0xc2b2ae35)) & (this.heads.length - 1)
    );
  }
}
