import type { TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { meshFault } from '../../../shared/geometry/mesh/triangleMesh.ts';
import type { Coordinates, KernelFault, Nearest, PointsUnder, ScanSurface } from './clearance.ts';
import { singleNotBelow } from './clearance.ts';
import { fullFault, type KernelMemory } from './kernel-memory.ts';
import { level, NearestPlace } from './place.ts';
import { PAIR, type ResidentPoints, ROOM, RUN } from './resident-points.ts';
import { type Held, roomFor, roomToBuild } from './surface-room.ts';

/** Pairs listed at most: more than a million as near as the nearest are level with it, and any of them will do. */
const MOST_ROOM = 1 << 20;
/** Points that share a walk over all points (own: 16 and 64 are slower). */
const SHARE = 32;
/** Points that a thread takes at once: some milliseconds' worth, whole walks. */
const PART = 2048 * SHARE;
/** Beyond any distance there is, mm; its square is still a single-precision number. */
const ANY = 1e15;

/** What a surface is held against. */
export interface Against {
  readonly memory: KernelMemory;
  readonly points: Coordinates;
  readonly resident: ResidentPoints;
}

/** A surface in the kernel's memory. Throws KernelFull from its constructor. */
export class SimdSurface implements ScanSurface {
  readonly #against: Against;
  readonly #nearest = new NearestPlace();
  readonly #corners = new Float64Array(9);
  #mesh: TriangleMesh;
  #held: Held;
  #nodeCount = 0;
  #span = 0;

  constructor(against: Against, mesh: TriangleMesh) {
    this.#against = against;
    this.#mesh = mesh;
    this.#held = roomFor(against.memory, mesh);
    this.#build();
  }

  get triangles(): number {
    return this.#mesh.indices.length / 3;
  }

  /** A coordinate is off by half a unit in its last place, a distance by at most 16 of those (own, over both ends and the arithmetic). */
  get accuracy(): number {
    return (16 * Math.max(this.#span, this.#against.resident.span) * 2 ** -24 + 1e-5) / 1000;
  }

  /** What is this much farther than the nearest may yet be the nearest, mm: both may be off. */
  get #slack(): number {
    return 2000 * this.accuracy;
  }

  get #empty(): boolean {
    return this.triangles === 0 || this.#against.resident.count === 0;
  }

  smallest(within = Number.POSITIVE_INFINITY): Nearest | undefined {
    if (this.#empty || !(within > 0)) return undefined;
    const { memory, resident } = this.#against;
    const { nodes, triangles } = this.#held;
    const { levelCount, numbers } = resident;
    let limit = Math.min(within * 1000, ANY);
    this.#handPoints();
    let best: Nearest | undefined;
    this.#list(
      (into, room) => {
        const count = memory.run.nearestPairs(nodes, triangles, levelCount, limit, this.#slack, into, room) >>> 0;
        limit = Math.min(limit, memory.run.leastDistance());
        return count;
      },
      (place, triangle) => {
        const found = this.#exact(memory.whole(numbers + 4 * place, 1)[0] ?? 0, triangle);
        if (found.distance < (best?.distance ?? within) || (best && level(found, best))) best = found;
      },
    );
    return best;
  }

  under(limit: number): PointsUnder {
    if (this.#empty || !(limit > 0)) return { points: new Uint32Array(), distances: new Float32Array() };
    const { memory, resident } = this.#against;
    const { x, y, z, levels, levelCount, list, count, distances } = resident;
    const { nodes, triangles } = this.#held;
    const reach = Math.min(limit * 1000 + 2 * this.#slack, ANY);
    const listed = memory.run.runsNear(nodes, levels, levelCount, reach, list) >>> 0;
    memory.run.takeField(nodes, triangles, x, y, z);
    memory.run.fieldOfRuns(list, listed, RUN, count, reach, distances);
    this.#handPoints();
    return this.#collect(limit, listed);
  }

  /** Of the points of some runs those under the limit. Who is so near to it that single precision cannot tell is asked again in double. */
  #collect(limit: number, listed: number): PointsUnder {
    const { memory, resident } = this.#against;
    const runs = memory.whole(resident.list, listed);
    const millimetres = memory.singles(resident.distances, resident.count);
    const numbers = memory.whole(resident.numbers, resident.count);
    const [points, distances, unclear]: [number[], number[], number[]] = [[], [], []];
    const [surely, hardly] = [limit * 1000 - this.#slack, limit * 1000 + this.#slack];
    for (const run of runs)
      for (let i = run * RUN, end = Math.min(i + RUN, resident.count); i < end; i++) {
        const near = millimetres[i] ?? 0;
        if (near > hardly) continue;
        if (near >= surely) {
          unclear.push(i);
          continue;
        }
        points.push(numbers[i] ?? 0);
        distances.push(near / 1000);
      }
    for (const place of unclear) this.#collectExact(limit, place, points, distances);
    return { points: Uint32Array.from(points), distances: Float32Array.from(distances) };
  }

  #collectExact(limit: number, place: number, points: number[], distances: number[]): void {
    const { point, distance } = this.#exactDistance(place);
    if (distance >= limit) return;
    points.push(point);
    distances.push(distance);
  }

  field(cap: number): Float32Array {
    const { memory, points, resident } = this.#against;
    const { x, y, z, count, distances, numbers } = resident;
    const all = new Float32Array(points.length / 3).fill(Number.NaN);
    const whose = memory.whole(numbers, count);
    if (this.#empty || !(cap > 0)) {
      for (const number of whose) all[number] = singleNotBelow(cap);
      return all;
    }
    const millimetres = Math.min(cap * 1000, ANY);
    const { nodes, triangles } = this.#held;
    memory.share({
      before: ['takeField', nodes, triangles, x, y, z],
      each: ['fieldOf', 'from', 'to', SHARE, millimetres, distances],
      total: count,
      part: PART,
    });
    const found = memory.singles(distances, count);
    const [beyond, capped] = [Math.fround(millimetres), singleNotBelow(cap)];
    for (let i = 0; i < count; i++) {
      const near = found[i] ?? 0;
      all[whose[i] ?? 0] = near >= beyond ? capped : near / 1000;
    }
    return all;
  }

  /** Where its tree and its triangles stand in the memory. */
  get places(): { readonly nodes: number; readonly triangles: number } {
    return this.#held;
  }

  move(positions: Float64Array): KernelFault | undefined {
    const mesh = { positions, indices: this.#mesh.indices };
    const fault = meshFault(mesh);
    if (fault) return fault;
    if (positions.length > 3 * this.#held.roomVertices) return this.replace(mesh);
    this.#mesh = mesh;
    if (this.triangles === 0) return undefined;
    this.#write();
    const { positions: at, indices, order, triangles, nodes } = this.#held;
    this.#against.memory.run.makeTriangles(at, indices, order, this.triangles, triangles);
    this.#against.memory.run.refit(nodes, this.#nodeCount, triangles);
    return undefined;
  }

  replace(mesh: TriangleMesh): KernelFault | undefined {
    const fault = meshFault(mesh);
    if (fault) return fault;
    const { memory } = this.#against;
    const { roomVertices, roomTriangles } = this.#held;
    const before = memory.mark();
    try {
      const fits = mesh.positions.length <= 3 * roomVertices && mesh.indices.length <= 3 * roomTriangles;
      const held = fits ? this.#held : roomFor(memory, mesh);
      // Nothing is changed before it is known that all of it finds room.
      memory.release(roomToBuild(memory, mesh.indices.length / 3).mark);
      this.#held = held;
      this.#mesh = mesh;
      this.#build();
      return undefined;
    } catch (error) {
      memory.release(before);
      return fullFault(error);
    }
  }

  #write(): void {
    const { memory, resident } = this.#against;
    const { positions } = this.#mesh;
    const to = memory.singles(this.#held.positions, positions.length);
    let span = 0;
    for (let axis = 0; axis < 3; axis++) {
      const zero = resident.origin[axis] ?? 0;
      for (let i = axis; i < positions.length; i += 3) {
        const value = ((positions[i] ?? 0) - zero) * 1000;
        to[i] = value;
        if (Math.abs(value) > span) span = Math.abs(value);
      }
    }
    this.#span = span;
  }

  #build(): void {
    const { memory } = this.#against;
    const { positions, indices, order, triangles, nodes } = this.#held;
    const count = this.triangles;
    if (count === 0) return;
    const { mark, boxes, binary } = roomToBuild(memory, count);
    this.#write();
    memory.whole(indices, 3 * count).set(this.#mesh.indices);
    memory.run.buildBinary(positions, indices, count, boxes, order, binary);
    this.#nodeCount = memory.run.foldToFour(binary, nodes) >>> 0;
    memory.release(mark);
    memory.run.makeTriangles(positions, indices, order, count, triangles);
    memory.run.boxLeaves(nodes, this.#nodeCount, triangles);
  }

  #handPoints(): void {
    const { memory, resident } = this.#against;
    memory.run.takePoints(resident.x, resident.y, resident.z, resident.count, RUN, resident.levels);
  }

  /** Lists pairs, with more room when there is too little, and shows each: place of the point in order, number of the triangle. */
  #list(fill: (into: number, room: number) => number, see: (place: number, triangle: number) => void): void {
    const { memory, resident } = this.#against;
    const mark = memory.mark();
    let [into, room] = [resident.pairs, ROOM];
    let count = fill(into, room);
    while (count > room && room < MOST_ROOM) {
      memory.release(mark);
      const larger = memory.allocateIfRoom(PAIR * room * 16);
      if (larger === undefined) break;
      [into, room] = [larger, room * 16];
      count = fill(into, room);
    }
    const listed = memory.whole(into, 3 * Math.min(count, room)).slice();
    memory.release(mark);
    for (let i = 0; i < listed.length; i += 3) see(listed[i + 1] ?? 0, listed[i + 2] ?? 0);
  }

  #exact(point: number, triangle: number): Nearest {
    const { points } = this.#against;
    const { positions, indices } = this.#mesh;
    for (let k = 0; k < 9; k++)
      this.#corners[k] = positions[3 * (indices[3 * triangle + Math.floor(k / 3)] ?? 0) + (k % 3)] ?? 0;
    this.#nearest.from(points[3 * point] ?? 0, points[3 * point + 1] ?? 0, points[3 * point + 2] ?? 0);
    const distance = Math.sqrt(this.#nearest.squared(this.#corners, 0));
    const [x = 0, y = 0, z = 0] = this.#nearest.place;
    return { distance, point, triangle, place: [x, y, z] };
  }

  /** Number and distance in metres of the point at a place in the order, whose distance in single precision was just written. */
  #exactDistance(place: number): { readonly point: number; readonly distance: number } {
    const { memory, resident } = this.#against;
    const { nodes, triangles } = this.#held;
    const point = memory.whole(resident.numbers + 4 * place, 1)[0] ?? 0;
    const reach = (memory.singles(resident.distances + 4 * place, 1)[0] ?? 0) + this.#slack;
    let distance = Number.POSITIVE_INFINITY;
    this.#list(
      (into, room) => memory.run.trianglesNear(nodes, triangles, place, reach, into, room) >>> 0,
      (_, triangle) => {
        distance = Math.min(distance, this.#exact(point, triangle).distance);
      },
    );
    return { point, distance };
  }
}
